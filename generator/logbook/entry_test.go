package logbook

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestHours(t *testing.T) {
	for _, c := range []struct{ hours, want, says string }{
		{"2.5", "[2:30 JM]", ""},
		{`"2:30"`, "[2:30 JM]", ""},
		{"0", "[0:00 JM]", ""},
		{"half a day", "[0:00 JM]", "5:hours=minutes"},
		{"", "[]", ""},
		{`[{from: "18:30", to: "20:00"}]`, "[1:30 JM 18:30-20:00]", ""},
		{`[{from: 18:30, to: 0:15, less: 0:20, task: teardown, by: AB}]`, "[5:25 AB teardown 18:30-00:15 less 0:20]", ""},
		{`[{from: "23:59", to: "23:58"}]`, "[0:00 JM 23:59-23:58]", "5:hours[0].to=long-night"},
		{`[{from: "9:00", to: "8:00"}]`, "[0:00 JM 09:00-08:00]", "5:hours[0].to=long-night"},
		{`[{from: "9:00", to: "8:00", less: "10:00"}]`, "[0:00 JM 09:00-08:00 less 10:00]", "5:hours[0].to=long-night"},
		{`[{from: "16:00", to: "8:00"}]`, "[16:00 JM 16:00-08:00]", ""},
		{`[{from: "16:00", to: "8:01"}]`, "[0:00 JM 16:00-08:01]", "5:hours[0].to=long-night"},
		{`[{from: "15:59", to: "8:00"}]`, "[0:00 JM 15:59-08:00]", "5:hours[0].to=long-night"},
		{`[{from: "0:00", to: "23:59"}]`, "[23:59 JM 00:00-23:59]", ""},
		{`[{from: "12:00", to: "00:00"}]`, "[12:00 JM 12:00-00:00]", ""},
		{`[{from: "00:00", to: "00:01"}]`, "[0:01 JM 00:00-00:01]", ""},
		{`[{from: "9:00", to: "9:00"}]`, "[0:00 JM 09:00-09:00]", "5:hours[0].to=no-time"},
		{`[{from: "9:00", to: "9:00", less: "0:10"}]`, "[0:00 JM 09:00-09:00 less 0:10]", "5:hours[0].to=no-time"},
		{`[{from: "9:00", to: "10:00", less: "1:00"}]`, "[1:00 JM 09:00-10:00]", "5:hours[0].less=less-than-nothing"},
		{`[{lasted: 1.5, task: teardown}, {lasted: "2:30", less: "0:30", by: AB}]`, "[1:30 JM teardown] [2:00 AB]", ""},
		{`[{lasted: 1.5, from: "9:00", to: "10:30"}]`, "[0:00 JM]", "5:hours[0].lasted=lasted-too"},
		{`[{lasted: 1.5, from: "9:00"}]`, "[0:00 JM]", "5:hours[0].lasted=lasted-too"},
		{`[{lasted: long}]`, "[0:00 JM]", "5:hours[0].lasted=minutes"},
		{`[{lasted: "1:00", less: "1:00"}]`, "[1:00 JM]", "5:hours[0].less=less-than-nothing"},
		{`[{from: "9:00", to: "10:00", less: "0:59"}]`, "[0:01 JM 09:00-10:00 less 0:59]", ""},
		{`[{from: "9:00"}, {to: "9:00"}, {}]`, "[0:00 JM] [0:00 JM] [0:00 JM]", "5:hours[0].to=required 5:hours[1].from=required 5:hours[2].from=required 5:hours[2].to=required"},
		{`[{from: "9:00", to: "24:00"}]`, "[0:00 JM]", "5:hours[0].to=clock"},
	} {
		e, says := entry(t, "by: JM\nhours: "+c.hours, "")
		var all []string
		for _, s := range e.Sessions {
			all = append(all, session(s))
		}
		got := strings.Join(all, " ")
		if got == "" {
			got = "[]"
		}
		if said := strings.Join(says, " "); got != c.want || said != c.says {
			t.Errorf("%s: got %s, %s; want %s, %s", c.hours, got, said, c.want, c.says)
		}
	}
}

