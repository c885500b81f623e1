//go:build !windows

package main

import "testing"

func TestADoubleClickOnAMac(t *testing.T) {
	for _, c := range []struct {
		program, at, home string
		want              bool
	}{
		{"/Users/jm/Downloads/asleft", "/Users/jm", "/Users/jm", true},
		{"asleft", "/Users/jm", "/Users/jm", false}, // typed, and found on the PATH
		{"./asleft", "/Users/jm", "/Users/jm", false},
		{"/Users/jm/Downloads/asleft", "/Users/jm/Shop", "/Users/jm", false},
		{"/usr/local/bin/asleft", "", "", false},
	} {
		if got := clickedOnAMac(c.program, c.at, c.home); got != c.want {
			t.Errorf("%+v gives %v", c, got)
		}
	}
}
