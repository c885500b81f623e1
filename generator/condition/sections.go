package condition

import (
	"github.com/govalues/decimal"

	"asleft/generator/catalog"
	"asleft/generator/logbook"
	"asleft/generator/quantity"
)

// inShort is three to five sentences of numbers.
func (j *judge) inShort() {
	r := j.report
	about := "short.about-kind"
	if j.machine.Kind == "" {
		about = "short.about"
	}
	j.state(InShort, Statement{Text: j.words.Say(about, "name", clause(j.machine.Name), "kind", clause(j.machine.Kind), "date", j.date(j.machine.Arrived))})
	states := map[string]int{}
	var defects []Evidence
	for _, d := range r.Defects {
		states[d.State]++
		defects = append(defects, d.Evidence...)
	}
	defects = distinct(defects)
	if len(r.Defects) == 0 {
		j.state(InShort, Statement{Text: j.words.Say("short.no-defects")})
	} else {
		j.state(InShort, Statement{Text: j.words.Say("short.defects", "n", len(r.Defects), "open", states[StillThere], "around", states[Around]), Evidence: defects})
		j.state(InShort, Statement{Text: j.words.Say("short.repairs", "proven", states[Proven], "unproven", states[NotProven]), Evidence: defects})
	}
	j.shortChecks()
	if r.EngineWork != "" {
		j.state(InShort, Statement{Text: j.words.Say("short.run", "run", j.words.Length(int(r.RunSinceWork))), Evidence: j.runEvidence()})
	}
}

func (j *judge) shortChecks() {
	if len(j.report.Checks) == 0 {
		j.state(InShort, Statement{Text: j.words.Say("short.no-sheet")})
		return
	}
	results := map[string]int{}
	var evidence []Evidence
	for _, c := range j.report.Checks {
		results[c.Result]++
		evidence = append(evidence, c.Evidence...)
	}
	unchecked, _ := j.report.Unanswered()
	j.state(InShort, Statement{
		Text:     j.words.Say("short.checks", "n", len(j.report.Checks), "works", results[Works], "fails", results[Fails], "unchecked", unchecked),
		Evidence: distinct(evidence),
	})
}

func distinct(all []Evidence) []Evidence {
	seen := map[Evidence]bool{}
	var once []Evidence
	for _, e := range all {
		if !seen[e] {
			seen[e] = true
			once = append(once, e)
		}
	}
	return once
}

func (j *judge) whatWorks() {
	for _, c := range j.report.Checks {
		if c.Result != Works {
			continue
		}
		text := j.saying().say("check.works", "item", clause(c.Item)).on(c.Date, "check.on").sayIf(c.Note, "check.note", "note").text()
		j.state(WhatWorks, Statement{Text: text, Evidence: c.Evidence})
	}
	if len(j.section(WhatWorks).Statements) == 0 {
		j.state(WhatWorks, Statement{Text: j.words.Say("works.none")})
	}
}

func (j *judge) whatFails() {
	for _, safety := range []bool{true, false} {
		for _, d := range j.report.Defects {
			if d.Open() && d.Safety == safety {
				j.state(WhatFails, Statement{Text: j.defectText(d), Safety: d.Safety, Evidence: d.Evidence, Defect: d.Key})
			}
		}
		for _, c := range j.report.Checks {
			if c.Result == Fails && c.Safety == safety {
				text := j.saying().say("check.fails", "item", clause(c.Item)).on(c.Date, "check.on").sayIf(c.Note, "check.note", "note").on(c.StaleSince, "check.worked-since").text()
				j.state(WhatFails, Statement{Text: text, Safety: c.Safety, Evidence: c.Evidence})
			}
		}
	}
	if len(j.section(WhatFails).Statements) == 0 {
		j.state(WhatFails, Statement{Text: j.words.Say("fails.none")})
	}
}

// found begins a defect's life: what, since when, and whether it came back.
func (j *judge) found(d *Defect) *saying {
	s := j.saying().say("defect.what", "defect", opening(d.Defect)).on(d.Found, "defect.found")
	if d.Back != "" {
		s.say("defect.back", "date", j.date(d.Back), "before", j.date(d.Before))
	}
	return s
}

// defectText tells an open defect's life.
func (j *judge) defectText(d *Defect) string {
	s := j.found(d).sayIf(d.Effect, "defect.effect", "effect")
	if d.State == StillThere {
		return s.say("defect.still-there").text()
	}
	return s.say("defect.around", "how", clause(d.How), "date", j.date(d.Closed)).sayIf(d.Left, "defect.left", "left").text()
}

func (j *judge) whatRepaired() {
	for _, d := range j.report.Defects {
		if d.Open() {
			continue
		}
		j.state(WhatRepaired, Statement{Text: j.repairText(d), Safety: d.Safety, Evidence: d.Evidence, Defect: d.Key})
	}
	if len(j.section(WhatRepaired).Statements) == 0 {
		j.state(WhatRepaired, Statement{Text: j.words.Say("repaired.none")})
	}
}