// A session is what lies between its two times on one day, or past one midnight
// where that is 16 hours at most; else it is a problem and counts for nothing.
func TestPropertyANightIsNoLongerThan16Hours(tt *testing.T) {
	rapid.Check(tt, func(t *rapid.T) {
		from, to := rapid.IntRange(0, day-1).Draw(t, "from"), rapid.IntRange(0, day-1).Draw(t, "to")
		e, says := entry(tt, fmt.Sprintf("hours: [{from: %q, to: %q}]", Clock(from), Clock(to)), "")
		want, problem := to-from, ""
		switch {
		case from == to:
			problem = "4:hours[0].to=no-time"
		case to < from && to+24*60-from > 16*60:
			want, problem = 0, "4:hours[0].to=long-night"
		case to < from:
			want = to + 24*60 - from
		}
		if got := strings.Join(says, " "); int(e.Sessions[0].Work) != want || got != problem {
			t.Fatalf("%d minutes, %s; want %d, %s", e.Sessions[0].Work, got, want, problem)
		}
	})
}

func session(s Session) string {
	text := fmt.Sprintf("%s %s", s.Work, s.By)
	if s.Task != "" {
		text += " " + s.Task
	}
	if s.Timed {
		text += fmt.Sprintf(" %s-%s", s.From, s.To)
	}
	if s.Timed && s.Less > 0 {
		text += " less " + s.Less.String()
	}
	return "[" + text + "]"
}

func TestMeters(t *testing.T) {
	for _, c := range []struct{ fields, state, reading, old, new, says string }{
		{"meter: 412.6 h", MeterRead, "412.6 h", "", "", ""},
		{"meter: 0 h", MeterRead, "0 h", "", "", ""},
		{"meter: 90 min", MeterRead, "90 min", "", "", ""},
		{"meter: unknown", MeterUnknown, "", "", "", ""},
		{"meter: broken", MeterBroken, "", "", "", ""},
		{"meter: none", MeterNone, "", "", "", ""},
		{"meter: 412.6", "", "", "", "", "4:meter=quantity"},
		{"meter: 412,6 h", "", "", "", "", "4:meter=quantity"},
		{"meter: -1 h", "", "", "", "", "4:meter=negative"},
		{"meter: 12 psi", "", "", "", "", "4:meter=quantity"},
		{"meter: dead", "", "", "", "", "4:meter=quantity"},
		{"meter_replaced: {old: 412.6 h, new: 0 h}", "", "", "412.6 h", "0 h", ""},
		{"meter_replaced: {old: broken, new: 3 h}", "", "", "", "3 h", ""},
		{"meter_replaced: {old: unknown, new: 3 h}", "", "", "", "3 h", ""},
		{"meter_replaced: {old: 412.6 h}", "", "", "412.6 h", "", "4:meter_replaced.new=required"},
		{"meter_replaced: {new: 0 h}", "", "", "", "0 h", "4:meter_replaced.old=required"},
		{"meter_replaced: {old: 412.6 h, new: broken}", "", "", "412.6 h", "", "4:meter_replaced.new=quantity"},
	} {
		e, says := entry(t, c.fields, "")
		var state, reading, old, newer string
		if e.Meter != nil {
			state, reading = e.Meter.State, e.Meter.Reading.String()
		}
		if e.MeterReplaced != nil {
			old, newer = e.MeterReplaced.Old.String(), e.MeterReplaced.New.String()
		}
		if got := strings.Join(says, " "); state != c.state || reading != c.reading || old != c.old || newer != c.new || got != c.says {
			t.Errorf("%s: got %q %q %q %q %s", c.fields, state, reading, old, newer, got)
		}
	}
}

