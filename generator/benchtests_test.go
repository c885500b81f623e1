package generator_test

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"asleft/generator"
	"asleft/generator/benchtest"
)

// testdata/benchtests is a shop whose one machine has had every bench test
// done to it: the very examples that the help gives to paste. It has to be in
// step with the registry, to be read without a problem, and to come out as the
// golden file that a person has looked at.
func TestEveryBenchTestOnAPage(t *testing.T) {
	const dir = "../testdata/benchtests"
	entry := filepath.Join(dir, "shop/machines/all/2026-03-02-every-test.md")
	var b strings.Builder
	b.WriteString("---\ndate: 2026-03-02\ntitle: Every test\ntests:\n")
	kinds := benchtest.Kinds()
	for _, k := range kinds {
		fmt.Fprintf(&b, "  - %s\n", k.Example)
	}
	b.WriteString("---\nMade from the help by a test (run with -update).\n")
	if *update {
		if err := os.WriteFile(entry, []byte(b.String()), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	have, err := os.ReadFile(entry)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(b.String(), string(have)); diff != "" {
		t.Fatalf("%s is not what the help gives (-help, +file):\n%s", entry, diff)
	}
	site := made(t, filepath.Join(dir, "shop"), generator.Options{})
	page := site["machines/all/index.html"]
	parse(t, "machines/all/index.html", page)
	if n := strings.Count(page, `class="drawing"`); n < len(kinds)/2 {
		t.Errorf("only %d drawings for %d tests", n, len(kinds))
	}
	golden(t, "../benchtests/page.txt", visible(t, page))
}