// repairText tells a repaired defect's life, and what proves the repair.
func (j *judge) repairText(d *Defect) string {
	s := j.found(d).say("repair.done", "how", clause(d.How), "date", j.date(d.Closed))
	switch {
	case d.State == NotProven:
		s.say("repair.not-proven")
	case d.Proved == d.Closed:
		s.say("repair.proof", "proof", clause(d.Proof))
	default:
		s.say("repair.proof-later", "proof", clause(d.Proof), "date", j.date(d.Proved))
	}
	return s.on(d.StaleSince, "repair.proof-stale").text()
}

func (j *judge) notAsBuilt() {
	for _, c := range j.report.Changes {
		j.state(NotAsBuilt, Statement{Text: j.changeText(c), Safety: c.System == logbook.Guards, Evidence: []Evidence{c.Evidence}})
	}
	for _, m := range j.report.Missing {
		s := j.saying().say("missing.gone", "part", clause(m.Part))
		if m.Fitted == "" {
			s.say("missing.not-fitted")
		} else {
			s.on(m.Fitted, "missing.fitted")
		}
		j.state(NotAsBuilt, Statement{Text: s.text(), Safety: m.Guard && m.Fitted == "", Evidence: m.Evidence})
	}
	if len(j.section(NotAsBuilt).Statements) == 0 {
		j.state(NotAsBuilt, Statement{Text: j.words.Say("changed.none")})
	}
}

func (j *judge) changeText(c *Change) string {
	s := j.saying().say("change.what", "what", opening(c.What)).on(c.Date, "change.on").sayIf(c.Why, "change.why", "why")
	if len(c.Affects) > 0 {
		s.say("change.affects", "affects", j.words.List(c.Affects))
	}
	return s.sayIf(c.Caution, "change.caution", "caution").text()
}

func (j *judge) measured() {
	for _, r := range j.report.Readings {
		j.state(Measured, Statement{Text: j.readingText(r), Evidence: readingEvidence(r)})
	}
	for _, t := range j.report.Tests {
		s := j.saying().say("test.done", "test", t.Test, "where", t.Where, "date", j.date(t.Entry.Date))
		if t.Where == "" {
			s = j.saying().say("test.done-anywhere", "test", t.Test, "date", j.date(t.Entry.Date))
		}
		s.sentences = append(s.sentences, t.Says...)
		if later, ok := j.testStale(t.Entry, t.System); ok {
			s.on(later, "reading.worked-since")
		}
		j.state(Measured, Statement{Text: s.text(), Evidence: []Evidence{j.evidence(t.Entry, "")}})
	}
	if len(j.section(Measured).Statements) == 0 {
		j.state(Measured, Statement{Text: j.words.Say("measured.none")})
	}
}

// testStale is the date of later work in a bench test's system.
func (j *judge) testStale(e *logbook.Entry, system string) (logbook.Date, bool) {
	for i, x := range j.machine.Entries {
		if x == e {
			if later, ok := j.history.since(i, system); ok {
				return j.machine.Entries[later].Date, true
			}
		}
	}
	return "", false
}

func readingEvidence(r *Reading) []Evidence {
	found, left := r.AsFound().Evidence, r.AsLeft().Evidence
	return distinct([]Evidence{found, left})
}

func (j *judge) readingText(r *Reading) string {
	found, left := r.AsFound(), r.AsLeft()
	s := j.saying()
	if len(r.Values) == 1 {
		s.say("reading.once", "name", j.readingName(r), "value", found.Value, "date", j.date(found.Date))
	} else {
		s.say("reading.both", "name", j.readingName(r), "found", found.Value, "found-date", j.date(found.Date), "left", left.Value, "left-date", j.date(left.Date))
	}
	switch {
	case r.Limit.Limit.IsZero():
	case r.Limit.Source == "":
		s.say("reading.limit", "limit", r.Limit.Limit)
	default:
		s.say("reading.limit-source", "limit", r.Limit.Limit, "source", clause(r.Limit.Source))
	}
	s.say(verdictKeys[left.Verdict])
	if !left.HasGauge && left.Verdict != quantity.NotLimited {
		s.say("reading.no-gauge")
	}
	return s.on(r.StaleSince, "reading.worked-since").text()
}

var verdictKeys = map[quantity.Verdict]string{
	quantity.Inside:     "verdict.inside",
	quantity.Outside:    "verdict.outside",
	quantity.TooClose:   "verdict.too-close",
	quantity.NotLimited: "verdict.no-limit",
}

// readingName is what was measured, where, and in which state.
func (j *judge) readingName(r *Reading) string {
	return opening(ReadingName(j.words, clause(r.What), clause(r.Where), clause(r.State)))
}

// ReadingName is what was measured, where, and in which state, as one name;
// where and state may be empty.
func ReadingName(words *catalog.Catalog, what, where, state string) string {
	key := "reading.name"
	switch {
	case where != "" && state != "":
		key = "reading.name-where-state"
	case where != "":
		key = "reading.name-where"
	case state != "":
		key = "reading.name-state"
	}
	return words.Say(key, "what", what, "where", where, "state", state)
}

