package tally

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"asleft/generator/catalog"
)

// From the files themselves: each problem stands at its own line and field, and
// they come in the order in which a person goes through them.
func TestProblemsPointIntoTheFiles(t *testing.T) {
	shop := folder(t, map[string]string{
		"shop.md":                   "---\nshop: Test shop\ncurrency: USD\n---\n",
		"machines/alder/machine.md": "---\nname: Alder\narrived: 2026-03-01\n---\n",
		"machines/alder/2026-03-02-a.md": `---
date: 2026-03-02
title: A
by: JM
hours:
  - {from: "18:00", to: "20:00"}
  - {from: "19:30", to: "00:30", by: RT}
  - {from: "19:30", to: "00:30"}
meter: 412.6 h
---
`,
		"machines/alder/2026-03-03-b.md": `---
date: 2026-03-03
title: B
meter: 41.27 h
hours: "25:00"
by: EP
meter_replaced:
  old: 400 h
  new: 40 h
---
`,
	})
	c, problems := Count(shop, catalog.English)
	want := []string{
		"machines/alder/2026-03-02-a.md:8: hours[2]: JM is at two jobs at once: here from 19:30 to 00:30 on 2026-03-02, and from 18:00 to 20:00 on 2026-03-02 in machines/alder/2026-03-02-a.md:6: hours[0]",
		"machines/alder/2026-03-03-b.md:5: hours: EP has 25:00 hours of work on 2026-03-03, and a day has 24",
		"machines/alder/2026-03-03-b.md:8: meter_replaced.old: the old meter ends at 400 h here, less than the 412.6 h in machines/alder/2026-03-02-a.md:9: meter",
	}
	if diff := cmp.Diff(want, said(problems)); diff != "" {
		t.Errorf("(-want, +got):\n%s", diff)
	}
	for _, p := range problems {
		if p.Mend == "" || p.Mend[0] == '[' {
			t.Errorf("%s: mend %q", p, p.Mend)
		}
	}
	if m := c.Machines[0]; m.Work.Total != 120+300+300+25*60 || m.Meter.State != NotKnown {
		t.Errorf("got %+v", m)
	}
}
