package generator_test

import (
	"slices"
	"strings"
)

// A fact is what a report must hold of one subject.
type fact struct {
	kind string
	// id is a word of its own, key its key: either finds the subject.
	id, key string
	// names are what it may go by where it is only named; one of them is enough.
	names []string
	// words are the wordings that are bad news, each to be found by itself; all are
	// the ones to be found in the part of the report where it belongs.
	words, all []string
	// want are the standings that the rules allow, safety likewise.
	want, safety []string
	// shut is how sure it is that the subject is not open though its standing
	// would make it so: a stronger guard after a good check.
	shut    tri
	missing bool // it may be left out: a point of something that is not there
	// notes are what the answers say beside, reasons those of "does not apply".
	notes, reasons []string
}

func (f fact) is(standing string) bool { return len(f.want) == 1 && f.want[0] == standing }

// good are the standings that hold no bad news.
func good(standing string) bool { return standing == "in order" || standing == "does not apply" }

// open tells whether the subject is open.
func (f fact) open() tri {
	t := yes
	goods, trifles := 0, 0
	for _, w := range f.want {
		if good(w) {
			goods++
		}
	}
	for _, s := range f.safety {
		if s == "no" {
			trifles++
		}
	}
	if len(f.want) == 0 || goods > 0 || trifles > 0 {
		t = maybe
	}
	if len(f.want) > 0 && goods == len(f.want) || len(f.safety) > 0 && trifles == len(f.safety) || f.shut == yes {
		return no
	}
	return min(t, 2-f.shut)
}

// facts are all that the report of a machine must hold.
func (m *rawMachine) facts() []fact {
	var all []fact
	for _, d := range m.defects {
		all = append(all, m.defectFact(d))
	}
	all = append(all, m.pointFacts()...)
	for _, g := range m.gauged {
		all = append(all, m.measuredFact(g))
	}
	all = append(all, m.changeFacts()...)
	for _, f := range m.list("missing") {
		all = append(all, m.missingFact(f))
	}
	return append(all, m.listFact(), m.meterFact())
}

// since tells whether work after evidence touches it; same tells whether the
// evidence was taken before the work of its own entry. Works of that key are not
// its own undoing: perhaps they are.
func (m *rawMachine) since(n int, same bool, key string, systems set, vague bool, names ...string) tri {
	t := no
	for _, w := range m.works {
		if w.entry == n && !same || m.entries[w.entry].surelyBefore(m.entries[n]) {
			continue
		}
		touch := w.touches(systems, vague, names...)
		if key != "" && w.key == key {
			touch = min(touch, maybe)
		}
		t = max(t, touch)
	}
	return t
}

// doubt is in order, out of date, or either.
func doubt(t tri) []string {
	return map[tri][]string{no: {"in order"}, maybe: {"in order", "out of date"}, yes: {"out of date"}}[t]
}

func either(sets ...[]string) []string {
	var all []string
	for _, s := range sets {
		for _, x := range s {
			if !slices.Contains(all, x) {
				all = append(all, x)
			}
		}
	}
	return all
}

// passes tells whether a point of these systems passes after the work of an
// entry. Only safety points count where that is asked.
func (m *rawMachine) passes(after int, systems set, safetyOnly bool) tri {
	t := no
	for _, p := range m.allPoints() {
		if !p.systems.meets(systems) {
			continue
		}
		for _, a := range p.answers {
			if a.result != "works" || a.entry == after && a.found || a.entry != after && !m.entries[after].surelyBefore(m.entries[a.entry]) {
				continue
			}
			if a.measured != nil || safetyOnly && p.safety != "yes" || p.failsIn(a.entry) {
				t = max(t, maybe)
			} else {
				t = yes
			}
		}
	}
	return t
}

