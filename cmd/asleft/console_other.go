//go:build !windows

package main

import (
	"os"
	"path/filepath"
	"runtime"
)

// clicked tells whether the program was started from a desktop.
func clicked() bool {
	at, _ := os.Getwd()
	home, _ := os.UserHomeDir()
	return runtime.GOOS == "darwin" && clickedOnAMac(os.Args[0], at, home) || clickedAlone()
}

// clickedOnAMac tells a double click from its traces: a Mac opens a terminal for the
// program, in the home folder, and names it there by its whole path (from memory; it was
// not tried on one).
func clickedOnAMac(program, at, home string) bool {
	return filepath.IsAbs(program) && home != "" && at == home
}

// clickedAlone tells a program that has no terminal, and that nobody feeds or reads.
func clickedAlone() bool {
	if t, err := os.OpenFile("/dev/tty", os.O_RDWR, 0); err == nil {
		_ = t.Close() // it was only asked for
		return false
	}
	in, err := os.Stdin.Stat()
	if err != nil || in.Mode()&os.ModeCharDevice == 0 {
		return false
	}
	out, err := os.Stdout.Stat()
	if err != nil || out.Mode()&os.ModeNamedPipe != 0 || out.Mode().IsRegular() {
		return false
	}
	return runtime.GOOS == "darwin" || os.Getenv("DISPLAY") != "" || os.Getenv("WAYLAND_DISPLAY") != ""
}
