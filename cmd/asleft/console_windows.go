package main

import (
	"unsafe"

	"golang.org/x/sys/windows"
)

// clicked tells whether the program was started by a double click: then nobody else is
// at the console that Windows opened for it.
func clicked() bool {
	list := windows.NewLazySystemDLL("kernel32.dll").NewProc("GetConsoleProcessList")
	var ids [2]uint32
	n, _, _ := list.Call(uintptr(unsafe.Pointer(&ids[0])), uintptr(len(ids)))
	return n == 1
}
