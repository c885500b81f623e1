package generator_test

import (
	"fmt"
	"path/filepath"
	"strings"
	"testing"

	"asleft/generator"
	"asleft/generator/benchtest"
	"asleft/generator/testenv"
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
	testenv.Golden(t, entry, b.String())
	site := made(t, filepath.Join(dir, "shop"), generator.Options{})
	page := site["machines/all/index.html"]
	parse(t, "machines/all/index.html", page)
	if n := strings.Count(page, `class="drawing"`); n < len(kinds)/2 {
		t.Errorf("only %d drawings for %d tests", n, len(kinds))
	}
	testenv.Golden(t, filepath.Join(dir, "page.txt"), visible(t, page))
}
