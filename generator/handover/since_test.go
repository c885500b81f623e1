package handover

import (
	"strings"
	"testing"

	"github.com/spf13/afero"

	"asleft/generator/catalog"
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
	got, changes := sinceOf(t, map[string]string{"machines/pump/2026-03-09-second.md": secondEntry})
	for _, want := range []string{
		"New entry in the log: New seal (March 9, 2026).",
		"seal leaks: wrong then, in order now.",
		"Of seal leaks the log says now, on March 9, 2026: repaired: new seal.",
		"New in the log: knocks when hot (wrong).",
		"Of compression (cold) the log says now, on March 9, 2026: read: 75 psi.",
	} {
		if !strings.Contains(got, want) {
			t.Errorf("it does not say %q:\n%s", want, got)
		}
	}
	if lost := Lost(changes); len(lost) > 0 {
		t.Errorf("nothing was lost, and it says %v", lost)
	}
}

func TestSince(t *testing.T) {
	first := "machines/pump/2026-03-02-first.md"
	entry := func(body string) map[string]string {
		return map[string]string{"machines/pump/2026-04-01-later.md": "---\ndate: 2026-04-01\ntitle: Later\n" + body + "---\n"}
	}
	changed := func(old, new string) map[string]string {
		if !strings.Contains(firstEntry, old) {
			t.Fatalf("the first entry has no %q", old)
		}
		return map[string]string{first: strings.Replace(firstEntry, old, new, 1)}
	}
	for name, tc := range map[string]struct {
		files map[string]string
		kind  string
		want  string
	}{
		"worked around":         {entry("worked_around:\n  - {key: leak, how: a pan under it, left: it leaks}\n"), SinceNew, "seal leaks: wrong then, worked around now."},
		"repaired, not proven":  {entry("repaired:\n  - {key: leak, how: new seal}\n"), SinceNew, "seal leaks: wrong then, repaired, not proven now."},
		"fails now":             {entry("checks:\n  - {item: stops at the switch, result: fails, system: guards}\n"), SinceNew, "stops at the switch: in order then, wrong now."},
		"out of date now":       {entry("changed:\n  - {what: switch moved, system: guards}\n"), SinceNew, "stops at the switch: in order then, out of date now."},
		"changed":               {entry("changed:\n  - {what: switch moved, system: guards}\n"), SinceNew, "New in the log: switch moved (changed)."},
		"the meter":             {entry("meter: 12.5 h\n"), SinceNew, "Of hour meter the log says now, on April 1, 2026: meter: 12.5 h."},
		"safety said otherwise": {changed("system: engine, photo", "system: engine, safety: yes, photo"), SinceLost, "seal leaks: can it hurt someone? Then:"},
		"a defect taken out":    {changed("key: leak, defect: seal leaks", "key: drip, defect: drips a little"), SinceLost, "The log does not speak of this any more: seal leaks."},
		"a defect reworded":     {changed("defect: seal leaks", "defect: a drop of oil"), SinceLost, "The log has other words for this now: seal leaks. They are: a drop of oil."},
		"an effect rewritten":   {changed("drips on the floor", "hardly drips"), SinceLost, "Of seal leaks the log does not say any more what it said on March 2, 2026: effect: drips on the floor."},
		"a reading rewritten":   {changed("60 psi", "90 psi"), SinceLost, "Of compression (cold) the log does not say any more what it said on March 2, 2026: read: 60 psi."},
		"a reading taken out":   {changed("what: compression", "what: oil pressure"), SinceLost, "The log does not speak of this any more: compression (cold)."},
		"a check taken out":     {changed("{item: stops at the switch, result: works, system: guards, safety: yes}", "{item: has a switch, result: works, system: guards}"), SinceLost, "The log does not speak of this any more: stops at the switch."},
		"an entry retitled":     {changed("title: First look", "title: Another"), SinceLost, "has another title now: Another"},
		"an entry redated":      {changed("date: 2026-03-02", "date: 2026-03-03"), SinceLost, "has another date now: March 3, 2026. It was March 2, 2026."},
		"another maker":         {map[string]string{"machines/pump/machine.md": strings.Replace(machineFile, "Nobody & Sons </script>", "Somebody", 1)}, SinceLost, "Maker: Somebody now, Nobody & Sons </script> then."},
		"sold":                  {map[string]string{"machines/pump/machine.md": strings.Replace(machineFile, "arrived:", "stage: sold\nsold: {date: 2026-04-02, price: 5.00, buyer: Secret}\narrived:", 1)}, SinceStage, "The machine's stage is now: sold."},
	} {
		got, changes := sinceOf(t, tc.files)
		found := 0
		for _, c := range changes {
			if c.Kind == tc.kind && strings.Contains(c.Text, tc.want) {
				found++
			}
		}
		if found != 1 {
			t.Errorf("%s: %d times %s %q:\n%s", name, found, tc.kind, tc.want, got)
		}
		if strings.Contains(got, "Secret") {
			t.Errorf("%s: it tells who bought it", name)
		}
	}
}

// Case, spacing and punctuation are no difference, nor is a story rewritten.
func TestSinceTellsNoTrifles(t *testing.T) {
	first := "machines/pump/2026-03-02-first.md"
	text := strings.Replace(firstEntry, "defect: seal leaks", "defect: \"Seal  leaks.\"", 1)
	if got, _ := sinceOf(t, map[string]string{first: text + "\nMore of the story.\n"}); got != "" {
		t.Errorf("it says %s", got)
	}
}

// TestANewReportTellsWhatWasLost: what an earlier report said and the log no
// longer says stands in the next one.
func TestANewReportTellsWhatWasLost(t *testing.T) {
	fs := shopWith(t, nil)
	sealed(t, fs, afero.NewMemMapFs(), nil, "2026-03-03")
	write(t, fs, "machines/pump/2026-03-02-first.md", []byte(strings.Replace(firstEntry, "defect: seal leaks", "defect: a drop of oil", 1)))
	r := prepared(t, fs, "2026-03-04")
	if len(r.Facts.Lost) != 1 || !strings.Contains(r.Facts.Lost[0], "seal leaks. They are: a drop of oil") || !strings.Contains(r.Facts.Lost[0], "sealed on March 3, 2026") {
		t.Errorf("lost: %q", r.Facts.Lost)
	}
	html, err := r.html()
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(string(html), "They are: a drop of oil") {
		t.Error("the new report does not print it")
	}
}