// passesYet tells whether one of those passes is not out of date itself.
func (m *rawMachine) passesYet(after int, systems set, safetyOnly bool) bool {
	for _, p := range m.allPoints() {
		if safetyOnly && (p.safety != "yes" || len(p.measured) > 0) {
			continue // a reading may say that it fails, whatever was seen
		}
		for _, a := range p.answers {
			if p.systems.meets(systems) && a.result == "works" && a.measured == nil && !p.failsIn(a.entry) && !(a.entry == after && a.found) &&
				(a.entry == after || m.entries[after].surelyBefore(m.entries[a.entry])) && m.overtaken(p, a) == no {
				return true
			}
		}
	}
	return false
}

// guardsOf are the systems that must pass again: those in which everything is a
// matter of safety.
func guardsOf(systems set) set {
	out := set{}
	for s := range systems {
		if slices.Contains(alwaysSafety, s) {
			out[s] = true
		}
	}
	return out
}

// ranks are the standings of the parts of a defect, the worst first.
var ranks = []string{"wrong", "worked around", "not proven", "out of date", "in order"}

func worstOf(sets [][]string) []string {
	// The worst of several doubtful ones: every mix is possible.
	have := []string{"in order"}
	for _, s := range sets {
		var next []string
		for _, a := range have {
			for _, b := range s {
				next = append(next, ranks[min(slices.Index(ranks, a), slices.Index(ranks, b))])
			}
		}
		have = either(next)
	}
	return have
}

func (m *rawMachine) defectFact(d *rawDefect) fact {
	f := fact{kind: "defect", key: d.key, id: d.wordings[0].text, safety: d.gravest(), all: d.said}
	var sets [][]string
	for _, w := range d.wordings {
		want := m.wordingStands(d, w)
		sets = append(sets, want)
		if !slices.Contains(want, "in order") {
			f.words = append(f.words, w.text)
		}
	}
	f.want = worstOf(sets)
	return f
}

// wordingStands is where one wording of a defect stands.
func (m *rawMachine) wordingStands(d *rawDefect, w *wording) []string {
	guards := guardsOf(w.systems)
	passed := m.passes(w.repaired, guards, false)
	named := m.pointPasses(d, w)
	switch w.state {
	case "open":
		return []string{"wrong"}
	case "around":
		return []string{"worked around"}
	case "gone":
		if !slices.Contains(d.gravest(), "yes") {
			return []string{"in order"}
		}
		t := m.passes(w.repaired, w.systems, false)
		if t == no && m.passes(w.repaired, d.systems(), false) != no {
			t = maybe
		}
		if t != yes {
			return map[tri][]string{no: {"not proven"}, maybe: {"not proven", "in order"}}[t]
		}
		return []string{"in order", "not proven", "out of date"}
	case "unproven":
		if named != no {
			return []string{"not proven", "in order", "out of date"}
		}
		return []string{"not proven"}
	}
	stale := m.since(w.proved, false, d.key, w.systems, w.vague)
	if d.left { // what was proven before the rest of it left is gone with it
		return either(doubt(stale), []string{"in order", "not proven"})
	}
	if named != no && stale == yes {
		stale = maybe // the pass may be the later proof
	}
	switch {
	case len(guards) == 0:
		return doubt(stale)
	case passed == no && named == no:
		return []string{"not proven"}
	case len(d.points) > 0 && passed != no: // the point it fails may have to be the one
	case passed == yes && stale == no && m.passesYet(w.repaired, guards, false):
		return []string{"in order"}
	}
	return either(doubt(stale), []string{"not proven", "in order", "out of date"})
}

// pointPasses tells whether the point that a defect fails passed after its
// repair.
func (m *rawMachine) pointPasses(d *rawDefect, w *wording) tri {
	t := no
	for item := range d.points {
		for _, a := range m.answers[item] {
			if a.result == "works" && !(a.entry == w.repaired && a.found) && !m.entries[a.entry].surelyBefore(m.entries[w.repaired]) {
				t = maybe
			}
		}
		for _, p := range m.allPoints() {
			if p.item == item && slices.ContainsFunc(p.answers, func(a rawAnswer) bool { return a.measured != nil && a.result == "works" }) {
				t = maybe
			}
		}
	}
	return t
}

