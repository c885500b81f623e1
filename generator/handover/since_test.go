package handover

import (
	"strings"
	"testing"

	"github.com/spf13/afero"

	"asleft/generator/catalog"
	"asleft/generator/page"
)

const firstFile = "machines/pump/2026-03-02-first.md"

// sinceOf prepares the shop's report, changes its files and returns what is told of it, each
// line with a minus before it where the log no longer says it.
func sinceOf(t *testing.T, before, files map[string]string) []string {
	t.Helper()
	fs := shopWith(t, before)
	then := prepared(t, fs, "2026-03-20").Facts
	for name, text := range files {
		if text == "" {
			if err := fs.Remove(name); err != nil {
				t.Fatal(err)
			}
			continue
		}
		write(t, fs, name, []byte(text))
	}
	return toldOf(Since(&then, todayOf(t, fs, "2026-06-01"), catalog.English))
}

// instead is the first entry with some text in place of other text, which has to be
// in it.
func instead(t *testing.T, was, now string) map[string]string {
	t.Helper()
	text := strings.Replace(firstEntry, was, now, 1)
	if text == firstEntry && was != now {
		t.Fatalf("the first entry does not hold %q", was)
	}
	return map[string]string{firstFile: text}
}

func TestSinceNothing(t *testing.T) {
	if got := sinceOf(t, nil, nil); len(got) > 0 {
		t.Errorf("nothing changed, and it says %q", got)
	}
}

func TestSinceAnotherEvening(t *testing.T) {
	all := sinceOf(t, nil, map[string]string{"machines/pump/2026-04-09-second.md": strings.Replace(secondEntry, "2026-03-09", "2026-04-09", 1)})
	got := strings.Join(all, "\n")
	for _, want := range []string{
		"A new entry of April 9, 2026: New seal.",
		"Repaired on April 9, 2026: seal leaks. How: new seal.",
		"Proof on April 9, 2026: seal leaks. What showed it: ran an hour and dry.",
		"Then wrong; now in order: seal leaks.",
		"Found on April 9, 2026: knocks when hot.",
		"As it should be on April 9, 2026: oil is at the mark.",
		"As it should be on April 9, 2026: stops at the switch.",
		"Measured on April 9, 2026: compression (cold), 75 psi.",
		"A part in the log on April 9, 2026: shaft seal.",
	} {
		if strings.Count(got, want) != 1 {
			t.Errorf("it says %d times %q:\n%s", strings.Count(got, want), want, got)
		}
	}
	if strings.Contains(got, "-") && strings.HasPrefix(got, "-") || strings.Contains(got, "\n-") {
		t.Errorf("an evening more, and something is gone:\n%s", got)
	}
}

