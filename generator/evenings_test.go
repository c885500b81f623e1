package generator_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/spf13/afero"

	"asleft/generator"
	"asleft/themes"
)

// twelveEvenings is a mower that a shop worked on for twelve evenings, as an ordinary
// one: each evening finds something, puts the last thing right and shows that it
// holds, and the last evening walks most of the list.
func twelveEvenings(t *testing.T) afero.Fs {
	t.Helper()
	const safe = "safety: no"
	found := []struct{ what, effect, system, how, proof string }{
		{"carburetor bowl is full of rust", "it will not start", "fuel", "cleaned and a new bowl gasket", "started on the third try and ran ten minutes"},
		{"deck belt is cracked", "it slips in long grass", "implement", "new belt", "cut the whole bank without a slip"},
		{"left spindle bearing is rough", "the deck howls", "implement", "two new bearings", "quiet at full speed for ten minutes"},
		{"air filter is packed with dust", "it smokes black", "engine", "new filter", "the smoke is gone at full speed"},
		{"charging wire is chafed through", "the battery runs flat", "electrical", "new wire in a sleeve", "14.1 V at the posts with the lamps on"},
		{"front tire is flat", "it pulls to the left", "tires", "new tube", "same pressure the next day"},
		{"throttle cable binds", "the speed stays where it was", "controls", "new cable", "moves freely from end to end"},
		{"hood hinge is broken", "the hood rattles", "frame", "hinge welded", "opened and shut it ten times"},
		{"fuel line is hard", "it may crack", "fuel", "new line and clamps", "full tank over dry paper for an hour"},
		{"starter drags", "it cranks slowly", "electrical", "brushes cleaned", "cranked ten times hot and cold"},
		{"wheel bearing has play", "the wheel wobbles", "steering", "new bushing", "no play by hand"},
		{"seat cushion is torn", "it is wet after rain", "frame", "", ""},
	}
	points := []string{
		"engine will not crank with the brake off", "engine will not crank with the blades on", "blades stop when the driver leaves the seat",
		"engine stops off the seat with brake off", "blades stop soon after being switched off", "no safety switch is unplugged or wired around",
		"discharge chute guard is fitted and springs back", "belt and pulley covers are in place", "deck spindles turn without play or noise",
		"mower deck has no holes or cracks", "brake pedal stops the machine", "parking brake holds on a slope", "drive does not creep in neutral",
		"steering has no slack and does not bind", "frame and axle mounts have no cracks", "engine stops at the key", "starts cold within ten seconds of cranking",
	}
	folder := afero.NewMemMapFs()
	write := func(name, text string) {
		if err := afero.WriteFile(folder, name, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	write("shop.md", "---\nshop: Twelve evenings\ncontact: 555-0177\ncurrency: USD\n---\n")
	write("machines/mower/machine.md", "---\nname: Twelve rider\nkind: ride-on mower\nmaker: Hollin\nmodel: R 12\nyear: about 2004\narrived: 2026-03-01\nstage: for sale\nasking: 400.00\nlimits:\n  - {what: compression, limit: \">= 60 psi\", source: \"maker's sheet\", system: engine}\n---\nIt sat for three years.\n")
	day := time.Date(2026, 3, 2, 0, 0, 0, 0, time.UTC)
	for i, f := range found {
		var b strings.Builder
		safety := safe
		if i%4 == 0 || f.system == "steering" {
			safety = "safety: yes"
		}
		fmt.Fprintf(&b, "---\ndate: %s\ntime: \"19:00\"\ntitle: Evening %d\nby: JM\nhours: 1.5\n", day.Format(time.DateOnly), i+1)
		fmt.Fprintf(&b, "defects:\n  - {key: d%d, defect: %s, effect: %s, system: %s, %s}\n", i, f.what, f.effect, f.system, safety)
		if last := i - 1; last >= 0 {
			fmt.Fprintf(&b, "repaired:\n  - {key: d%d, how: %s, proof: \"%s\"}\n", last, found[last].how, found[last].proof)
			fmt.Fprintf(&b, "parts:\n  - {part: part number %d, each: 8.50, source: new, system: %s}\n", i, found[last].system)
		}
		if i%4 == 1 {
			fmt.Fprintf(&b, "measured:\n  - {what: compression, where: cylinder 1, value: %d psi, gauge: 2 psi}\n", 62+2*i)
		}
		if i == len(found)-1 {
			b.WriteString("checks:\n")
			for _, p := range points {
				fmt.Fprintf(&b, "  - {item: %s, result: works}\n", p)
			}
		}
		b.WriteString("---\nAn evening as others.\n")
		write("machines/mower/"+day.Format(time.DateOnly)+".md", b.String())
		day = day.AddDate(0, 0, 3)
	}
	return folder
}

// TestTwelveEveningsAreRead holds the measures of a short report on a machine that is
// not the example's.
func TestTwelveEveningsAreRead(t *testing.T) {
	for _, theme := range builtIn(t) {
		files := madeFrom(t, twelveEvenings(t), afero.NewMemMapFs(), generator.Options{Theme: themes.Named(theme)})
		page := files["machines/mower/condition/index.html"]
		r := reportOf(t, page)
		t.Logf("%s: %d words, %d on the front sheet, %d numbers", theme, r.words, r.front, r.numbers)
		if r.words > 1400 || r.words < 400 || r.front > 330 || r.front < 100 || 100*r.numbers > 8*r.words || r.nested {
			t.Errorf("%s: %d words, %d of them on the front sheet, %d numbers of entries", theme, r.words, r.front, r.numbers)
		}
		if twice, _ := saidTwice(t, page); len(twice) > 0 {
			t.Errorf("%s says twice: %q", theme, twice)
		}
	}
}