// A rawPoint is one point with all that answers it.
type rawPoint struct {
	item, written, short string
	systems              set
	vague                bool
	safety               string
	answers              []rawAnswer
	measured             []*rawMeasured
}

// failsIn tells whether an entry says that it fails, whatever else it says.
func (p rawPoint) failsIn(entry int) bool {
	return slices.ContainsFunc(p.answers, func(a rawAnswer) bool { return a.entry == entry && a.result == "fails" })
}

// allPoints are the points of the list and those that entries added.
func (m *rawMachine) allPoints() []rawPoint {
	if m.points == nil {
		m.points = m.findPoints()
	}
	return m.points
}

func (m *rawMachine) findPoints() []rawPoint {
	var all []rawPoint
	seen := set{}
	add := func(f fields) {
		p := m.pointOf(f)
		all, seen[p.item] = append(all, p), true
	}
	for _, i := range m.items {
		add(i)
	}
	for _, placed := range []bool{true, false} { // the mention that gives the system says it
		for _, e := range m.entries {
			for _, c := range e.list("checks") {
				if item := strings.ToLower(c.text("item")); !seen[item] && !m.offList(item) && placed == (c.text("system") != "") {
					add(c)
				}
			}
		}
	}
	return all
}

// pointOf is a point with all that answers it.
func (m *rawMachine) pointOf(f fields) rawPoint {
	item := strings.ToLower(f.text("item"))
	p := rawPoint{item: item, written: f.text("item"), short: f.text("short"), answers: slices.Clone(m.answers[item])}
	p.systems, p.vague = m.systems(f.text("system"))
	said := setOf(f.text("safety"))
	for _, a := range p.answers {
		if s := a.text("safety"); s != "" {
			said[s] = true
		}
	}
	p.safety = safetyOf(map[bool]string{true: "yes", false: map[bool]string{true: "no"}[said["no"]]}[said["yes"]], p.systems)
	for _, g := range m.gauged {
		if slices.ContainsFunc(f.texts("answered_by"), func(n string) bool {
			return slices.ContainsFunc(g.names, func(o string) bool { return strings.EqualFold(n, o) })
		}) {
			p.measured = append(p.measured, g)
			for _, r := range g.readings {
				p.answers = append(p.answers, rawAnswer{entry: r.entry, found: r.found, result: map[string]string{"inside": "works", "outside": "fails"}[r.verdict], measured: g})
			}
		}
	}
	return p
}

// offList tells whether a point of a sheet is off this machine's list.
func (m *rawMachine) offList(item string) bool {
	return slices.ContainsFunc(append(m.list("leave_out"), m.off...), func(f fields) bool { return strings.EqualFold(f.text("item"), item) })
}

func (m *rawMachine) pointFacts() []fact {
	var all []fact
	for _, i := range m.off { // of what the machine does not have
		f := fact{kind: "point", id: i.text("item"), want: []string{"does not apply"}, safety: []string{"yes", "no", "not said"}, missing: true}
		if len(m.pointOf(i).answers) > 0 {
			f.want = nil // it was answered all the same
		}
		all = append(all, f)
	}
	for _, p := range m.allPoints() {
		f := fact{kind: "point", id: p.written, names: []string{p.written}, all: []string{p.written}, want: m.pointStands(p), safety: []string{p.safety}}
		if p.short != "" {
			f.names = append(f.names, p.short)
		}
		for _, a := range p.answers {
			if a.text("note") != "" {
				f.notes = append(f.notes, a.text("note"))
				if a.result == "does not apply" {
					f.reasons = append(f.reasons, a.text("note"))
				}
			}
		}
		if slices.Contains(f.want, "in order") && p.safety == "not said" {
			f.safety = []string{"not said", "no"}
		}
		all = append(all, f)
	}
	return all
}

