package handover

import (
	"strings"
	"testing"

	"github.com/spf13/afero"

	"asleft/generator/catalog"
	"asleft/generator/page"
)

// sinceOf seals the shop, changes its files and returns what is told of it.
func sinceOf(t *testing.T, files map[string]string) (string, []Change) {
	t.Helper()
	fs := shopWith(t, nil)
	made := sealed(t, fs, afero.NewMemMapFs(), nil, "2026-03-03")
	for name, text := range files {
		write(t, fs, name, []byte(text))
	}
	changes := Since(&made.Seal.Facts, Today(siteOf(t, fs), 0, "2026-06-01"), catalog.English)
	var all []string
	for _, c := range changes {
		all = append(all, c.Text)
	}
	return strings.Join(all, "\n"), changes
}

func TestSinceNothing(t *testing.T) {
	if got, _ := sinceOf(t, nil); got != "" {
		t.Errorf("nothing changed, and it says %s", got)
	}
}

func TestSinceAnotherEvening(t *testing.T) {
	got, _ := sinceOf(t, map[string]string{"machines/pump/2026-03-09-second.md": secondEntry})
	for _, want := range []string{
		"Repaired on March 9, 2026, and proven: seal leaks.",
		"Found since: knocks when hot (March 9, 2026).",
		"Checked on March 9, 2026, works: oil is at the mark.",
		"Checked on March 9, 2026, works: stops at the switch.",
		"Measured on March 9, 2026: compression (cold), 75 psi. No limit was given for it.",
		"Part put in on March 9, 2026: shaft seal.",
		"The log has entries up to March 9, 2026 now.",
	} {
		if !strings.Contains(got, want) {
			t.Errorf("it does not say %q:\n%s", want, got)
		}
	}
	if strings.Contains(got, "the log says now") {
		t.Errorf("something is told twice:\n%s", got)
	}
}

func TestSince(t *testing.T) {
	first := "machines/pump/2026-03-02-first.md"
	entry := func(body string) map[string]string {
		return map[string]string{"machines/pump/2026-04-01-later.md": "---\ndate: 2026-04-01\ntitle: Later\n" + body + "---\n"}
	}
	for name, tc := range map[string]struct {
		files map[string]string
		want  string
	}{
		"worked around":        {entry("worked_around:\n  - {key: leak, how: a pan under it, left: it leaks}\n"), "Worked around on April 1, 2026, not repaired: seal leaks."},
		"repaired, not proven": {entry("repaired:\n  - {key: leak, how: new seal}\n"), "Repaired on April 1, 2026, but not proven: seal leaks."},
		"fails now":            {entry("checks:\n  - {item: stops at the switch, result: fails, system: guards}\n"), "Checked on April 1, 2026, fails: stops at the switch."},
		"stale now":            {entry("changed:\n  - {what: switch moved, system: guards}\n"), "Worked on since it was last checked, on March 2, 2026: stops at the switch."},
		"changed":              {entry("changed:\n  - {what: switch moved, system: guards}\n"), "Changed from how the maker built it, on April 1, 2026: switch moved."},
		"a safety matter now":  {map[string]string{first: strings.Replace(firstEntry, "system: engine, photo", "system: engine, safety: yes, photo", 1)}, "The log has it as a matter of safety now: seal leaks."},
		"more run":             {entry("ran: \"0:30\"\n"), "The log has entries up to April 1, 2026 now."},
		"more work":            {entry("hours: 2\nby: AB\n"), "Work put into it: 2 h now"},
		"the meter":            {entry("meter: 12.5 h\n"), "The hours on the machine are 12.5 h now."},
		"taken out of the log": {map[string]string{first: strings.Replace(firstEntry, "key: leak, defect: seal leaks", "key: drip, defect: drips a little", 1)}, "The log does not list this defect any more: seal leaks."},
		"an effect rewritten":  {map[string]string{first: strings.Replace(firstEntry, "drips on the floor", "hardly drips", 1)}, "Under What does not work, and known defects, the log says now: Seal leaks. Found on March 2, 2026. What it does: hardly drips."},
		"a reading rewritten":  {map[string]string{first: strings.Replace(firstEntry, "60 psi", "90 psi", 1)}, "Measured on March 2, 2026: compression (cold), 90 psi."},
		"a reading taken out":  {map[string]string{first: strings.Replace(firstEntry, "what: compression", "what: oil pressure", 1)}, "The log does not hold this reading any more: compression (cold)."},
		"a check taken out":    {map[string]string{first: strings.Replace(firstEntry, "{item: stops at the switch, result: works, system: guards, safety: yes}", "{item: has a switch, result: works, system: guards}", 1)}, "Not on the list any more: stops at the switch."},
		"another maker":        {map[string]string{"machines/pump/machine.md": strings.Replace(machineFile, "Nobody & Sons </script>", "Somebody", 1)}, "Maker: Somebody now, Nobody & Sons </script> then."},
		"sold":                 {map[string]string{"machines/pump/machine.md": strings.Replace(machineFile, "arrived:", "stage: sold\nsold: {date: 2026-04-02, price: 5.00, buyer: Secret}\narrived:", 1)}, "The machine's stage is now: sold."},
	} {
		t.Run(name, func(t *testing.T) {
			got, _ := sinceOf(t, tc.files)
			if !strings.Contains(got, tc.want) {
				t.Errorf("it does not say %q:\n%s", tc.want, got)
			}
			if strings.Contains(got, "[since.") || strings.Contains(got, "Secret") {
				t.Errorf("it says %s", got)
			}
		})
	}
}

func TestFoundAgain(t *testing.T) {
	fs := shopWith(t, map[string]string{"machines/pump/2026-03-09-second.md": secondEntry})
	made := sealed(t, fs, afero.NewMemMapFs(), nil, "2026-03-10")
	write(t, fs, "machines/pump/2026-04-01-later.md", []byte("---\ndate: 2026-04-01\ntitle: Later\ndefects:\n  - {key: leak, defect: seal leaks, system: engine}\n---\n"))
	var all []string
	for _, c := range Since(&made.Seal.Facts, Today(siteOf(t, fs), 0, "2026-06-01"), catalog.English) {
		all = append(all, c.Text)
	}
	if got := strings.Join(all, "\n"); !strings.Contains(got, "Found again on April 1, 2026: seal leaks.") || strings.Contains(got, "as still there") {
		t.Errorf("got %s", got)
	}
}

func TestPublic(t *testing.T) {
	fs, buyer := shopWith(t, nil), afero.NewMemMapFs()
	made := sealed(t, fs, buyer, nil, "2026-03-03")
	public := func() page.Sealed {
		t.Helper()
		all := chainOf(t, fs).Public(siteOf(t, fs), "2026-06-01")
		if len(all) != 1 {
			t.Fatalf("%d sealed reports", len(all))
		}
		return all[0]
	}
	if s := public(); s.Changed || s.Code != made.Seal.Code || s.Machine != "pump" || s.Date != "2026-03-03" || s.FactsDigest != made.Seal.FactsDigest {
		t.Errorf("got %+v", s)
	}
	sold := strings.Replace(machineFile, "arrived:", "stage: sold\nsold: {date: 2026-04-02, price: 5.00, buyer: Secret}\narrived:", 1)
	write(t, fs, "machines/pump/machine.md", []byte(sold))
	if s := public(); s.Changed {
		t.Error("a sale alone counts as a change")
	}
	write(t, fs, "machines/pump/2026-03-09-second.md", []byte(secondEntry))
	if s := public(); !s.Changed {
		t.Error("another entry is no change")
	}
}
