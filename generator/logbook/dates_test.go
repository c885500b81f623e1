package logbook

import (
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"asleft/generator/catalog"
)

func TestParseInexactDates(t *testing.T) {
	for _, c := range []struct {
		read, want, first, last string
		exact                   bool
	}{
		{"2026-03-02", "2026-03-02", "2026-03-02", "2026-03-02", true},
		{"2026-03", "2026-03", "2026-03-01", "2026-03-31", false},
		{"2024-02", "2024-02", "2024-02-01", "2024-02-29", false},
		{"2026", "2026", "2026-01-01", "2026-12-31", false},
		{"about 2026-03-02", "about 2026-03-02", "2026-03-01", "2026-03-31", false},
		{"about 2026-03", "about 2026-03", "2026-01-01", "2026-12-31", false},
		{"about 2008", "about 2008", "2007-01-01", "2009-12-31", false},
		{"About  2008", "about 2008", "2007-01-01", "2009-12-31", false},
		{"~2008", "about 2008", "2007-01-01", "2009-12-31", false},
		{"~ 2008-04", "about 2008-04", "2008-01-01", "2008-12-31", false},
	} {
		d, err := ParseDate(c.read)
		if err != nil || string(d) != c.want || d.Exact() != c.exact {
			t.Errorf("%q: got %q, exact %v, %v", c.read, d, d.Exact(), err)
			continue
		}
		first, last := d.Span()
		if first.Format(time.DateOnly) != c.first || last.Format(time.DateOnly) != c.last {
			t.Errorf("%q may be %s to %s; want %s to %s", c.read, first.Format(time.DateOnly), last.Format(time.DateOnly), c.first, c.last)
		}
		if again, err := ParseDate(string(d)); err != nil || again != d {
			t.Errorf("%q reads back as %q, %v", d, again, err)
		}
	}
	for _, read := range []string{
		"2026-13", "2026-00", "2026-3", "26", "0000", "20260302", "spring 2008", "2008 spring", "about", "about ", "aboutt 2008", "2008 or so",
		"about about 2008", "~about 2008", "2008?", "2008s", "the 1980s", "c. 2008", "about 2026-02-30", "March 2026", "+2008", "-2008",
	} {
		if d, err := ParseDate(read); err == nil || d != "" {
			t.Errorf("%q: got %q, %v", read, d, err)
		}
	}
}

func TestNoDate(t *testing.T) {
	first, last := Date("").Span()
	if !first.IsZero() || !last.IsZero() || Date("").Exact() || !Date("").Time().IsZero() {
		t.Error("no date has a day")
	}
	if Date("").Before("2026") || Date("2026").Before("") || Date("").Compare("1900") != -1 || Date("").Compare("") != 0 {
		t.Error("no date is certainly before another, or does not come first")
	}
	if got := catalog.English.Day(Date("").Day()) + catalog.English.When(Date("").Day()); got != "" {
		t.Errorf("no date is said as %q", got)
	}
}

func TestDatesInOrder(t *testing.T) {
	want := []Date{"", "about 1998", "2008", "about 2008", "2008-04", "2026-01-01", "about 2026-01-01", "2026-01", "2026", "2026-02-28", "2026-03", "2026-03-02"}
	got := slices.Clone(want)
	slices.Reverse(got)
	slices.SortFunc(got, Date.Compare)
	if !slices.Equal(got, want) {
		t.Errorf("got %q", got)
	}
	if got := Later("2026-03", "2026-02-28"); got != "2026-03" {
		t.Errorf("the later one is %q", got)
	}
	if got := Later("about 2008", "2009"); got != "2009" {
		t.Errorf("the later one is %q", got)
	}
}

func TestBeforeIsCertain(t *testing.T) {
	for _, c := range []struct {
		a, b Date
		want bool
	}{
		{"2026-03-01", "2026-03-02", true},
		{"2026-03-02", "2026-03-02", false},
		{"2026-03", "2026-03-31", false},
		{"2026-02", "2026-03-01", true},
		{"2025", "2026-01", true},
		{"2025", "about 2026", false},
		{"2024", "about 2026", true},
		{"about 2026-03", "2026-12-31", false},
		{"about 2026-03", "2027-01-01", true},
	} {
		if got := c.a.Before(c.b); got != c.want {
			t.Errorf("%s before %s: %v", c.a, c.b, got)
		}
	}
}

func TestDatesAreSaidAsExactAsTheyAre(t *testing.T) {
	for d, want := range map[Date][3]string{
		"2026-03-02":       {"March 2, 2026", "on March 2, 2026", "On March 2, 2026"},
		"2026-03":          {"March 2026", "in March 2026", "In March 2026"},
		"2026":             {"2026", "in 2026", "In 2026"},
		"about 2026-03-02": {"about March 2, 2026", "about March 2, 2026", "About March 2, 2026"},
		"about 2026-03":    {"about March 2026", "about March 2026", "About March 2026"},
		"about 2008":       {"about 2008", "about 2008", "About 2008"},
	} {
		w := catalog.English
		if got := [3]string{w.Day(d.Day()), w.When(d.Day()), w.WhenOpening(d.Day())}; got != want {
			t.Errorf("%s is said as %q", d, got)
		}
	}
	if got := catalog.English.In("en-GB").When(Date("2026-03-02").Day()); got != "on 2 March 2026" {
		t.Errorf("elsewhere the day is said as %q", got)
	}
}