// cleared tells whether a pass stands after a failure.
func (m *rawMachine) cleared(p rawPoint, fail rawAnswer) tri {
	t := no
	for _, a := range p.answers {
		switch {
		case a.result == "does not apply" && a.text("by") != "" && m.entries[fail.entry].surelyBefore(m.entries[a.entry]):
			t = yes // the change took the thing away
		case a.result != "works":
		case m.entries[fail.entry].surelyBefore(m.entries[a.entry]):
			if (a.measured == nil) != (fail.measured == nil) {
				t = max(t, maybe) // a check beside a reading: the worse stands
			} else {
				t = yes
			}
		case fail.entry == a.entry && fail.found && !a.found:
			t = max(t, m.shows(a.entry, p.systems, p.vague, p.names()...))
		}
	}
	return t
}

// worked tells whether an entry has work that touches this.
func (m *rawMachine) worked(entry int, systems set, vague bool, names ...string) tri {
	t := no
	for _, w := range m.works {
		if w.entry == entry {
			t = max(t, w.touches(systems, vague, names...))
		}
	}
	return t
}

// shows tells whether an entry shows work on this. Work that may have been
// anywhere shows nothing.
func (m *rawMachine) shows(entry int, systems set, vague bool, names ...string) tri {
	t := no
	for _, w := range m.works {
		if w.entry == entry && (w.systems.meets(systems) || w.maybes.meets(systems) || w.names.meets(setOf(names...))) {
			t = max(t, w.touches(systems, vague, names...))
		}
	}
	return t
}

// pointStands is where a point stands.
func (m *rawMachine) pointStands(p rawPoint) []string {
	named := m.naming(p.item)
	for _, g := range p.measured {
		if stands := m.measuredStands(g); len(stands) == 1 && stands[0] == "wrong" {
			return []string{"wrong"} // whatever a check beside it says
		}
	}
	failing := no
	var fail rawAnswer
	for _, a := range p.answers {
		if a.result == "fails" {
			if t := yes - m.cleared(p, a); t >= failing {
				failing, fail = t, a
			}
		}
	}
	var rest []string
	if failing != yes {
		rest = m.unfailed(p, named)
	}
	if failing == no {
		return rest
	}
	return either(rest, m.failedStands(named, fail))
}

// naming are the defects that say that they fail this point.
func (m *rawMachine) naming(item string) []*rawDefect {
	var all []*rawDefect
	for _, d := range m.defects {
		if d.points[item] {
			all = append(all, d)
		}
	}
	return all
}

// failedStands is where a failed point stands: wrong, unless every defect that
// names it is proven and none of them was first written after the failure.
func (m *rawMachine) failedStands(named []*rawDefect, fail rawAnswer) []string {
	if len(named) == 0 {
		return []string{"wrong"}
	}
	all := yes
	for _, d := range named {
		want := m.defectFact(d).want
		first := d.findings[0].entry
		proved := d.wordings[0].proved
		for _, w := range d.wordings {
			proved = min(proved, w.proved)
		}
		switch {
		case d.left:
			all = maybe // it left with its part, which is no proof
		case fail.entry != proved && m.entries[proved].surelyBefore(m.entries[fail.entry]):
			return []string{"wrong"} // it failed after all that
		case !slices.Contains(want, "in order") && !slices.Contains(want, "out of date"), m.entries[fail.entry].surelyBefore(m.entries[first]):
			return []string{"wrong"}
		case len(want) > 1 || want[0] != "in order" || fail.entry != first && !m.entries[first].surelyBefore(m.entries[fail.entry]):
			all = maybe
		case fail.entry != proved && !m.entries[fail.entry].surelyBefore(m.entries[proved]):
			all = maybe // it may have failed after all that
		case len(d.findings) > 1 || fail.measured != nil || fail.entry == proved:
			all = maybe
		}
	}
	if all == yes {
		return []string{"out of date"}
	}
	return []string{"out of date", "wrong"}
}

