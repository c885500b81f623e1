package handover

import (
	"cmp"
	"slices"
	"strings"

	"asleft/generator/condition"
	"asleft/generator/logbook"
)

// A Beside is one thing that the log says beside the histories of the subjects. The
// report may print it in some sentence of its own, and those are held against
// nothing; so it is kept here as the log has it.
type Beside struct {
	Of    string `json:"of"`    // what sort of thing it is: by, odometer, gauge ...
	Name  string `json:"name"`  // the subject that it is about, empty for none
	Said  string `json:"said"`  // empty where the log does not say
	Date  string `json:"date"`  // of the entry, empty for none
	Entry string `json:"entry"` // its file in the shop folder, empty for none
}

// What a Beside is of.
const (
	besideBy        = "by"        // who wrote an entry
	besideOdometer  = "odometer"  // what it read
	besideDiagnosis = "diagnosis" // a step of the search for a fault
	besideGauge     = "gauge"     // of a reading
	besideAdds      = "adds"      // whether the shop says that a change makes it safer
	besideTerms     = "terms"     // of a machine that is for sale or sold
	besideLeans     = "leans on"  // another subject that lets one stand as it does: never compared
)

// besides are what a log says beside its subjects. What could have been said and was
// not is among them, empty: that it is said later is news too.
func besides(shop *logbook.Shop, r *condition.Report) []Beside {
	all := []Beside{}
	for _, e := range r.Machine.Entries {
		tell := func(of, name, said string) { all = append(all, Beside{of, name, said, string(e.Date), e.File}) }
		tell(besideBy, "", e.By)
		if o := e.Odometer; o != nil {
			said := o.State
			if o.State == logbook.MeterRead {
				said = o.Reading.String()
			}
			tell(besideOdometer, "", said)
		}
		for _, d := range e.Diagnosis {
			said := slices.DeleteFunc([]string{d.Tried, d.Saw, d.So, d.System}, func(s string) bool { return s == "" })
			tell(besideDiagnosis, "", strings.Join(said, "; "))
		}
	}
	for _, s := range r.Subjects {
		for _, e := range s.History {
			if e.Value != nil {
				all = append(all, Beside{besideGauge, s.Name, e.Value.Accuracy, string(e.Entry.Date), e.Entry.File})
			}
		}
		for _, other := range s.LeansOn {
			all = append(all, Beside{Of: besideLeans, Name: s.Name, Said: other.Name})
		}
		if s.Kind == condition.KindChange {
			adds := Beside{Of: besideAdds, Name: cmp.Or(s.Key, s.Name)}
			if s.Adds {
				adds.Said = "yes"
			}
			all = append(all, adds)
		}
	}
	if r.Machine.Offered() {
		all = append(all, Beside{Of: besideTerms, Said: shop.Terms})
	}
	return all
}

// besidesThen are what facts from before there were any hold of the same: what the
// odometer read last, and the gauge of the last reading of each thing.
func (f *Facts) besidesThen() []Beside {
	var all []Beside
	if o := f.Record.Hours.Odometer; o != nil {
		all = append(all, Beside{Of: besideOdometer, Said: o.Reading, Date: o.Date})
	}
	for _, sec := range f.Sections {
		for _, row := range sec.Rows {
			all = append(all, Beside{Of: besideGauge, Name: row.Name, Said: row.Gauge, Date: row.Last.Date})
		}
	}
	return all
}

// besides compares what the log says beside its subjects.
func (s *since) besides() {
	leans := func(b Beside) bool { return b.Of == besideLeans }
	was, now := slices.DeleteFunc(slices.Clone(s.was.Beside), leans), slices.DeleteFunc(slices.Clone(s.now.Beside), leans)
	if s.was.Beside == nil {
		was = s.was.besidesThen()
		for i, n := range now {
			if n.Of == besideGauge && n.Said != "" { // those had it as it is printed
				now[i].Said = s.words.Say("page.gauge", "gauge", n.Said)
			}
		}
	}
	changed, lost, added := paired(was, now, s.sameBeside, Beside.says)
	for _, c := range changed {
		s.otherBeside(c[0], c[1].Said)
	}
	for _, w := range lost {
		if w.Of == besideOdometer || w.Of == besideDiagnosis { // of all else it is told that what it is of is gone
			s.otherBeside(w, "")
		}
	}
	for _, n := range added {
		if s.newBeside(n) {
			s.otherBeside(Beside{Of: n.Of, Name: n.Name, Date: n.Date, Entry: n.Entry}, n.Said)
		}
	}
}

