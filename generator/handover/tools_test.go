package handover

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// tool runs a program that a check needs and returns what it printed (not what
// it complained of, when it went well). Where the
// program is missing the test is skipped with that reason, unless every check
// is compulsory (ASLEFT_CHECKS=all, as on CI).
func tool(t *testing.T, name string, args ...string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil {
		if os.Getenv("ASLEFT_CHECKS") == "all" {
			t.Fatalf("%s is not installed, and every check is compulsory", name)
		}
		t.Skipf("%s is not installed", name)
	}
	run := exec.Command(path, args...)
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