// unfailed is where a point stands that no failure speaks against.
func (m *rawMachine) unfailed(p rawPoint, named []*rawDefect) []string {
	fresh, faulted := yes, yes
	passed, dismissed, read, openOrder := false, false, false, false
	for _, a := range p.answers {
		switch a.result {
		case "works":
			passed = true
			fresh, faulted = min(fresh, m.overtaken(p, a)), min(faulted, m.faultedSince(p, a))
			openOrder = openOrder || m.openOrder(p, a)
		case "does not apply":
			dismissed = true
		case "":
			read = true
		}
	}
	if fresh == yes && faulted != yes && m.eachFollowed(p.passes(), p.systems, p.vague, p.names()...) {
		fresh = maybe
	}
	var want []string
	switch {
	case dismissed && passed:
		want = []string{"does not apply", "in order", "out of date"}
	case dismissed:
		want = []string{"does not apply"}
	case passed && fresh == no && openOrder: // fresh in either order, and yet the order is open
		want = doubt(maybe)
	case passed:
		want = doubt(fresh)
	case read: // measured, without a verdict
		want = []string{"too close to call", "no limit given", "out of date", "not checked", "in order"}
	default:
		want = []string{"not checked"}
	}
	if passed && m.readSince(p) {
		want = either(want, []string{"too close to call"})
	}
	if stands, surely := m.otherPlaces(p); surely && len(want) == 1 && want[0] == "in order" {
		want = stands
	} else {
		want = either(want, stands)
	}
	for _, d := range named {
		if m.defectFact(d).is("in order") {
			want = either(want, []string{"out of date"})
			continue
		}
		want = either(want, []string{"wrong", "out of date"})
	}
	return want
}

// otherPlaces is where a point may stand by what was measured at one place, though another
// place is in order; surely, where no check speaks for the point and both are certain.
func (m *rawMachine) otherPlaces(p rawPoint) (stands []string, surely bool) {
	checked := slices.ContainsFunc(p.answers, func(a rawAnswer) bool { return a.result == "works" && a.measured == nil })
	for _, g := range p.measured {
		for _, o := range p.measured {
			good, other := m.measuredStands(o), m.measuredStands(g)
			if o == g || !strings.EqualFold(o.what, g.what) || o.where == "" || g.where == "" || !slices.Contains(good, "in order") {
				continue
			}
			for _, s := range other {
				if s == "out of date" || s == "too close to call" {
					stands = either(stands, []string{s})
					surely = surely || !checked && len(good) == 1 && len(other) == 1
				}
			}
		}
	}
	return stands, surely
}

// readSince tells whether a reading without a verdict came surely after each good
// answer.
func (m *rawMachine) readSince(p rawPoint) bool {
	return slices.ContainsFunc(p.answers, func(r rawAnswer) bool {
		return r.result == "" && r.measured != nil && !slices.ContainsFunc(p.passes(), func(a rawReading) bool {
			return !m.entries[a.entry].surelyBefore(m.entries[r.entry]) && !(a.entry == r.entry && a.found && !r.found)
		})
	})
}

// eachFollowed tells whether each work there was surely before one of the good
// answers, if not each before the same: whichever came last is fresh then.
func (m *rawMachine) eachFollowed(good []rawReading, systems set, vague bool, names ...string) bool {
	return !slices.ContainsFunc(m.works, func(w rawWork) bool {
		return w.touches(systems, vague, names...) != no && !slices.ContainsFunc(good, func(r rawReading) bool {
			return r.entry == w.entry && !r.found || m.entries[w.entry].surelyBefore(m.entries[r.entry])
		})
	})
}

// names are what affects: may call it.
func (p rawPoint) names() []string { return []string{p.item, strings.ToLower(p.short)} }

// passes are when a point worked.
func (p rawPoint) passes() []rawReading {
	var all []rawReading
	for _, a := range p.answers {
		if a.result == "works" {
			all = append(all, rawReading{entry: a.entry, found: a.found})
		}
	}
	return all
}