// Another way to write a date is answered with the one that is read.
func TestNearDate(t *testing.T) {
	for read, want := range map[string][2]string{
		"spring 2008":          {"2008", "about 2008-04"},
		"Summer, 2008":         {"2008", "about 2008-07"},
		"2008 fall":            {"2008", "about 2008-10"},
		"about winter of 2008": {"2008", "about 2008-01"},
		"spring":               {},
		"March 2, 2026":        {"2026-03-02"},
		"march 2 2026":         {"2026-03-02"},
		"2 Mar 2026":           {"2026-03-02"},
		"March 2026":           {"2026-03"},
		"about March 2026":     {"about 2026-03"},
		"2026/3/2":             {"2026-03-02"},
		"2026-3-2":             {"2026-03-02"},
		"2026-3":               {"2026-03"},
		"20260302":             {"2026-03-02"},
		"2026-03-02 18:30":     {"2026-03-02"},
		"2026-03-02T00:00:00Z": {"2026-03-02"},
		"3/2/2026":             {}, // March 2 or February 3
		"2026-02-30":           {},
		"yesterday":            {},
	} {
		near, season := nearDate(read)
		if near != want[0] || season != want[1] {
			t.Errorf("%q: got %q, %q", read, near, season)
		}
		for _, d := range []string{near, season} {
			if _, err := ParseDate(d); d != "" && err != nil {
				t.Errorf("%q is answered with %q, which is refused: %v", read, d, err)
			}
		}
	}
}

// The files hold dates as exactly as they are known, in the order of their
// starts, and only what is certain is a problem.
func TestInexactDatesInFiles(t *testing.T) {
	entry := func(name, date string) string {
		return "-- machines/m/" + name + ".md --\n---\ndate: " + date + "\ntitle: T\n---\n"
	}
	shop, problems := readAll(t, folder(t, shopFile+"-- machines/m/machine.md --\n---\nname: M\narrived: 2008\n---\n"+
		entry("c", "2026-03")+entry("b", "about 2009")+entry("a", "2026-03-02")+entry("d", "2007-12-31")+entry("e", "about 2007")+
		entry("f", "2026-11")+entry("g", "2027")+entry("h", "spring 2008")+entry("i", "March 2026")), catalog.English)
	var got []string
	for _, e := range machine(t, shop, "m").Entries {
		got = append(got, string(e.Date))
	}
	want := []string{"", "", "", "about 2007", "2007-12-31", "about 2009", "2026-03", "2026-03-02", "2026-11"}
	if !slices.Equal(got, want) {
		t.Errorf("the entries are in the order %q", got)
	}
	var says []string
	for _, p := range problems {
		says = append(says, p.String(), p.Mend)
	}
	said := strings.Join(says, "\n")
	for _, want := range []string{
		"machines/m/d.md:2: date: the entry is of 2007-12-31, before the machine arrived: 2008",
		"machines/m/g.md:2: date: 2027 has not come yet",
		"machines/m/h.md:2: date: spring 2008 is not a day, a month or a year", "write 2008, or about 2008-04",
		"machines/m/i.md:2: date: March 2026 is not how a date is written here", "write 2026-03",
	} {
		if !strings.Contains(said, want) {
			t.Errorf("nothing says %q:\n%s", want, said)
		}
	}
	if len(problems) != 4 {
		t.Errorf("%d problems:\n%s", len(problems), said)
	}
}

var anyDate = rapid.Custom(func(t *rapid.T) Date {
	day := time.Date(1990, 1, 1, 0, 0, 0, 0, time.UTC).AddDate(0, 0, rapid.IntRange(0, 3000).Draw(t, "day"))
	text := day.Format(rapid.SampledFrom(dateForms[:]).Draw(t, "form"))
	if rapid.Bool().Draw(t, "about") {
		text = about + text
	}
	return Date(text)
})

func TestDatesHoldTogether(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b, c := anyDate.Draw(t, "a"), anyDate.Draw(t, "b"), anyDate.Draw(t, "c")
		if a.Compare(b) != -b.Compare(a) || (a.Compare(b) == 0) != (a == b) {
			t.Fatalf("%q against %q: %d and %d", a, b, a.Compare(b), b.Compare(a))
		}
		if a.Compare(b) < 0 && b.Compare(c) < 0 && a.Compare(c) >= 0 {
			t.Fatalf("%q, %q and %q go round", a, b, c)
		}
		if a.Before(b) && a.Compare(b) >= 0 {
			t.Fatalf("%q was before %q and comes after it", a, b)
		}
		first, last := a.Span()
		if a.Time().Before(first) || a.Time().After(last) || a.Exact() != first.Equal(last) {
			t.Fatalf("%q starts outside %v to %v, or is wrongly exact", a, first, last)
		}
	})
}

func FuzzParseDate(f *testing.F) {
	for _, s := range []string{"2026-03-02", "2026-03", "2026", "about 2008", "~2008-04", "About 2026-03-02", "spring 2008", "March 2, 2026", "2026-02-30", "", "about ", "0000", "3/2/2026"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		d, err := ParseDate(s)
		if err != nil {
			if d != "" {
				t.Fatalf("%q gave %q beside its error", s, d)
			}
			for _, near := range slices.Collect(func(yield func(string) bool) { a, b := nearDate(s); _ = yield(a) && yield(b) }) {
				if _, err := ParseDate(near); near != "" && err != nil {
					t.Fatalf("%q is answered with %q, which is refused", s, near)
				}
			}
			return
		}
		if again, err := ParseDate(string(d)); err != nil || again != d {
			t.Fatalf("%q became %q and then %q, %v", s, d, again, err)
		}
		first, last := d.Span()
		if first.IsZero() || last.Before(first) || d.Time().Before(first) || d.Time().After(last) {
			t.Fatalf("%q may be %v to %v and starts at %v", s, first, last, d.Time())
		}
		if said := catalog.English.When(d.Day()); said == "" || strings.Contains(said, "[") {
			t.Fatalf("%q is said as %q", s, said)
		}
	})
}
