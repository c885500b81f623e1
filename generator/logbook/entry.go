package logbook

import (
	"go.yaml.in/yaml/v4"

	"asleft/generator/quantity"
)

func readEntry(s *source, m *Machine, data []byte) *Entry {
	e := &Entry{Place: s.at(1, ""), digest: digestOf(data), Machine: m.Key}
	f, body := s.read(data)
	if f == nil {
		return e
	}
	e.Place.Line = max(f.node.Line, 1)
	if s.rules.leave {
		e.Body = body.left()
	} else {
		e.Body = body.kept()
	}
	f.demand("date")
	var stamped bool
	e.Date, e.Clock, stamped = f.moment("date")
	if e.Date.Before(m.Arrived) {
		f.report("date", "problem.before-arrival", "read", e.Date, "arrived", m.Arrived)
	}
	e.Title = f.name("title")
	if f.value("time") != nil {
		e.Clock, e.HasClock = f.clock("time")
	} else {
		e.HasClock = stamped
	}
	e.By = f.text("by")
	e.Sessions = readHours(f, e.By)
	if !e.HasClock && len(e.Sessions) > 0 && e.Sessions[0].Timed {
		e.Clock, e.HasClock, e.ClockOfHours = e.Sessions[0].From, true, true
	}
	e.Meter = readMeter(f, "meter", quantity.Hour)
	e.Odometer = readMeter(f, "odometer", quantity.Mile)
	e.MeterReplaced = readMeterReplaced(f)
	e.Ran, e.HasRan = f.minutes("ran"), f.value("ran") != nil
	readFindings(f, e)
	readWork(f, e)
	e.Photos = readPhotos(f, s, body)
	e.Private = f.text("private")
	e.Asides = f.asides()
	f.done()
	return e
}

// readFindings reads what an entry saw: checks, trail, readings, tests and
// defects.
func readFindings(f *mapping, e *Entry) {
	e.Checks = list(f, "checks", readCheck)
	e.Diagnosis = list(f, "diagnosis", func(i *mapping) Step {
		step := Step{Place: i.place(), Tried: i.text("tried"), Saw: i.text("saw"), So: i.text("so"), System: i.system("system")}
		if step.Tried == "" && step.Saw == "" && step.So == "" && !i.broken {
			i.report("", "problem.empty-step")
		}
		return step
	})
	e.Measured = list(f, "measured", readReading)
	e.Tests = list(f, "tests", readTest)
	e.Defects = list(f, "defects", func(i *mapping) Defect {
		return Defect{Place: i.place(), Key: i.need("key"), Defect: i.name("defect"), Effect: i.text("effect"), System: i.needSystem("system"), Safety: i.safety(), Point: i.text("point"), Photo: i.text("photo")}
	})
}

// readWork reads what an entry did: parts, costs, repairs and changes.
func readWork(f *mapping, e *Entry) {
	e.Parts = list(f, "parts", readPart)
	e.Costs = list(f, "costs", func(i *mapping) Cost {
		return Cost{Place: i.place(), For: i.need("for"), Amount: i.needAmount("amount")}
	})
	e.Repaired = list(f, "repaired", func(i *mapping) Repair {
		r := Repair{Place: i.place(), Key: i.need("key"), KeyAt: i.at("key"), How: i.text("how"), Of: i.text("of"), Affects: i.words("affects"), Photo: i.text("photo")}
		r.Proof = i.tellingText("proof", r.Photo != "")
		return r
	})
	e.WorkedAround = list(f, "worked_around", func(i *mapping) WorkAround {
		return WorkAround{Place: i.place(), Key: i.need("key"), KeyAt: i.at("key"), How: i.need("how"), Left: i.text("left"), Affects: i.words("affects"), Photo: i.text("photo")}
	})
	e.Gone = list(f, "gone", func(i *mapping) Gone {
		return Gone{Place: i.place(), Key: i.need("key"), KeyAt: i.at("key"), With: i.need("with")}
	})
	e.Changed = list(f, "changed", readChange)
	e.PutBack = list(f, "put_back", func(i *mapping) PutBack {
		return PutBack{Place: i.place(), Key: i.need("key"), KeyAt: i.at("key"), How: i.need("how"), Affects: i.words("affects")}
	})
	f.eachSystem("worked_on", func(at Place, system string) { e.WorkedOn = append(e.WorkedOn, WorkedOn{at, system}) })
	e.Service = list(f, "service", func(i *mapping) Service {
		return Service{Place: i.place(), What: i.name("what"), Amount: i.text("amount"), Grade: i.text("grade"), System: i.system("system"), Every: parseInterval(i.text("every")), Answers: i.words("answers")}
	})
}

func readChange(f *mapping) Change {
	return Change{
		Place: f.place(), Key: f.text("key"), What: f.name("what"), Why: f.reason("why"), System: f.system("system"),
		Safety: f.safety(), Adds: f.yes("adds", false), Affects: f.words("affects"), Caution: f.text("caution"),
	}
}

// readHours reads hours: as a length of time, or as sessions.
func readHours(f *mapping, by string) []Session {
	n := f.value("hours")
	if n == nil {
		return nil
	}
	if n.Kind == yaml.ScalarNode {
		return []Session{{Place: f.at("hours"), By: by, Work: f.minutes("hours")}}
	}
	return list(f, "hours", func(i *mapping) Session { return readSession(i, by) })
}

const day = 24 * 60

