package condition

import (
	"cmp"
	"slices"

	"asleft/generator/benchtest"
	"asleft/generator/logbook"
	"asleft/generator/quantity"
)

// A measurement is the subject of one measured thing while it is followed.
type measurement struct {
	*Subject
	at    []moment // of each reading
	tests []string // the names of the tests that it is a result of
}

// measurements gathers the readings and the results of tests: of the same thing
// at the same place in the same state they are one subject.
func (j *judge) measurements(tests []*benchtest.Outcome) {
	published := testedLimits(tests)
	for i, e := range j.machine.Entries {
		for _, r := range e.Measured {
			if !r.Value.IsZero() {
				j.reading(i, e, r, published[thingOf(r.What, r.Where, r.State)])
			}
		}
		for _, t := range tests {
			if t.Entry == e {
				j.results(i, t)
			}
		}
	}
	for _, m := range j.allMeasurements {
		m.sort()
		m.tellLimits(j.itself)
		j.saidElsewhere(m)
		m.systems = j.reach(m.Systems)
		governed := sameThing(m.Measured.What, governedSpeed) && j.machine.Sheet != nil && (j.machine.Sheet.Blade || j.machine.Sheet.Generator)
		if governed || j.inSafetySystem(m.Systems) {
			m.Safety = logbook.SafetyYes
		}
	}
}

// sort puts the readings of one entry in the order of the evening, whatever the
// order of its lists.
func (m *measurement) sort() {
	order := make([]int, len(m.at))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Or(cmp.Compare(m.at[a].entry, m.at[b].entry), cmp.Compare(m.at[a].phase, m.at[b].phase))
	})
	at, values := slices.Clone(m.at), slices.Clone(m.Measured.Values)
	for to, from := range order {
		m.at[to], m.Measured.Values[to] = at[from], values[from]
	}
}

// governedSpeed is a safety matter on a machine with a blade or a generator.
const governedSpeed = "governed speed"

func (j *judge) reading(i int, e *logbook.Entry, r logbook.Reading, tested []benchtest.PublishedLimit) {
	m := j.measurementOf(r.What, r.Where, r.State)
	judged := benchtest.JudgePlain(j.shop, j.machine, r, tested, j.words)
	m.says(r.System, judged.Own...)
	for _, l := range judged.Limits {
		m.limits(l)
	}
	m.read(j, i, Value{Value: plain(r.Value), Shown: r.Value.String(), Gauge: r.Gauge, HasGauge: r.HasGauge, Accuracy: accuracy(r), Verdict: judged.Verdict, Date: e.Date, AsFound: r.AsFound})
}

// testedLimits are the published safety limits that the tests of each thing were held
// against, wherever in the log they stand.
func testedLimits(tests []*benchtest.Outcome) map[thing][]benchtest.PublishedLimit {
	all := map[thing][]benchtest.PublishedLimit{}
	for _, t := range tests {
		for _, r := range t.Results {
			if t.Safety {
				at := thingOf(r.What, r.Where, t.State)
				all[at] = append(all[at], r.Published...)
			}
		}
	}
	return all
}

// results takes in what a bench test found that has a limit or is what the test
// is for. Sums on the way to it are the test's own affair.
func (j *judge) results(i int, t *benchtest.Outcome) {
	for _, r := range t.Results {
		if r.Limit == "" && !r.Main {
			continue
		}
		m := j.measurementOf(r.What, r.Where, t.State)
		m.says(t.System, r.Own...)
		if t.Safety {
			m.Safety = logbook.SafetyYes
		}
		if !slices.Contains(m.tests, t.Test) {
			m.tests = append(m.tests, t.Test)
		}
		for _, l := range r.Limits {
			m.limits(l)
		}
		m.read(j, i, Value{Value: r.Quantity, Shown: r.Value, Gauge: r.Gauge, HasGauge: !r.Gauge.IsZero(), Accuracy: r.Accuracy, Verdict: r.Verdict, Date: t.Entry.Date, AsFound: t.AsFound || r.AsFound, Test: t.Test})
	}
}

// A thing is what is measured, where and in which state, however it is written.
type thing struct{ what, where, state string }

func thingOf(what, where, state string) thing {
	return thing{logbook.Folded(benchtest.MeasuredAs(what)), logbook.Folded(where), logbook.Folded(state)}
}

func (j *judge) measurementOf(what, where, state string) *measurement {
	key := thingOf(what, where, state)
	m := j.measured[key]
	if m == nil {
		m = &measurement{Subject: j.subject(KindMeasurement, ReadingName(j.words, clause(what), clause(where), clause(state)))}
		m.Measured = &Measurement{What: what, Where: where, State: state}
		m.Safety = logbook.SafetyNo
		if system, safety, known := benchtest.Measurand(what); known {
			m.Systems = []string{system}
			if safety {
				m.Safety = logbook.SafetyYes
			}
		}
		j.measured[key] = m
		j.allMeasurements = append(j.allMeasurements, m)
	}
	return m
}

// says takes in the systems and the safety that a reading and its limits name, of which
// the gravest counts.
func (m *measurement) says(system string, limits ...logbook.Limit) {
	systems := []string{system}
	for _, l := range limits {
		systems = append(systems, l.System)
		if l.Safety == logbook.SafetyYes {
			m.Safety = logbook.SafetyYes
		}
	}
	for _, s := range systems {
		if s != "" && !slices.Contains(m.Systems, s) {
			m.Systems = append(m.Systems, s)
		}
	}
}

