package generator_test

import (
	"errors"
	"os/exec"
	"testing"
)

// toolOutput runs a tool and returns what it printed; its exit status is the
// caller's to judge by that.
func toolOutput(t *testing.T, tool string, args ...string) string {
	t.Helper()
	out, err := exec.Command(tool, args...).CombinedOutput()
	var exit *exec.ExitError
	if err != nil && !errors.As(err, &exit) {
		t.Fatalf("%s: %v", tool, err)
	}
	return string(out)
}