// What an earlier sealed report said and the log no longer says: taken out,
// reworded, redated or retitled. Each difference is told once, and nothing else.
func TestNothingVanishesBetweenSeals(t *testing.T) {
	proven := map[string]string{"machines/pump/2026-03-09-second.md": secondEntry}
	for name, tc := range map[string]struct {
		before, files map[string]string
		want          []string
	}{
		"a defect taken out": {nil, instead(t, "  - {key: leak, defect: seal leaks, effect: drips on the floor, system: engine, safety: no, photo: leak.jpg}", "  - {key: drip, defect: drips a little, system: engine, safety: no}"), []string{
			"-The log does not list this defect any more: seal leaks.", "Found on March 2, 2026: drips a little.",
		}},
		"a defect reworded": {nil, instead(t, "defect: seal leaks", "defect: seal sweats"), []string{
			"-What the log said on March 2, 2026 of “seal leaks” reads otherwise now. It was: seal leaks. It is: seal sweats.",
		}},
		"an effect reworded": {nil, instead(t, "drips on the floor", "hardly drips"), []string{
			"-What the log said on March 2, 2026 of “seal leaks” reads otherwise now. It was: drips on the floor. It is: hardly drips.",
		}},
		"an effect taken out": {nil, instead(t, "effect: drips on the floor, ", ""), []string{
			"-The log does not say this any more on March 2, 2026 of “seal leaks”: drips on the floor.",
		}},
		"a reading rewritten": {nil, instead(t, "60 psi", "90 psi"), []string{
			"-What the log said on March 2, 2026 of “compression (cold)” reads otherwise now. It was: 60 psi. It is: 90 psi.",
		}},
		"a reading taken out": {nil, instead(t, "what: compression", "what: oil pressure"), []string{
			"-The log does not hold this reading any more: compression (cold).", "Measured on March 2, 2026: oil pressure (cold), 60 psi.",
			"Where this stands by its readings: oil pressure (cold), no limit given.",
		}},
		"an answer turned round": {instead(t, "result: works, system: guards", "result: fails, system: guards"), instead(t, "", ""), []string{
			"-What the log said on March 2, 2026 of “stops at the switch” reads otherwise now. It was: fails. It is: works.",
		}},
		"a point taken out": {nil, instead(t, "item: stops at the switch", "item: has a switch"), []string{
			"-The list does not have this point any more: stops at the switch.", "As it should be on March 2, 2026: has a switch.",
		}},
		"an entry redated": {nil, instead(t, "date: 2026-03-02", "date: 2026-03-05"), []string{
			"-An entry has another date: First look. It was March 2, 2026. It is March 5, 2026.",
		}},
		"an entry retitled": {nil, instead(t, "title: First look", "title: All is well"), []string{
			"-The entry of March 2, 2026 has another title. It was: First look. It is: All is well.",
		}},
		"an entry taken out": {proven, map[string]string{"machines/pump/2026-03-09-second.md": ""}, []string{
			"-An entry is gone. It was of March 9, 2026: New seal.",
			"-The log does not say this any more on March 9, 2026 of “seal leaks”: new seal.",
			"-The log does not say this any more on March 9, 2026 of “seal leaks”: ran an hour and dry.",
			"Then in order; now wrong: seal leaks.",
			"-The log does not list this defect any more: knocks when hot.",
			"-The log does not say this any more on March 9, 2026 of “stops at the switch”: works.",
			"-The log does not say this any more on March 9, 2026 of “oil is at the mark”: works.",
			"Then in order; now not checked: oil is at the mark.",
			"-The log does not say this any more on March 9, 2026 of “compression (cold)”: 75 psi.",
			"-The log does not list this part any more on March 9, 2026: shaft seal.",
		}},
		"a matter of safety no more": {instead(t, "system: engine, safety: no, photo", "system: engine, safety: yes, photo"), instead(t, "", ""), []string{
			"-It was a matter of safety, and the log does not say so now: seal leaks.",
		}},
		"another maker": {nil, map[string]string{"machines/pump/machine.md": strings.Replace(machineText, "Nobody & Sons </script>", "Somebody", 1)}, []string{
			"-Maker: Somebody now, Nobody & Sons </script> then.",
		}},
		"a limit loosened": {
			map[string]string{"machines/pump/machine.md": strings.Replace(machineText, "arrived:", "limits:\n  - {what: compression, limit: '>= 70 psi', source: maker's sheet}\narrived:", 1)},
			map[string]string{"machines/pump/machine.md": strings.Replace(machineText, "arrived:", "limits:\n  - {what: compression, limit: '>= 50 psi', source: maker's sheet}\narrived:", 1)}, []string{
				"-It is not held against this limit any more: compression (cold), 70 psi or more.",
				"It is held against another limit now: compression (cold), 50 psi or more.",
				"-Then wrong; now in order, with nothing new said of it that makes it better: compression (cold).",
			}},
		"case, spacing and punctuation": {nil, instead(t, "defect: seal leaks", "defect: \"Seal  leaks.\""), nil},
		"the entry's file renamed":      {nil, map[string]string{firstFile: "", "machines/pump/2026-03-02-first-look.md": firstEntry}, nil},
	} {
		t.Run(name, func(t *testing.T) {
			got := sinceOf(t, tc.before, tc.files)
			for _, want := range tc.want {
				if !contains(got, want) {
					t.Errorf("it does not say %q", want)
				}
			}
			if len(got) != len(tc.want) {
				t.Errorf("it says\n%s", strings.Join(got, "\n"))
			}
		})
	}
}

