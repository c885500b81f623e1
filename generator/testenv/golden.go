package testenv

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

var update = flag.Bool("update", false, "write the golden files anew")

// Golden holds what was made against a file that a person has looked at and found right;
// -update writes it anew, to be looked at again.
func Golden(t testing.TB, file, got string) {
	t.Helper()
	if *update {
		must(t, os.MkdirAll(filepath.Dir(file), 0o755))
		must(t, os.WriteFile(file, []byte(got), 0o644))
	}
	want, err := os.ReadFile(file)
	must(t, err)
	if diff := cmp.Diff(strings.Split(string(want), "\n"), strings.Split(got, "\n")); diff != "" {
		t.Errorf("%s: run this test with -update and look at the difference (-want, +got):\n%s", file, diff)
	}
}