// saidElsewhere takes in what is said of a thing at another place, once for all: its
// system, where nothing says it here, and that it is a matter of safety, where no limit is
// for here. Else a limit that names a place would let the others go by.
func (j *judge) saidElsewhere(m *measurement) {
	unsaid := len(m.Systems) == 0
	for _, l := range j.machine.Limits {
		if !sameThing(l.What, m.Measured.What) {
			continue
		}
		if len(m.Measured.Limits) == 0 && l.Safety == logbook.SafetyYes {
			m.Safety = logbook.SafetyYes
		}
		if unsaid {
			m.says(l.System)
		}
	}
	for _, o := range j.allMeasurements {
		if len(m.Systems) == 0 && sameThing(o.Measured.What, m.Measured.What) {
			m.Systems = slices.Clone(o.Systems)
		}
	}
}

func (m *measurement) limits(l benchtest.Sourced) {
	if !slices.Contains(m.Measured.Limits, l) {
		m.Measured.Limits = append(m.Measured.Limits, l)
	}
}

// tellLimits puts the limits into the history, which stand in no entry.
func (m *measurement) tellLimits(itself Evidence) {
	for _, l := range m.Measured.Limits {
		said := l.Limit
		if l.Source != "" {
			said += ", " + l.Source
		}
		m.History = append(m.History, Event{Entry: itself, What: HasLimit, Said: said})
	}
}

func (m *measurement) read(j *judge, i int, v Value) {
	m.Measured.Values = append(m.Measured.Values, v)
	m.at = append(m.at, evidenceAt(i, v.AsFound))
	m.tell(Event{Entry: j.evidence(i), By: j.machine.Entries[i].By, What: Read, Said: v.Shown, Value: &v})
}

// goesBy tells whether a name is that of what was measured or of its test.
func (m *measurement) goesBy(name string) bool {
	return answers(name, m.Measured.What, m.Measured.Where, m.tests...)
}

// sameThing tells whether two names are of one measured thing.
func sameThing(a, b string) bool {
	return logbook.Same(benchtest.MeasuredAs(a), benchtest.MeasuredAs(b))
}

// standMeasurements works out where each measurement stands.
func (j *judge) standMeasurements() {
	for _, m := range j.allMeasurements {
		j.standMeasurement(m)
		m.settle()
	}
}

func (j *judge) standMeasurement(m *measurement) {
	values := m.Measured.Values
	m.last = m.at[len(m.at)-1]
	if out := j.outside(m); out >= 0 {
		m.Standing, m.last = Wrong, m.at[out]
		m.Touched = j.touch(j.since(m.last, m.systems, m.names()...), m.last)
		return
	}
	last := j.lastReading(m)
	m.last = m.at[last]
	alike := m.as(values[last].Verdict)
	w := j.notFollowed(alike, m.systems, m.names()...)
	m.Touched = j.touch(w, alike...)
	switch values[last].Verdict {
	case quantity.TooClose:
		m.Standing = TooClose
	case quantity.NotLimited:
		m.Standing, m.Absent = NoLimit, &Absence{Of: NoLimitGiven}
	default:
		m.Standing = InOrder
		m.SameEvening = j.sameEvening(m.last, m.systems, m.names()...)
		if w != nil {
			m.Standing, m.Absent = OutOfDate, &Absence{NoReading, j.machine.Entries[w.at.entry].Date}
		}
	}
}

// outside is the last reading outside its limit that none inside has certainly
// followed; -1 where there is none. In one entry it must have been as found, and
// with work in its system.
func (j *judge) outside(m *measurement) int {
	for i := len(m.at) - 1; i >= 0; i-- {
		if m.Measured.Values[i].Verdict == quantity.Outside && !j.mended(m, i) {
			return i
		}
	}
	return -1
}

func (j *judge) mended(m *measurement, out int) bool {
	for n, v := range m.Measured.Values {
		if v.Verdict != quantity.Inside || j.order(m.at[n], m.at[out]) != after {
			continue
		}
		if m.at[n].entry != m.at[out].entry || j.shownIn(m.at[out].entry, m.Subject, m.names()...) {
			return true
		}
	}
	return false
}

// lastReading is the last one; where the log leaves open which that is, the worst
// of those that it may be.
func (j *judge) lastReading(m *measurement) int {
	last := -1
	for n := range m.at {
		latest := !slices.ContainsFunc(m.at, func(o moment) bool { return j.order(o, m.at[n]) == after })
		if latest && (last < 0 || j.worse(m, n, last)) {
			last = n
		}
	}
	return last
}

// worse tells whether one reading is to be taken for the last rather than another.
func (j *judge) worse(m *measurement, n, than int) bool {
	rank := []quantity.Verdict{quantity.Outside, quantity.TooClose, quantity.NotLimited, quantity.Inside}
	a, b := slices.Index(rank, m.Measured.Values[n].Verdict), slices.Index(rank, m.Measured.Values[than].Verdict)
	return a < b
}

// as are the moments of the readings of a verdict.
func (m *measurement) as(verdict quantity.Verdict) []moment {
	var all []moment
	for n, v := range m.Measured.Values {
		if v.Verdict == verdict {
			all = append(all, m.at[n])
		}
	}
	return all
}

// plain is the value of a reading that can be drawn; the zero quantity for one
// that is a range or open.
func plain(r quantity.Reading) quantity.Quantity {
	q, _ := r.Plain()
	return q
}

// names are what affects: can call a measurement: by what was measured, and by the
// tests that it is a result of.
func (m *measurement) names() []string {
	return append([]string{m.Measured.What, m.Name}, m.tests...)
}

// accuracy is how far off a reading's gauge may be, as it was written.
func accuracy(r logbook.Reading) string {
	if !r.HasGauge {
		return ""
	}
	return r.Gauge.String()
}