func contains(all []string, want string) bool {
	n := 0
	for _, one := range all {
		if one == want {
			n++
		}
	}
	return n == 1
}

// What the log says since, in the words of each kind of thing.
func TestSinceSaysWhatIsNew(t *testing.T) {
	entry := func(body string) map[string]string {
		return map[string]string{"machines/pump/2026-04-01-later.md": "---\ndate: 2026-04-01\ntitle: Later\n" + body + "---\n"}
	}
	for name, tc := range map[string]struct {
		files map[string]string
		want  string
	}{
		"worked around":   {entry("worked_around:\n  - {key: leak, how: a pan under it, left: it leaks into the pan}\n"), "Worked around on April 1, 2026, not repaired: seal leaks. How: a pan under it."},
		"what is left":    {entry("worked_around:\n  - {key: leak, how: a pan under it, left: it leaks into the pan}\n"), "The log says more of this on April 1, 2026: seal leaks. It says: it leaks into the pan."},
		"not proven":      {entry("repaired:\n  - {key: leak, how: new seal}\n"), "Then wrong; now repaired, not proven: seal leaks."},
		"fails now":       {entry("checks:\n  - {item: stops at the switch, result: fails, note: runs on, system: guards}\n"), "Not so on April 1, 2026: stops at the switch. Note: runs on."},
		"stale now":       {entry("changed:\n  - {what: switch moved, why: out of reach before, system: guards}\n"), "Then in order; now out of date: stops at the switch."},
		"changed":         {entry("changed:\n  - {what: switch moved, why: out of reach before, system: guards}\n"), "Changed from how the maker built it, on April 1, 2026: switch moved."},
		"a safety matter": {instead(t, "system: engine, safety: no, photo", "system: engine, safety: yes, photo"), "The log has it as a matter of safety now: seal leaks."},
		"more running":    {entry("ran: \"0:30\"\n"), "The engine ran 50 min by now, 20 min then."},
		"more work":       {entry("hours: 2\nby: AB\n"), "Work put into it: 2 h now"},
		"the meter":       {entry("meter: 12.5 h\n"), "The hour meter was written down on April 1, 2026: 12.5 h."},
		"service":         {entry("service:\n  - {what: engine oil, amount: 20 fl oz, system: engine}\n"), "Service on April 1, 2026: engine oil."},
		"sold":            {map[string]string{"machines/pump/machine.md": strings.Replace(machineText, "arrived:", "stage: sold\nsold: {date: 2026-04-02, price: 5.00, buyer: Secret}\narrived:", 1)}, "The machine's stage is now: sold."},
		"a price":         {map[string]string{"machines/pump/machine.md": strings.Replace(machineText, "arrived:", "stage: for sale\nasking: 40.00\narrived:", 1)}, "The price is $40.00 now."},
	} {
		t.Run(name, func(t *testing.T) {
			got := strings.Join(sinceOf(t, nil, tc.files), "\n")
			if !strings.Contains(got, tc.want) {
				t.Errorf("it does not say %q:\n%s", tc.want, got)
			}
			if strings.Contains(got, "[since.") || strings.Contains(got, "Secret") {
				t.Errorf("it says %s", got)
			}
		})
	}
}

// A shop that stops showing its hours is not said to have lost them, and what they
// were is not told again.
func TestHiddenHoursAreNotToldAgain(t *testing.T) {
	worked := map[string]string{"machines/pump/2026-03-10-work.md": "---\ndate: 2026-03-10\ntitle: Work\nhours: 7:50\nby: AB\n---\n"}
	fs := shopWith(t, nil)
	shop := string(read(t, fs, "shop.md"))
	hidden := strings.Replace(strings.Replace(shop, "show:", "was:", 1), "currency: USD", "currency: USD\nshow: {hours: no}", 1)
	if hidden == shop {
		t.Fatalf("the shop has no currency: %s", shop)
	}
	said := strings.Join(sinceOf(t, worked, map[string]string{"shop.md": hidden}), "\n")
	if !strings.Contains(said, "-The shop no longer says how much work it put in.") || strings.Contains(said, "7 h 50 min") || strings.Contains(said, "less work") {
		t.Errorf("it says:\n%s", said)
	}
}

