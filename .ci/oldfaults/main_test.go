package main

import "testing"

// A fault can only be put back while the lines that mended it stand where they stood.
func TestEachFaultCanBePutBack(t *testing.T) {
	t.Chdir("../..")
	for _, f := range faults {
		if _, err := f.overlay(t.TempDir()); err != nil {
			t.Errorf("%s: %v", f.name, err)
		}
	}
}