func TestWholeEntry(t *testing.T) {
	fields := `time: "18:30"
by: JM
ran: "0:45"
checks:
  - {item: blade stops, result: not checked, note: too dark, system: guards, safety: yes}
diagnosis:
  - {tried: new plug, saw: spark, so: not the plug, system: ignition}
measured:
  - {what: compression, where: cylinder 1, value: 62 psi, gauge: 1 psi, state: cold, system: engine}
parts:
  - part: head gasket
    number: 0123
    qty: 2
    each: 14.25
    source: new
    system: engine
    tax: 6 %
    shipping: 4.50
    core: {deposit: 15.00, returned: 2026-02-03}
costs:
  - {for: fetching it, amount: 22.00}
defects:
  - {key: seal, defect: seal leaks, effect: runs low, system: drive, safety: yes, photo: seal.jpg}
repaired:
  - {key: seal, how: new seal, proof: ran an hour, photo: seal.jpg}
worked_around:
  - {key: seal, how: more oil, left: still leaks}
changed:
  - {what: bigger jet, why: altitude of 1450 ft, system: fuel, affects: [mixture, "speed"], caution: hot}
photos:
  - {file: seal.jpg, alt: a seal, caption: Wet, cover: yes, private: no}
private: |
  Sold by N.
  For cash.`
	e, says := entry(t, fields, "\nThe story.\n", "-- machines/m/photos/seal.jpg --\nx\n")
	same(t, says)
	p, d, c := e.Parts[0], e.Defects[0], e.Changed[0]
	for _, f := range []struct{ name, got, want string }{
		{"entry", fmt.Sprint(e.Machine, e.Date, e.Title, e.Clock, e.HasClock, e.By, e.Ran, e.Private), fmt.Sprint("m", Date("2026-02-01"), "T", Clock(1110), true, "JM", Minutes(45), "Sold by N.\nFor cash.")},
		{"check", fmt.Sprintf("%s|%s|%s|%s|%v|%v", e.Checks[0].Item, e.Checks[0].Result, e.Checks[0].Note, e.Checks[0].System, e.Checks[0].Safety, e.Checks[0].AsFound), "blade stops|not checked|too dark|guards|yes|false"},
		{"step", strings.Join([]string{e.Diagnosis[0].Tried, e.Diagnosis[0].Saw, e.Diagnosis[0].So, e.Diagnosis[0].System}, "|"), "new plug|spark|not the plug|ignition"},
		{"reading", strings.Join([]string{e.Measured[0].What, e.Measured[0].Where, e.Measured[0].Value.String(), e.Measured[0].Gauge.String(), e.Measured[0].State, e.Measured[0].System}, "|"), "compression|cylinder 1|62 psi|1 psi|cold|engine"},
		{"part", fmt.Sprintf("%s|%s|%s|%s|%s|%s|%s|%s|%s|%s", p.Part, p.Number, p.Qty, p.Each, p.Source, p.System, p.Tax, p.Shipping, p.Core.Deposit, p.Core.Returned), "head gasket|0123|2|14.25|new|engine|6|4.50|15.00|2026-02-03"},
		{"cost", e.Costs[0].For + "|" + e.Costs[0].Amount.String(), "fetching it|22.00"},
		{"defect", fmt.Sprintf("%s|%s|%s|%s|%v|%s", d.Key, d.Defect, d.Effect, d.System, d.Safety, d.Photo), "seal|seal leaks|runs low|drive|yes|seal.jpg"},
		{"repair", strings.Join([]string{e.Repaired[0].Key, e.Repaired[0].How, e.Repaired[0].Proof, e.Repaired[0].Photo}, "|"), "seal|new seal|ran an hour|seal.jpg"},
		{"work-around", strings.Join([]string{e.WorkedAround[0].Key, e.WorkedAround[0].How, e.WorkedAround[0].Left}, "|"), "seal|more oil|still leaks"},
		{"change", fmt.Sprintf("%s|%s|%s|%q|%s", c.What, c.Why, c.System, c.Affects, c.Caution), `bigger jet|altitude of 1450 ft|fuel|["mixture" "speed"]|hot`},
		{"photo", fmt.Sprintf("%+v", e.Photos[0]), "machines/m/e.md:34: photos[0]"},
		{"places", fmt.Sprint(p.Line, p.EachAt, p.Core.Line, e.Costs[0].Line), "14 machines/m/e.md:17: parts[0].each 22 24"},
		{"body", fmt.Sprint(e.Body.Line, string(e.Body.Text)), "39\nThe story.\n"},
	} {
		if f.got != f.want {
			t.Errorf("%s: got %s, want %s", f.name, f.got, f.want)
		}
	}
}