// A new sealed report lists what an earlier one said and the log no longer says,
// once however many said it, and so does each one after it.
func TestTheNextSealTellsWhatIsGone(t *testing.T) {
	fs, buyer := shopWith(t, nil), afero.NewMemMapFs()
	sealed(t, fs, buyer, nil, "2026-03-03")
	second := sealed(t, fs, buyer, nil, "2026-03-04")
	if len(second.Seal.Facts.Gone) != 0 {
		t.Errorf("nothing is gone, and it says %+v", second.Seal.Facts.Gone)
	}
	write(t, fs, firstFile, []byte(instead(t, "defect: seal leaks", "defect: seal sweats")[firstFile]))
	for _, day := range []string{"2026-03-10", "2026-03-11"} {
		made := sealed(t, fs, buyer, nil, "2026-03-10")
		gone := made.Seal.Facts.Gone
		if len(gone) != 1 || !strings.Contains(gone[0].Text, "It was: seal leaks. It is: seal sweats.") || gone[0].Code != second.Seal.Code {
			t.Fatalf("%s: it tells %+v", day, gone)
		}
		html, _, _ := strings.Cut(string(read(t, buyer, made.HTML)), openElement)
		for _, want := range []string{`<section id="gone">`, "It was: seal leaks. It is: seal sweats.", `<a href="#gone">`} {
			if strings.Count(html, want) != 1 {
				t.Errorf("%s: the HTML holds %d times %s", day, strings.Count(html, want), want)
			}
		}
	}
}

// A folder that was renamed says what it was called: the reports of then are its
// own.
func TestARenamedFolderKeepsItsSeals(t *testing.T) {
	fs, buyer := shopWith(t, nil), afero.NewMemMapFs()
	sealed(t, fs, buyer, nil, "2026-03-03")
	renamed := afero.NewMemMapFs()
	for _, name := range []string{"shop.md", headFile} {
		write(t, renamed, name, read(t, fs, name))
	}
	for _, l := range chainOf(t, fs).Links {
		write(t, renamed, l.File, l.data)
	}
	write(t, renamed, "machines/little-pump/machine.md", []byte(machineText))
	write(t, renamed, "machines/little-pump/2026-03-02-first.md", []byte(instead(t, "defect: seal leaks", "defect: seal sweats")[firstFile]))
	write(t, renamed, "machines/little-pump/photos/leak.jpg", tinyJPEG(t))
	there := func() func(key string) bool {
		shop := siteOf(t, renamed).Shop
		return func(key string) bool {
			return chainOf(t, renamed).Links[0].Of(shop.Machines[0]) || key == shop.Machines[0].Key
		}
	}
	problems := chainOf(t, renamed).Orphans(there(), catalog.English)
	if len(problems) != 1 || !strings.Contains(problems[0].Says, "no machine pump") || !strings.Contains(problems[0].Mend, "was: [pump]") {
		t.Errorf("a seal whose machine is gone: %+v", problems)
	}
	write(t, renamed, "machines/little-pump/machine.md", []byte(strings.Replace(machineText, "arrived:", "was: [pump]\narrived:", 1)))
	if problems := chainOf(t, renamed).Orphans(there(), catalog.English); len(problems) != 0 {
		t.Errorf("it says what it was called, and there is %+v", problems)
	}
	made := sealed(t, renamed, buyer, nil, "2026-03-10")
	if gone := made.Seal.Facts.Gone; len(gone) != 1 || !strings.Contains(gone[0].Text, "seal sweats") {
		t.Errorf("the report after the renaming tells %+v", gone)
	}
	public := chainOf(t, renamed).Public(siteOf(t, renamed), "2026-06-01")
	if len(public) != 2 || public[0].Now != "little-pump" || public[0].Machine != "pump" || len(public[0].Since.Gone) != 1 {
		t.Errorf("the site is told %+v", public)
	}
}

