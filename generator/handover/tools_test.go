package handover

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"asleft/generator/testenv"
)

// tool runs a program that a check needs and returns what it printed (not what
// it complained of, when it went well).
func tool(t *testing.T, name string, args ...string) string {
	t.Helper()
	run := exec.Command(testenv.Program(t, name), args...)
	var says strings.Builder
	run.Stderr = &says
	out, err := run.Output()
	if err != nil {
		t.Fatalf("%s %v: %v\n%s%s", name, args, err, out, &says)
	}
	return string(out)
}

// onDisk writes a file for a program to read.
func onDisk(t *testing.T, name string, data []byte) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}