// openOrder tells whether another entry that works on this may be before or after
// an answer.
func (m *rawMachine) openOrder(p rawPoint, a rawAnswer) bool {
	return slices.ContainsFunc(m.works, func(w rawWork) bool {
		e, o := m.entries[a.entry], m.entries[w.entry]
		return w.entry != a.entry && !e.surelyBefore(o) && !o.surelyBefore(e) && w.touches(p.systems, p.vague, p.names()...) != no
	})
}

// overtaken tells whether work or a fault came after an answer "works".
func (m *rawMachine) overtaken(p rawPoint, a rawAnswer) tri {
	names := p.names()
	t := m.since(a.entry, a.found, "", p.systems, p.vague, names...)
	if a.measured != nil {
		g := a.measured
		other := m.since(a.entry, a.found, "", g.systems, g.vague, g.names...)
		if other != t {
			t = maybe
		}
	}
	for _, g := range p.measured { // what affects a reading may affect what it answers
		if m.since(a.entry, a.found, "", setOf("none"), false, g.names...) == yes {
			t = max(t, maybe)
		}
	}
	return max(t, m.faultedSince(p, a))
}

// faultedSince tells whether a fault came with or after an answer "works".
func (m *rawMachine) faultedSince(p rawPoint, a rawAnswer) tri {
	t := no
	for _, d := range m.defects {
		for _, f := range d.findings {
			t = max(t, m.faulted(p, a, d, f))
		}
	}
	return t
}

// faulted tells whether a fault found with or after an answer makes it out of
// date: of a safety point, and where the fault may be a matter of safety.
func (m *rawMachine) faulted(p rawPoint, a rawAnswer, d *rawDefect, f finding) tri {
	meets, doubtful := f.systems.meets(p.systems), d.vague || p.vague || d.systems().meets(p.systems)
	if m.entries[f.entry].surelyBefore(m.entries[a.entry]) || !meets && !doubtful || p.safety == "no" {
		return no
	}
	grave := d.gravest()
	t := yes
	switch {
	case len(grave) == 1 && grave[0] == "no":
		return no
	case !meets || f.safety == "no" || p.safety != "yes" || d.points[p.item]:
		t = maybe
	}
	if f.entry == a.entry && f.mended && (len(d.points) > 0 || guarding(f.systems)) {
		t = maybe // the point that proves it may have passed there
	}
	if f.entry == a.entry && f.proven {
		if !guarding(f.systems) {
			return no
		}
		t = maybe
	}
	return t
}

// measuredStands is where a measured thing stands.
func (m *rawMachine) measuredStands(g *rawMeasured) []string {
	var sets []string
	after := func(a, b rawReading) bool { // b surely after a
		return m.entries[a.entry].surelyBefore(m.entries[b.entry]) || a.entry == b.entry && a.found && !b.found
	}
	for _, r := range g.readings {
		if r.verdict != "outside" {
			continue
		}
		cleared := no
		for _, o := range g.readings {
			if o.verdict != "inside" || !after(r, o) {
				continue
			}
			if o.entry == r.entry {
				cleared = max(cleared, m.shows(r.entry, g.systems, g.vague, g.names...))
			} else {
				cleared = yes
			}
		}
		if cleared == no {
			return []string{"wrong"}
		}
		if cleared == maybe {
			sets = []string{"wrong"}
		}
	}
	worst, fresh := "none", yes
	var inside []rawReading
	for _, r := range g.readings {
		if slices.ContainsFunc(g.readings, func(o rawReading) bool { return after(r, o) }) || r.verdict == "outside" {
			continue
		}
		worst = worseVerdict(worst, r.verdict)
		if r.verdict == "inside" {
			inside = append(inside, r)
			fresh = min(fresh, m.since(r.entry, r.found, "", g.systems, g.vague, g.names...))
		}
	}
	if fresh == yes && m.eachFollowed(inside, g.systems, g.vague, g.names...) {
		fresh = maybe
	}
	switch worst {
	case "close":
		return either(sets, []string{"too close to call", "out of date"})
	case "inside":
		return either(sets, doubt(fresh))
	}
	return either(sets, []string{"no limit given", "out of date"})
}

