package tally

import (
	"fmt"
	"strings"
	"testing"

	"asleft/generator/catalog"
)

// When what was serviced is due next, worked out by hand. The machine is serviced in
// the first entry; the others go on from there.
func TestWhenServiceIsDueNext(t *testing.T) {
	const oil = "service: [{what: engine oil, every: 25 h}]\n"
	for _, c := range []struct {
		name    string
		entries []string // each begins with its date
		want    string
	}{
		{"by the meter of the same entry", []string{"2026-03-02|meter: 412.6 h\n" + oil}, "437.6 h||"},
		{"by the meter read last before", []string{"2026-03-02|meter: 400 h\n", "2026-03-03|" + oil}, "425 h||"},
		{"no meter before", []string{"2026-03-02|" + oil, "2026-03-03|meter: 400 h\n"}, "||"},
		{"the meter says nothing", []string{"2026-03-02|meter: broken\n" + oil}, "||"},
		{"the meter broke since", []string{"2026-03-02|meter: 400 h\n" + oil, "2026-03-03|meter: broken\n"}, "||"},
		{"the meter was changed: 25 h less the 10 h that the old one went on", []string{"2026-03-02|meter: 400 h\n" + oil, "2026-03-03|meter_replaced: {old: 410 h, new: 2 h}\n"}, "17 h||"},
		{"the meter was changed, and nobody knows where it stopped", []string{"2026-03-02|meter: 400 h\n" + oil, "2026-03-03|meter_replaced: {old: unknown, new: 0 h}\n"}, "||"},
		{"the meter reads just that", []string{"2026-03-02|meter: 400 h\n" + oil, "2026-03-03|meter: 425 h\n"}, "425 h||"},
		{"the meter is past it", []string{"2026-03-02|meter: 400 h\n" + oil, "2026-03-03|meter: 425.1 h\n"}, "425 h passed||"},
		{"done again", []string{"2026-03-02|meter: 400 h\n" + oil, "2026-03-03|meter: 430 h\nservice: [{what: Engine oil}]\n"}, "455 h||"},
		{"half a year", []string{"2026-03-02|service: [{what: grease, every: 6 months}]\n"}, "||2026-09-02"},
		{"half a year, and the log goes on", []string{"2026-03-02|service: [{what: grease, every: 6 months}]\n", "2026-09-03|by: JM\n"}, "||2026-09-02 passed"},
		{"half a year of a month", []string{"2026-03|service: [{what: grease, every: 6 months}]\n", "2026-10-01|by: JM\n"}, "||2026-09 passed"},
		{"half a year of a year", []string{"2026|service: [{what: grease, every: 6 months}]\n"}, "||"},
		{"by the odometer", []string{"2026-03-02|odometer: 4200 mi\nservice: [{what: chain, every: 500 mi or 1 year}]\n", "2026-03-03|odometer: 4701 mi\n"}, "|4700 mi passed|2027-03-02"},
		// 5000 km are 3106.856 mi, and no odometer shows that.
		{"in another unit", []string{"2026-03-02|odometer: 62137 mi\nservice: [{what: chain, every: 5000 km}]\n", "2026-03-03|odometer: 105000 km\n"}, "|65243.9 mi passed|"},
		{"in minutes", []string{"2026-03-02|meter: 12 h\nservice: [{what: oil, every: 90 min}]\n"}, "13.50 h||"},
		{"the odometer broke", []string{"2026-03-02|odometer: 4200 mi\nservice: [{what: chain, every: 500 mi}]\n", "2026-03-03|odometer: broken\n"}, "||"},
		{"the season", []string{"2026-03-02|meter: 400 h\nservice: [{what: grease, every: spring}]\n"}, "||"},
	} {
		files := map[string]string{"shop.md": "---\nshop: S\ncurrency: USD\n---\n", "machines/m/machine.md": "---\nname: M\narrived: 2026\n---\n"}
		for i, e := range c.entries {
			date, fields, _ := strings.Cut(e, "|")
			files[fmt.Sprintf("machines/m/%d.md", i)] = "---\ndate: " + date + "\ntitle: T\n" + fields + "---\n"
		}
		cares := count(t, folder(t, files)).Machines[0].Cares
		if len(cares) != 1 {
			t.Fatalf("%s: %d cares", c.name, len(cares))
		}
		passed := map[bool]string{true: " passed"}
		d := cares[0].Due
		got := d.Meter.String() + passed[d.MeterPassed] + "|" + d.Odometer.String() + passed[d.OdometerPassed] + "|" + string(d.Date) + passed[d.DatePassed]
		if got != c.want || d.Known() != (c.want != "||") || d.Passed() != strings.Contains(c.want, "passed") {
			t.Errorf("%s: got %s, want %s", c.name, got, c.want)
		}
	}
}