func (j *judge) nobodyChecked() {
	if j.machine.Sheet == nil {
		j.state(NobodyChecked, Statement{Text: j.words.Say("unchecked.no-sheet")})
	}
	for _, safety := range []bool{true, false} {
		for _, c := range j.report.Checks {
			if c.Safety != safety {
				continue
			}
			if text := j.uncheckedText(c); text != "" {
				j.state(NobodyChecked, Statement{Text: text, Safety: c.Safety, Evidence: c.Evidence})
			}
		}
	}
	if len(j.section(NobodyChecked).Statements) == 0 {
		j.state(NobodyChecked, Statement{Text: j.words.Say("unchecked.none")})
	}
}

func (j *judge) uncheckedText(c *Check) string {
	s := j.saying()
	switch {
	case c.Result == Stale:
		key := "unchecked.stale"
		if c.Safety {
			key = "unchecked.stale-safety"
		}
		return s.say(key, "item", clause(c.Item), "date", j.date(c.Date), "later", j.date(c.StaleSince)).text()
	case c.Result != NotChecked:
		return ""
	case c.Safety:
		s.say("unchecked.never-safety", "item", clause(c.Item))
	default:
		s.say("unchecked.never", "item", clause(c.Item))
	}
	return s.sayIf(c.Note, "check.note", "note").text()
}

func (j *judge) hours() {
	m := j.report.Count.Meter
	key := map[string]string{"believed right": "meter.right", "replaced": "meter.replaced"}[m.State]
	if key == "" || !m.HasTotal {
		key = "meter.not-known"
	}
	j.state(Hours, Statement{Text: j.words.Say(key, "total", m.Total), Evidence: j.meterEvidence()})
	if j.shop.Show.Hours {
		j.state(Hours, Statement{Text: j.words.Say("hours.work", "work", j.words.Length(int(j.report.Count.Work.Total))), Evidence: j.entries(func(e *logbook.Entry) bool { return len(e.Sessions) > 0 })})
	} else {
		j.state(Hours, Statement{Text: j.words.Say("hours.not-shown")})
	}
	r := j.report
	switch {
	case r.EngineWork != "" && r.RunSinceWork > 0:
		j.state(Hours, Statement{Text: j.words.Say("hours.run", "run", j.words.Length(int(r.RunSinceWork)), "date", j.date(r.EngineWork)), Evidence: j.runEvidence()})
	case r.EngineWork != "":
		j.state(Hours, Statement{Text: j.words.Say("hours.run-none", "date", j.date(r.EngineWork)), Evidence: j.runEvidence()})
	case r.Ran > 0:
		j.state(Hours, Statement{Text: j.words.Say("hours.ran", "run", j.words.Length(int(r.Ran))), Evidence: j.runEvidence()})
	}
}

func (j *judge) meterEvidence() []Evidence {
	return j.entries(func(e *logbook.Entry) bool { return e.Meter != nil || e.MeterReplaced != nil })
}

func (j *judge) runEvidence() []Evidence {
	last, worked := j.history.last("engine")
	n := -1
	return j.entries(func(e *logbook.Entry) bool {
		n++
		return e.Ran > 0 && (!worked || n > last) || worked && n == last
	})
}

// entries are those that are so, as evidence.
func (j *judge) entries(so func(*logbook.Entry) bool) []Evidence {
	var all []Evidence
	for _, e := range j.machine.Entries {
		if so(e) {
			all = append(all, j.evidence(e, ""))
		}
	}
	return all
}

func (j *judge) partsPutIn() {
	for _, p := range j.report.Parts {
		key := partKeys[p.Source]
		if p.Source == logbook.Salvaged && p.From == "" || key == "" {
			key = "part.used"
		}
		what := clause(p.Part)
		if p.Number != "" {
			what = j.words.Say("part.numbered", "part", what, "number", clause(p.Number))
		}
		if p.Qty.Cmp(decimal.One) != 0 {
			what = j.words.Say("part.several", "qty", p.Qty.Trim(0), "part", what)
		}
		j.state(PartsPutIn, Statement{Text: j.words.Say(key, "part", opening(what), "from", clause(j.shop.NameOf(p.From)), "date", j.date(p.Date)), Evidence: []Evidence{p.Evidence}})
	}
	if len(j.report.Parts) == 0 {
		j.state(PartsPutIn, Statement{Text: j.words.Say("parts.none")})
	}
}

var partKeys = map[string]string{
	logbook.New: "part.new", logbook.Used: "part.used", logbook.Rebuilt: "part.rebuilt",
	logbook.Salvaged: "part.salvaged", logbook.Made: "part.made", logbook.OnHand: "part.on-hand",
}

func (j *judge) terms() {
	if j.shop.Terms == logbook.AsIs {
		j.state(Terms, Statement{Text: j.words.Say("terms.as-is")})
	} else {
		j.state(Terms, Statement{Text: j.words.Say("terms.own", "terms", opening(j.shop.Terms))})
	}
	j.note(Terms, "terms.law")
	j.note(Terms, "terms.log")
}
