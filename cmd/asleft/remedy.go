package main

import (
	"errors"
	"io/fs"
	"runtime"
	"syscall"

	"asleft/generator/publish"
	"asleft/generator/rooted"
)

// windowsDiskFull is ERROR_DISK_FULL of Windows' system error codes.
const windowsDiskFull = syscall.Errno(112)

// remedy is the key of what to do about a fault of this computer; empty where
// the error says it, or nothing general can be said.
func remedy(err error) string {
	var said *publish.Fault // of a far end, with what to do there
	switch {
	case errors.As(err, &said):
	case errors.Is(err, syscall.ENOSPC), errors.Is(err, syscall.EDQUOT), runtime.GOOS == "windows" && errors.Is(err, windowsDiskFull):
		return "command.disk-full"
	case errors.Is(err, syscall.EROFS):
		return "command.disk-read-only"
	case errors.Is(err, rooted.ErrHeld):
		return "command.file-held"
	case errors.Is(err, rooted.ErrReadOnly):
		return "command.file-read-only"
	case errors.Is(err, fs.ErrPermission):
		return "command.no-permission"
	}
	return ""
}
