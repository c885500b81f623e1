package generator_test

import (
	"regexp"
	"strings"
	"testing"

	"github.com/spf13/afero"

	"asleft/generator"
)

// No page, feed or record makes a date more exact than the log has it: of a machine
// of which nobody knows a day, no day is told anywhere.
func TestNoDateIsMadeMoreExact(t *testing.T) {
	folder := memoryShop(t, map[string]string{
		"shop.md":               "---\nshop: S\ncurrency: USD\n---\n",
		"machines/m/machine.md": "---\nname: M\narrived: about 2012\nstage: sold\nsold: {date: 2019-07, price: 40.00}\nlimits: [{what: end play, limit: \"<= 0.010 in\", source: maker's sheet, system: engine, safety: yes}]\n---\nOpening.\n",
		"machines/m/a.md":       "---\ndate: 2012\ntitle: Found\nhours: 1\nmeter: 400 h\nmeasured: [{what: end play, value: 0.014 in}]\ntests: [{test: compression, dry: 60 psi}]\ndefects: [{key: seal, defect: the seal leaks, system: drive, safety: yes}]\nservice: [{what: oil, every: 1 year}]\n---\nWords.\n",
		"machines/m/b.md":       "---\ndate: about 2013-05\ntitle: Mended\nran: \"0:20\"\nmeasured: [{what: end play, value: 0.008 in}]\nrepaired: [{key: seal, how: new seal, proof: dry after an hour}]\nparts: [{part: seal, source: new, system: drive, vendor: V, warranty: 90 days}]\nchecks: [{item: all guards and covers are in place, result: works}]\n---\nWords.\n",
	})
	// A month with a day: "January 1, 2012", "on May 1", "2012-05-01". A moment of the
	// feed has to have one (RFC 4287, 3.3), and is no telling of the log.
	day := regexp.MustCompile(`(?:January|February|March|April|May|June|July|August|September|October|November|December) [0-9]{1,2}\b|20(?:12|13|14|19)-[0-9]{2}-[0-9]{2}(?:[^T]|$)`)
	told := 0
	for name, text := range madeFrom(t, folder, afero.NewMemMapFs(), generator.Options{}) {
		if exact := day.FindString(text); exact != "" && !strings.HasSuffix(name, ".css") {
			t.Errorf("%s tells of %q", name, exact)
		}
		told += strings.Count(text, "2013")
	}
	if told < 10 {
		t.Errorf("only %d dates are told", told)
	}
}