func TestBenchTestsKeepWhatWasWritten(t *testing.T) {
	e, says := entry(t, `tests:
  - test: leak-down
    where: cylinder 1
    input: 100 psi
    held: 1.10 psi
    empty:
    readings: [1 V, [2 V], {at: 3 V, "on": yes}]
    pulleys: {driver: 3 in, driven: {outer: 5 in}}`, "")
	same(t, says)
	test := e.Tests[0]
	var lines []string
	var walk func(in Input, deep int)
	walk = func(in Input, deep int) {
		lines = append(lines, fmt.Sprintf("%d %*s%s=%s list:%v at %d %s", deep, deep, "", in.Name, in.Text, in.List, in.Line, in.Field))
		for _, i := range in.Items {
			walk(i, deep+1)
		}
	}
	for _, in := range test.Inputs {
		walk(in, 0)
	}
	want := `0 input=100 psi list:false at 7 tests[0].input
0 held=1.10 psi list:false at 8 tests[0].held
0 readings= list:true at 10 tests[0].readings
1  =1 V list:false at 10 tests[0].readings[0]
1  = list:true at 10 tests[0].readings[1]
2   =2 V list:false at 10 tests[0].readings[1][0]
1  = list:false at 10 tests[0].readings[2]
2   at=3 V list:false at 10 tests[0].readings[2].at
2   on=yes list:false at 10 tests[0].readings[2].on
0 pulleys= list:false at 11 tests[0].pulleys
1  driver=3 in list:false at 11 tests[0].pulleys.driver
1  driven= list:false at 11 tests[0].pulleys.driven
2   outer=5 in list:false at 11 tests[0].pulleys.driven.outer`
	if got := strings.Join(lines, "\n"); got != want || test.Test != "leak-down" || test.Where != "cylinder 1" {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
	_, says = entry(t, "tests: [{test: t, a: 1, a: 2, b: {c: 1, c: 2, [d]: 3}}]", "")
	same(t, says, "4:tests[0].a=twice", "4:tests[0].b=not-a-name", "4:tests[0].b.c=twice")
}

// Two mistakes in one part are two problems.
func TestPartsAndDonors(t *testing.T) {
	donor := strings.ReplaceAll(machineFile, "/m/", "/heron/")
	broken := "-- machines/wren/notes.txt --\nno machine.md here\n"
	for _, c := range []struct{ part, says string }{
		{"source: salvaged, from: heron", ""},
		{"source: salvaged, from: heron, core: {deposit: 5, returned: 2026-01-31}", "4:parts[0].core.returned=core-before"},
		{"source: salvaged, from: elsewhere, core: {deposit: 5, returned: 2026-01-31}", "4:parts[0].core.returned=core-before 4:parts[0].from=no-such-donor"},
		{"source: salvaged, from: Heron", "4:parts[0].from=no-such-donor-near"},
		{"source: salvaged, from: hreon", "4:parts[0].from=no-such-donor-near"},
		{"source: salvaged, from: m", "4:parts[0].from=from-itself"},
		{"source: salvaged", ""}, // from a machine that is none of this shop's
		{"source: salvaged, from: ''", ""},
		{"source: new, qty: 1/3 qt", "4:parts[0].qty=number-size"},
		{"source: new, qty: -1 qt", "4:parts[0].qty=negative"},
		{"source: new, qty: 0 qt", "4:parts[0].qty=no-quantity"},
		{"source: new, qty: 0.0000001 qt", "4:parts[0].qty=number-size"},
		{"source: new, qty: 2000000 qt", "4:parts[0].qty=number-size"},
		{"source: new, tax: 6 EUR", "4:parts[0].tax=tax"},
		{"source: new, tax: 3.191 USD", "4:parts[0].tax=money-decimals"},
		{"source: new, supplied_by: Bob Smith", "4:parts[0].supplied_by=not-one-of"},
		{"source: salvaged, from: wren", ""}, // the folder is there; that it has no machine.md is said elsewhere
		{"source: used, from: heron", "4:parts[0].from=from-not-salvaged"},
		{"source: on hand, qty: 0", "4:parts[0].qty=no-quantity"},
		{"source: borrowed", "4:parts[0].source=not-one-of"},
		{"source: 'new', core: {}", "4:parts[0].core.deposit=required"},
	} {
		archive := shopFile + machineFile + entryFile("e", "parts: [{part: p, "+c.part+"}]", "") + donor + broken
		_, problems := readAll(t, folder(t, archive), keysOnly)
		var says []string
		for _, s := range said(problems, "machines/m/e.md") {
			if s != "machines/wren:0:=no-machine-md" {
				says = append(says, s)
			}
		}
		if got := strings.Join(says, " "); got != c.says {
			t.Errorf("%s: got %s, want %s", c.part, got, c.says)
		}
	}
}
