// Package testenv is what the tests call on from outside the project: programs
// of other people, and a real browser. Nothing but tests imports it.
//
// Where a program is missing, a test that needs it is skipped with that reason;
// where every check is compulsory (ASLEFT_CHECKS=all, as on CI) it fails. The
// race detector looks at our own code alone: CI's second run, under it, leaves
// these tests out (ASLEFT_CHECKS=none), for the first has done them.
package testenv

import (
	"os"
	"os/exec"
	"path/filepath"
	"testing"
)

// All tells whether every check is compulsory here.
func All() bool { return os.Getenv("ASLEFT_CHECKS") == "all" }

// Program is the path of a program that a test needs.
func Program(t testing.TB, name string) string {
	t.Helper()
	if os.Getenv("ASLEFT_CHECKS") == "none" {
		t.Skipf("%s is left out of this run (ASLEFT_CHECKS=none)", name)
	}
	path, err := exec.LookPath(name)
	if err != nil {
		Without(t, name)
	}
	return path
}

// Module is the path of a file of a node module that .ci/run installed into
// the folder that ASLEFT_TOOLS names.
func Module(t testing.TB, file string) string {
	t.Helper()
	if os.Getenv("ASLEFT_CHECKS") == "none" {
		t.Skipf("%s is left out of this run (ASLEFT_CHECKS=none)", file)
	}
	tools := os.Getenv("ASLEFT_TOOLS")
	path := filepath.Join(tools, file)
	if _, err := os.Stat(path); err != nil || tools == "" {
		Without(t, file)
	}
	return path
}

// Without ends a test that cannot do without something that is not here.
func Without(t testing.TB, what string) {
	t.Helper()
	if All() {
		t.Fatalf("%s is not here, and every check is compulsory", what)
	}
	t.Skipf("%s is not here; .ci/run installs it", what)
}