// "The log has not changed" is said only where no byte of it has that the report
// draws on.
func TestNotAByteOfTheLogHasChanged(t *testing.T) {
	for name, tc := range map[string]struct {
		file, was, now string
		same           bool
	}{
		"nothing":              {firstFile, "", "", true},
		"a space":              {firstFile, "defect: seal leaks", "defect:  seal leaks", false},
		"a private note":       {"machines/pump/machine.md", "arrived:", "private: nothing to see\narrived:", false},
		"the story":            {firstFile, "---\n", "---\n", true},
		"terms":                {"shop.md", "currency: USD", "currency: USD\nterms: as is", false},
		"the shop's own words": {"shop.md", "web: https://shop.example/\n---\n", "web: https://shop.example/\n---\nCome in.\n", true},
	} {
		t.Run(name, func(t *testing.T) {
			fs := shopWith(t, nil)
			sealed(t, fs, afero.NewMemMapFs(), nil, "2026-03-03")
			text := string(read(t, fs, tc.file))
			changed := strings.Replace(text, tc.was, tc.now, 1)
			if (text == changed) != (tc.was == tc.now) {
				t.Fatalf("%s does not hold %q", tc.file, tc.was)
			}
			write(t, fs, tc.file, []byte(changed))
			now := chainOf(t, fs).Links[0].Held(todayOf(t, fs, "2026-06-01"), catalog.English)
			if now.Same != tc.same || len(now.Changes) != 0 {
				t.Errorf("got %+v", now)
			}
		})
	}
}

func TestFoundAgain(t *testing.T) {
	fs := shopWith(t, map[string]string{"machines/pump/2026-03-09-second.md": secondEntry})
	made := sealed(t, fs, afero.NewMemMapFs(), nil, "2026-03-10")
	write(t, fs, "machines/pump/2026-04-01-later.md", []byte("---\ndate: 2026-04-01\ntitle: Later\ndefects:\n  - {key: leak, defect: seal leaks, system: engine, safety: no}\n---\n"))
	var all []string
	for _, c := range Since(&made.Seal.Facts, todayOf(t, fs, "2026-06-01"), catalog.English) {
		all = append(all, c.Text)
	}
	if got := strings.Join(all, "\n"); !strings.Contains(got, "Found again on April 1, 2026: seal leaks.") || !strings.Contains(got, "Then in order; now wrong: seal leaks.") {
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
	if s := public(); s.Since.Changed || s.Since.Sale || s.Code != made.Seal.Code || s.Machine != "pump" || s.Date != "2026-03-03" || s.FactsDigest != made.Seal.FactsDigest {
		t.Errorf("got %+v", s)
	}
	sold := strings.Replace(machineText, "arrived:", "stage: sold\nsold: {date: 2026-04-02, price: 5.00, buyer: Secret}\narrived:", 1)
	write(t, fs, "machines/pump/machine.md", []byte(sold))
	if s := public(); s.Since.Changed || s.Since.Same || !s.Since.Sale {
		t.Errorf("a sale alone: %+v", s.Since)
	}
	write(t, fs, "machines/pump/2026-03-09-second.md", []byte(secondEntry))
	if s := public(); !s.Since.Changed || s.Since.Sale {
		t.Errorf("another entry: %+v", s.Since)
	}
}

// What stands in the machine's own file was said on no day, and not on that of its arrival.
func TestTheMachinesOwnFileHasNoDay(t *testing.T) {
	said := func(meter string) map[string]string {
		return map[string]string{"machines/pump/machine.md": strings.Replace(machineText, "arrived:", meter+"arrived:", 1)}
	}
	for meter, want := range map[string]string{
		"meter_true: yes\n": "What the shop said of “hour meter” reads otherwise now. It was: no. It is: yes.",
		"":                  "The shop does not say this any more of “hour meter”: no.",
	} {
		if got := strings.Join(sinceOf(t, said("meter_true: no\n"), said(meter)), "\n"); !strings.Contains(got, want) {
			t.Errorf("%q: it does not say %q:\n%s", meter, want, got)
		}
	}
}