// paired holds what a report said against what the log says today: each with one that
// says the same of the same thing, and what is left with another of that thing.
func paired[T any](was, now []T, of, says func(was, now T) bool) (changed [][2]T, lost, added []T) {
	taken := make([]bool, len(now))
	take := func(w T, so func(was, now T) bool) int {
		i := untaken(taken, func(i int) bool { return of(w, now[i]) && so(w, now[i]) })
		if i >= 0 {
			taken[i] = true
		}
		return i
	}
	var left []T
	for _, w := range was {
		if take(w, says) < 0 {
			left = append(left, w)
		}
	}
	for _, w := range left {
		if i := take(w, func(T, T) bool { return true }); i >= 0 {
			changed = append(changed, [2]T{w, now[i]})
		} else {
			lost = append(lost, w)
		}
	}
	for i, n := range now {
		if !taken[i] {
			added = append(added, n)
		}
	}
	return changed, lost, added
}

// says tells whether another says the same, a value to the sign.
func (b Beside) says(other Beside) bool {
	if b.Of == besideOdometer || b.Of == besideGauge {
		return sameValue(b.Said, other.Said)
	}
	return logbook.Same(b.Said, other.Said)
}

// sameBeside tells whether one of today speaks of the same thing in the same entry.
func (s *since) sameBeside(was, now Beside) bool {
	if was.Of != now.Of || !logbook.Same(was.Name, now.Name) {
		return false
	}
	if file, met := s.files[was.Entry]; met {
		return file == now.Entry
	}
	return s.day(was.Entry, was.Date) == now.Date
}

// newBeside tells whether one is told as new. Who wrote a new entry, and the gauge of a
// new reading, are told with it.
func (s *since) newBeside(now Beside) bool {
	known := slices.ContainsFunc(s.was.Entries, func(e Evidence) bool { return s.files[e.File] == now.Entry })
	switch now.Of {
	case besideOdometer, besideDiagnosis:
		return !s.a.first && (!known || s.was.Beside != nil)
	}
	return false
}

// otherBeside tells that the log says otherwise now, which is nothing where now is
// empty.
func (s *since) otherBeside(was Beside, now string) {
	if was.Of == besideAdds {
		return // told of the change
	}
	kind, label := SinceEntry, ""
	switch was.Of {
	case besideBy:
		label = s.words.Say("since.of-by", "date", s.date(was.Date))
	case besideOdometer:
		kind, label = SinceHours, s.words.Say("since.of-odometer", "when", s.when(was.Date))
	case besideDiagnosis:
		label = s.words.Say("since.of-diagnosis", "when", s.when(was.Date))
	case besideGauge:
		kind, label = string(condition.KindMeasurement), s.words.Say("since.of-gauge", "name", plain(was.Name), "when", s.when(was.Date))
	case besideTerms:
		kind, label = SinceMachine, s.words.Say("since.of-terms")
	}
	s.other(kind, label, was.Said, now)
}

// other tells that what a label names is not what it was.
func (s *since) other(kind, label, was, now string) {
	about := label + was
	switch {
	case was == "":
		s.say(kind, "since.label-new", "label", label, "now", plain(now))
	case now == "":
		s.gone(kind, about, "since.other-gone", "label", label, "was", plain(was))
	default:
		s.gone(kind, about, "since.other", "label", label, "was", plain(was), "now", plain(now))
	}
}

// signs are the ways to write one sign in a value.
var signs = strings.NewReplacer("−", "-", "≤", "<=", "≥", ">=", "µ", "μ")

// sameValue tells whether two values or limits are the same, spacing aside. What is no
// letter counts in them: a sign turns 5 A round.
func sameValue(one, other string) bool {
	fold := func(s string) string { return signs.Replace(strings.Join(strings.Fields(s), "")) }
	return fold(one) == fold(other)
}

// adds tells whether the shop said of a change that it makes the machine safer; known
// is false where the facts do not hold that.
func (f *Facts) adds(key, name string) (adds, known bool) {
	for _, b := range f.Beside {
		if b.Of == besideAdds && b.Name == cmp.Or(key, name) {
			return b.Said != "", true
		}
	}
	return false, false
}