func (m *rawMachine) measuredFact(g *rawMeasured) fact {
	f := fact{kind: "measurement", id: g.where, names: []string{g.where}, want: m.measuredStands(g), safety: []string{g.safety}}
	for _, p := range m.allPoints() {
		if slices.Contains(p.measured, g) {
			if f.safety[0] = "yes"; p.safety != "yes" {
				f.safety = either([]string{g.safety}, []string{"yes", "no"})
			}
		}
	}
	return f
}

func (m *rawMachine) changeFacts() []fact {
	var all []fact
	for n, e := range m.entries {
		for _, c := range e.list("changed") {
			systems, _ := m.systems(c.text("system"))
			f := fact{kind: "change", key: c.text("key"), id: c.text("what"), names: []string{c.text("what")}, all: []string{c.text("what")}, want: []string{"changed"}, safety: []string{safetyOf(c.text("safety"), systems)}}
			for _, other := range m.entries {
				for _, b := range other.list("put_back") {
					if b.text("key") == f.key {
						f.want = []string{"in order"}
					}
				}
			}
			if c.text("adds") == "yes" {
				f.shut = m.passes(n, systems, true)
				if f.shut == yes && (m.since(n, false, f.key, systems, false) != no || !m.passesYet(n, systems, true)) {
					f.shut = maybe
				}
			}
			if f.is("in order") {
				f.safety = either(f.safety, []string{"no"})
			}
			all = append(all, f)
		}
	}
	return all
}

func (m *rawMachine) missingFact(f fields) fact {
	name := f.text("") + f.text("part")
	systems, _ := m.systems(f.text("system"))
	out := fact{kind: "missing part", id: name, names: []string{name}, all: []string{name}, want: []string{"missing"}, safety: []string{safetyOf(f.text("safety"), systems)}}
	for _, in := range m.partsNamed(name, "fitted") {
		if !slices.ContainsFunc(m.partsNamed(name, "taken out again"), func(taken int) bool { return !m.entries[taken].surelyBefore(m.entries[in]) }) {
			out.want, out.safety = []string{"in order"}, either(out.safety, []string{"no"})
		}
	}
	return out
}

// partsNamed are the entries with a part of that name, or that replaces it, and of
// that fate.
func (m *rawMachine) partsNamed(name, fate string) []int {
	var all []int
	for i, e := range m.entries {
		for _, p := range e.list("parts") {
			is := p.text("fate")
			if is == "" {
				is = "fitted"
			}
			if is == "returned" && m.cameOut(i, p) {
				is = "taken out again"
			}
			if is == fate && (strings.EqualFold(p.text("part"), name) || strings.EqualFold(p.text("replaces"), name)) {
				all = append(all, i)
			}
		}
	}
	return all
}

func (m *rawMachine) listFact() fact {
	f := fact{kind: "list", want: []string{"missing"}, safety: []string{"yes"}, names: []string{"no list"}}
	if m.listed {
		f.want, f.safety, f.names = []string{"in order"}, []string{"yes", "no", "not said"}, nil
	}
	return f
}

func (m *rawMachine) meterFact() fact {
	f := fact{kind: "meter", safety: []string{"yes", "no", "not said"}, missing: true, names: []string{"meter"}}
	read := slices.ContainsFunc(m.entries, func(e rawEntry) bool { return e.text("meter") != "" })
	if read {
		f.want = map[string][]string{"yes": {"in order"}, "no": {"wrong"}, "not known": {"not checked", "wrong"}, "": {"not checked"}}[m.text("meter_true")]
	}
	return f
}
