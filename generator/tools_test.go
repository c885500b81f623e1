package generator_test

import (
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
)

// need returns the path of a tool that a check needs. Where it is missing the
// check is skipped with that reason, unless every check is compulsory
// (ASLEFT_CHECKS=all, as on CI): then it fails.
func need(t *testing.T, tool string) string {
	t.Helper()
	path, err := exec.LookPath(tool)
	if err != nil {
		without(t, tool)
	}
	return path
}

// needModule is need for a file of a node module that .ci/run installed.
func needModule(t *testing.T, file string) string {
	t.Helper()
	path := filepath.Join(os.Getenv("ASLEFT_TOOLS"), file)
	if _, err := os.Stat(path); err != nil || os.Getenv("ASLEFT_TOOLS") == "" {
		without(t, file)
	}
	return path
}

func without(t *testing.T, tool string) {
	t.Helper()
	if os.Getenv("ASLEFT_CHECKS") == "all" {
		t.Fatalf("%s is not installed, and every check is compulsory", tool)
	}
	t.Skipf("%s is not installed; .ci/run installs it", tool)
}

// output runs a tool and returns what it printed; its exit status is the
// caller's to judge by that.
func output(t *testing.T, tool string, args ...string) string {
	t.Helper()
	out, err := exec.Command(tool, args...).CombinedOutput()
	var exit *exec.ExitError
	if err != nil && !errors.As(err, &exit) {
		t.Fatalf("%s: %v", tool, err)
	}
	return string(out)
}