// What is called the same in one system is one care; the rest are cares of their
// own, in the order in which they were first.
func TestCaresAreTold(t *testing.T) {
	cares := count(t, folder(t, map[string]string{
		"shop.md":               "---\nshop: S\ncurrency: USD\n---\n",
		"machines/m/machine.md": "---\nname: M\narrived: 2026\n---\n",
		"machines/m/a.md":       "---\ndate: 2026-03-02\ntitle: T\nservice: [{what: engine oil, system: engine, every: 25 h}, {what: oil, system: drive}]\n---\n",
		"machines/m/b.md":       "---\ndate: 2026-04-02\ntitle: T\nservice: [{what: Oil, system: drive}, {what: Engine Oil, system: engine}, {what: oil, system: engine}]\n---\n",
	})).Machines[0].Cares
	var got []string
	for _, c := range cares {
		got = append(got, fmt.Sprintf("%s of the %s, %d times, every %q", c.Last().What, c.Last().System, len(c.Done), c.Every()))
	}
	want := `Engine Oil of the engine, 2 times, every "25 h"; Oil of the drive, 2 times, every ""; oil of the engine, 1 times, every ""`
	if strings.Join(got, "; ") != want {
		t.Errorf("got  %s\nwant %s", strings.Join(got, "; "), want)
	}
}

func TestOdometers(t *testing.T) {
	for _, c := range []struct {
		entries []string
		want    string
		wrong   int
	}{
		{nil, "false ", 0},
		{[]string{"odometer: 4200 mi"}, "true 4200 mi", 0},
		{[]string{"odometer: 4200 mi", "odometer: 4300 mi"}, "true 4300 mi", 0},
		{[]string{"odometer: 4200 mi", "odometer: 6800 km"}, "true 6800 km", 0}, // 4225 mi
		{[]string{"odometer: 4200 mi", "odometer: 4100 mi"}, "true 4200 mi", 1},
		{[]string{"odometer: 4200 mi", "odometer: broken"}, "true ", 0},
		{[]string{"odometer: broken", "odometer: 12 mi"}, "true 12 mi", 0},
		{[]string{"odometer: 42000 mi", "odometer: unknown", "odometer: 4200 mi"}, "true ", 1},
		{[]string{"odometer: 42000 mi", "odometer: unknown", "odometer: 42001 mi"}, "true 42001 mi", 0},
		{[]string{"odometer: 42000 mi", "odometer: broken", "odometer: unknown", "odometer: 41999 mi", "odometer: 42002 mi"}, "true 42002 mi", 1},
	} {
		files := map[string]string{"shop.md": "---\nshop: S\ncurrency: USD\n---\n", "machines/m/machine.md": "---\nname: M\narrived: 2026\n---\n"}
		for i, e := range c.entries {
			files[fmt.Sprintf("machines/m/%d.md", i)] = fmt.Sprintf("---\ndate: 2026-03-%02d\ntitle: T\n%s\n---\n", i+1, e)
		}
		counted, problems := Count(folder(t, files), catalog.English)
		o := counted.Machines[0].Odometer
		if got := fmt.Sprintf("%v %s", o.Said, o.Reading); got != c.want || len(problems) != c.wrong {
			t.Errorf("%q: got %s, %v; want %s", c.entries, got, said(problems), c.want)
		}
	}
}
