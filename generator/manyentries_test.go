package generator_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/spf13/afero"

	"asleft/generator"
)

// A machine with a log of 5,000 tiny entries is made in seconds: what is done
// for each entry does not grow with the number of the others. There is no
// number of entries at which the program gives up.
func TestManyEntries(t *testing.T) {
	folder, parent := afero.NewMemMapFs(), afero.NewMemMapFs()
	put := func(name, text string) {
		if err := afero.WriteFile(folder, name, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	const entries = 5000
	put("shop.md", "---\nshop: Plain\ncurrency: USD\n---\n")
	put("machines/m/machine.md", "---\nname: M\narrived: 2000-01-01\n---\n")
	day := time.Date(2000, 1, 2, 0, 0, 0, 0, time.UTC)
	for n := range entries {
		date := day.AddDate(0, 0, n).Format(time.DateOnly)
		put("machines/m/"+date+".md", fmt.Sprintf("---\ndate: %s\ntitle: Evening %d\nhours: 1\nmeasured: [{what: compression, value: 60 psi, system: engine}]\ndefects: [{key: d-%d, defect: a thing, system: drive}]\nrepaired: [{key: d-%d, how: mended}]\n---\nx\n", date, n, n, n))
	}
	within(t, 15*time.Minute, func() { // some seconds, or under the race detector and on a busy computer minutes
		made, r, err := generator.Writeup(folder, parent, "site", generator.Options{})
		if says := saidOf(r, err); says != "" || made.Entries != entries {
			t.Errorf("%d entries: %s", made.Entries, says)
		}
	})
	story, err := afero.ReadFile(parent, "site/machines/m/index.html")
	if err != nil || !strings.Contains(string(story), fmt.Sprintf("Evening %d", entries-1)) {
		t.Errorf("the last evening is not told of (%v)", err)
	}
}
