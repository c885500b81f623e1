//go:build !windows

package main

import (
	"os"
	"runtime"
)

// clicked tells whether the program was started from a desktop: it has no terminal, and
// nothing is fed to it or reads what it says.
func clicked() bool {
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