// longestNight is the most that a session may last which ends on the clock before
// it starts: what is longer is taken for two times the wrong way round, not for
// work past midnight (16 hours is a guess at what nobody works; no source).
const longestNight = 16 * 60

func readSession(f *mapping, by string) Session {
	lasted := f.value("lasted") != nil
	if !lasted {
		f.demand("from")
		f.demand("to")
	}
	s := Session{Place: f.place(), Task: f.text("task"), By: f.text("by"), Less: f.minutes("less")}
	if s.By == "" {
		s.By = by
	}
	var from, to bool
	s.From, from = f.clock("from")
	s.To, to = f.clock("to")
	switch {
	case lasted && (from || to):
		f.report("lasted", "problem.lasted-too")
		return s
	case lasted:
		s.Work = f.minutes("lasted")
	case !from || !to:
		return s
	default:
		s.Timed = true
		s.Work = Minutes(s.To - s.From)
	}
	if s.Work < 0 {
		s.Work += day // past midnight
	}
	switch {
	case s.Work == 0 && s.Timed:
		f.report("to", "problem.no-time", "read", s.To)
		return s
	case s.Timed && s.To < s.From && s.Work > longestNight:
		f.report("to", "problem.long-night", "from", s.From, "to", s.To, "work", s.Work)
		s.Work = 0
		return s
	case s.Less > 0 && s.Less >= s.Work:
		f.report("less", "problem.less-than-nothing", "read", s.Less, "work", s.Work)
		s.Less = 0
	}
	s.Work -= s.Less
	return s
}

// readMeter reads what an hour meter or an odometer shows, in a unit like that one.
func readMeter(f *mapping, name string, like quantity.Unit) *Meter {
	s := f.text(name)
	switch s {
	case "":
		return nil
	case MeterUnknown, MeterBroken, MeterNone:
		return &Meter{Place: f.at(name), State: s}
	}
	q := f.shownBy(name, like)
	if q.IsZero() {
		return nil
	}
	return &Meter{Place: f.at(name), State: MeterRead, Reading: q}
}

// readMeterReplaced reads the change of one hour meter for another. An old one
// that could not be read any more is unknown or broken, as meter: has it.
func readMeterReplaced(f *mapping) *MeterReplaced {
	sub := f.sub("meter_replaced")
	if sub == nil {
		return nil
	}
	sub.demand("old")
	sub.demand("new")
	r := &MeterReplaced{Place: sub.place()}
	if old := sub.text("old"); old != MeterUnknown && old != MeterBroken {
		r.Old = sub.shownBy("old", quantity.Hour)
	}
	r.New = sub.shownBy("new", quantity.Hour)
	sub.done()
	return r
}

func readCheck(f *mapping) Check {
	f.demand("result")
	c := Check{
		Place: f.place(), Item: f.name("item"), Result: f.oneOf("result", Results), Note: f.text("note"),
		AsFound: f.yes("as_found", false), By: f.text("by"),
		System: f.system("system"), SystemAt: f.at("system"), Safety: f.safety(),
	}
	if c.Result == DoesNotApply {
		f.demand("note")
		f.reason("note")
	}
	return c
}

func readReading(f *mapping) Reading {
	f.demand("value")
	r := Reading{Place: f.place(), What: f.name("what"), Where: f.text("where"), State: f.text("state"), Value: f.reading("value"), System: f.system("system"), AsFound: f.yes("as_found", false)}
	low, _, _, _ := r.Value.Bounds()
	r.Gauge, r.HasGauge = readGauge(f, low)
	return r
}

// readGauge reads the accuracy of the tool, which has to be one that the value
// can have.
func readGauge(f *mapping, value quantity.Quantity) (quantity.Gauge, bool) {
	s := f.text("gauge")
	if s == "" {
		return quantity.Gauge{}, false
	}
	g, err := quantity.ParseGauge(s)
	if err != nil {
		f.unreadable("gauge", s, err)
		return quantity.Gauge{}, false
	}
	if value.IsZero() {
		return g, true
	}
	if _, _, err := g.Interval(value); err != nil {
		f.report("gauge", "problem.gauge-dimension", "read", s, "value", value)
		return quantity.Gauge{}, false
	}
	return g, true
}

// readTest keeps a bench test's fields as written; which ones it takes is for
// the bench test to say. Some take a reading as found, so that as_found: is the
// entry's own word only where it is yes or no.
func readTest(f *mapping) Test {
	t := Test{Place: f.place(), Test: f.need("test"), Where: f.text("where")}
	for _, name := range f.names() {
		if name == "test" || name == "where" || f.value(name) == nil {
			continue
		}
		if n := f.find(name); name == "as_found" && (n.Value == "yes" || n.Value == "no") {
			t.AsFound = n.Value == "yes"
			continue
		}
		t.Inputs = append(t.Inputs, f.src.input(name, f.find(name), f.at(name).Field))
	}
	return t
}

func (s *source) input(name string, n *yaml.Node, path string) Input {
	in := Input{Place: s.at(n.Line, path), Name: name}
	switch n.Kind {
	case yaml.SequenceNode:
		in.List = true
		for _, i := range items(n, path) {
			in.Items = append(in.Items, s.input("", i.node, i.path))
		}
	case yaml.MappingNode:
		f := s.mapping(n, path)
		for _, part := range f.names() {
			in.Items = append(in.Items, s.input(part, f.find(part), f.at(part).Field))
		}
	default:
		in.Text = s.scalar(n, path)
	}
	return in
}
