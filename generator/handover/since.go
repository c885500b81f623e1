package handover

import (
	"path"
	"slices"
	"strings"

	"asleft/generator/benchtest"
	"asleft/generator/catalog"
	"asleft/generator/condition"
	"asleft/generator/logbook"
	"asleft/generator/record"
)

// Kinds of a change since a report was sealed, besides the kinds of subjects.
const (
	SinceEntry   = "entry"
	SinceTest    = "test"
	SincePart    = "part"
	SinceService = "service"
	SinceHours   = "hours"
	SinceStage   = "stage" // for sale, sold, the asking price: says nothing of the machine's condition
	SinceMachine = "machine"
)

// A Change is one thing that is not as a sealed report had it. Gone tells that the
// log no longer says it: it was taken out, reworded, redated or retitled, or stands
// kinder without a new word. All else is what the log says since.
type Change struct {
	Kind string `json:"kind"`
	Text string `json:"text"` // whole sentences
	Gone bool   `json:"gone"`

	about string // what it is of: the same in two sealed reports is one change
}

// since compares what sealed facts said with what those of today say.
type since struct {
	words     *catalog.Catalog
	was, now  *Facts
	a, b      *account
	moved     map[string]string // the day of each entry that was redated, by its file's old name
	movedDays map[string]string // the same by its old day, where no file is known
	files     map[string]string // what each entry's file is called today
	sealed    map[*thing]*thing // what each thing of today was; none of what is new
	all       []Change
}

// Since is what is not as a sealed report had it. Each difference is told once;
// case, spacing and punctuation are none.
func Since(sealed, today *Facts, words *catalog.Catalog) []Change {
	s := &since{
		words: words, was: sealed, now: today, a: sealed.account(), b: today.account(),
		moved: map[string]string{}, movedDays: map[string]string{}, files: map[string]string{}, sealed: map[*thing]*thing{},
	}
	if sealed.Record.Machine.Arrived != today.Record.Machine.Arrived { // told of the machine
		s.moved[ownFile] = today.Record.Machine.Arrived
	}
	s.entries()
	s.things()
	s.besides()
	s.lists()
	s.hours()
	s.machine()
	return s.all
}

// OnlyGone are those changes that the log no longer says.
func OnlyGone(changes []Change) []Change {
	return slices.DeleteFunc(slices.Clone(changes), func(c Change) bool { return !c.Gone })
}

// say tells of a change of what the log says since.
func (s *since) say(kind, key string, pairs ...any) {
	text := strings.TrimSpace(s.words.Say(key, pairs...)) // what a test says can be nothing
	s.all = append(s.all, Change{Kind: kind, Text: text})
}

// gone tells of what the log no longer says.
func (s *since) gone(kind, about, key string, pairs ...any) {
	s.all = append(s.all, Change{kind, s.words.Say(key, pairs...), true, kind + "\x00" + key + "\x00" + logbook.Folded(about)})
}

// plain is a text of the log as it stands inside a sentence.
func plain(text string) string {
	return strings.TrimRight(strings.Join(strings.Fields(text), " "), ".;, ")
}

// when is a day inside a sentence: "on March 2, 2026".
func (s *since) when(d string) string { return s.words.When(logbook.Date(d).Day()) }

func (s *since) date(d string) string { return date(s.words, d) }

// sameEntry are the ways in which two entries can be one, the surest first. A file
// that only has another name, or lies in a folder with another name, is the same.
var sameEntry = []func(was, now Evidence) bool{
	func(was, now Evidence) bool { return path.Base(was.File) == path.Base(now.File) },
	func(was, now Evidence) bool { return was.Date == now.Date && logbook.Same(was.Title, now.Title) },
	func(was, now Evidence) bool { return logbook.Same(was.Title, now.Title) },
	func(was, now Evidence) bool { return was.Date == now.Date },
}

// entries compares the list of entries.
func (s *since) entries() {
	taken := make([]bool, len(s.b.entries))
	left := s.a.entries
	for _, same := range sameEntry {
		var rest []Evidence
		for _, was := range left {
			if !s.met(was, same, taken) {
				rest = append(rest, was)
			}
		}
		left = rest
	}
	for _, was := range left {
		s.gone(SinceEntry, was.Date+was.Title, "since.entry-gone", "title", plain(was.Title), "date", s.date(was.Date))
	}
	for i, now := range s.b.entries {
		// Schema 1 names the entries that its statements rest on, not all.
		if !taken[i] && (!s.a.first || after(now.Date, s.was.AsOf)) {
			s.say(SinceEntry, "since.entry-new", "title", plain(now.Title), "date", s.date(now.Date))
		}
	}
}

// after tells whether a date stands behind another in a log.
func after(date, other string) bool { return logbook.Date(date).Compare(logbook.Date(other)) > 0 }

// met compares a sealed entry with the one of today that it is, if there is one.
func (s *since) met(was Evidence, same func(was, now Evidence) bool, taken []bool) bool {
	for i, now := range s.b.entries {
		if !taken[i] && same(was, now) {
			taken[i] = true
			s.files[was.File] = now.File
			s.entry(was, now)
			return true
		}
	}
	return false
}

func (s *since) entry(was, now Evidence) {
	if !logbook.Same(was.Title, now.Title) {
		s.gone(SinceEntry, was.Date+was.Title, "since.entry-retitled", "date", s.date(was.Date), "was", plain(was.Title), "now", plain(now.Title))
	}
	if was.Date != now.Date {
		s.moved[path.Base(was.File)], s.movedDays[was.Date] = now.Date, now.Date
		s.gone(SinceEntry, was.Date+was.Title, "since.entry-redated", "title", plain(was.Title), "was", s.date(was.Date), "now", s.date(now.Date))
	}
}

// day is the day that a claim has today, if nothing but its entry's date changed.
func (s *since) day(entry, date string) string {
	moved, known := s.moved[path.Base(entry)]
	if entry == "" {
		moved, known = s.movedDays[date]
	}
	if known {
		return moved
	}
	return date
}

// things compares the subjects.
func (s *since) things() {
	partner := s.partners()
	for was, now := range partner {
		s.sealed[now] = was
	}
	for _, was := range s.a.things {
		now := partner[was]
		if now == nil {
			s.goneThing(was)
			continue
		}
		s.thing(was, now)
	}
	for _, now := range s.b.things {
		if s.sealed[now] == nil && !(s.a.first && len(now.claims) == 0) && !s.newOfFirst(now) {
			s.newThing(now)
		}
	}
}

// newOfFirst tells whether a thing is new only because schema 1 did not list such:
// the list, the meter, and results of tests that it told of elsewhere.
func (s *since) newOfFirst(now *thing) bool {
	if !s.a.first {
		return false
	}
	return !slices.ContainsFunc(now.claims, func(c claim) bool { return after(c.date, s.was.AsOf) })
}

// partners finds what each sealed subject is today: by its key and name, by its
// key alone, by its name alone.
func (s *since) partners() map[*thing]*thing {
	partner, taken := map[*thing]*thing{}, map[*thing]bool{}
	for _, by := range []func(was, now *thing) bool{
		func(was, now *thing) bool { return was.key == now.key && was.folded() == now.folded() },
		func(was, now *thing) bool { return was.key != "" && was.key == now.key },
		func(was, now *thing) bool { return was.folded() == now.folded() },
		func(was, now *thing) bool {
			return now.kind == string(condition.KindList) || now.kind == string(condition.KindMeter)
		},
	} {
		for _, was := range s.a.things {
			for _, now := range s.b.things {
				if partner[was] == nil && !taken[now] && was.kind == now.kind && by(was, now) {
					partner[was], taken[now] = now, true
				}
			}
		}
	}
	return partner
}

// goneKeys are what is said of a subject that is not there any more.
var goneKeys = map[string]string{
	string(condition.KindDefect): "since.defect-gone", string(condition.KindPoint): "since.point-gone",
	string(condition.KindMeasurement): "since.reading-gone", string(condition.KindChange): "since.change-gone",
	string(condition.KindMissing): "since.missing-gone",
}

func (s *since) goneThing(was *thing) {
	if s.a.first && was.kind == string(condition.KindPoint) && len(was.claims) == 0 {
		return // its list was worded otherwise, and nobody had answered it
	}
	s.gone(was.kind, was.folded(), goneKeys[was.kind], "name", s.called(was))
}

// called is a subject's name inside a sentence.
func (s *since) called(t *thing) string {
	if t.kind == string(condition.KindMeasurement) && t.also != "" {
		return plain(t.name + " " + t.also)
	}
	return plain(t.name)
}

func (s *since) newThing(now *thing) {
	if len(now.claims) == 0 {
		s.say(now.kind, "since.point-new", "name", plain(now.name))
		return
	}
	for _, c := range now.claims {
		s.newClaim(now, c)
	}
	if now.kind == string(condition.KindMeasurement) {
		s.say(now.kind, "since.measured", "name", plain(now.name), "standing", s.standing(now.standing))
	}
}

// thing compares a subject with what it is today.
func (s *since) thing(was, now *thing) {
	lost, added, good := s.claims(was, now)
	s.limits(was, now)
	s.systems(was, now)
	s.safety(was, now)
	s.stands(was, now, lost, added, good || limited(was, now))
	s.opened(was, now)
}

// claims compares the histories, and tells how many claims are gone and new, and whether
// one that is new can make the thing stand better.
func (s *since) claims(was, now *thing) (lost, added int, good bool) {
	taken := make([]bool, len(now.claims))
	var left []claim
	for _, c := range was.claims {
		i := untaken(taken, func(i int) bool { return c.is(now.claims[i], s.day(c.entry, c.date)) })
		if i < 0 {
			left = append(left, c)
			continue
		}
		taken[i] = true
		if c.said == "" { // it said no more than that: what else is of that day is no news
			for k, n := range now.claims {
				taken[k] = taken[k] || n.date == now.claims[i].date
			}
		}
	}
	for _, c := range left {
		s.lostClaim(was, now, c, taken)
	}
	for i, c := range now.claims {
		if !taken[i] && !(s.a.first && !after(c.date, s.was.AsOf)) {
			s.newClaim(now, c)
			added++
			good = good || c.good()
		}
	}
	return len(left), added, good
}

// untaken is the number of the first that is not taken yet, and is so; -1 for none.
func untaken(taken []bool, so func(i int) bool) int {
	for i := range taken {
		if !taken[i] && so(i) {
			return i
		}
	}
	return -1
}

// lostClaim tells what became of a claim that is not there as it was: reworded,
// redated, or taken out.
func (s *since) lostClaim(was, now *thing, c claim, taken []bool) {
	said := s.claim(c)
	about := was.folded() + c.what + c.date + said
	find := func(so func(n claim) bool) int {
		return untaken(taken, func(i int) bool { return c.pairs(now.claims[i]) && so(now.claims[i]) })
	}
	name, pairs := s.called(was), []any{"when", s.when(c.date), "said", plain(said)}
	reworded, lost := "since.reworded", "since.lost"
	if path.Base(c.entry) == ownFile { // what stands there was said on no day
		reworded, lost = "since.reworded-undated", "since.lost-undated"
	}
	if i := find(func(n claim) bool { return n.date == s.day(c.entry, c.date) }); i >= 0 {
		taken[i] = true
		s.gone(was.kind, about, reworded, append(pairs, "name", name, "now", plain(s.claim(now.claims[i])))...)
		return
	}
	if i := find(c.same); i >= 0 {
		taken[i] = true
		if now.claims[i].date == c.date { // it stands in another entry, and those are told of
			return
		}
		s.gone(was.kind, about, "since.redated", append(pairs, "name", name, "now", s.when(now.claims[i].date))...)
		return
	}
	s.gone(was.kind, about, lost, append(pairs, "name", name)...)
}

// claim is what a claim says, in words: the log's own, and of an answer its result.
func (s *since) claim(c claim) string {
	switch {
	case c.said == "":
		return c.what
	case c.answer() && !logbook.Same(c.said, c.what):
		return s.words.Say("since.answer", "result", c.what, "note", plain(c.said))
	}
	return c.said
}

// newKeys are what is said of each kind of claim that the sealed report had not:
// without words of its own, and with them.
var newKeys = map[string][2]string{
	condition.Found: {"since.found", "since.found-said"}, condition.FoundAgain: {"since.found-again", "since.found-again-said"},
	condition.Repaired: {"since.repaired", "since.repaired-said"}, condition.Proved: {"since.proved", "since.proved-said"},
	condition.Around: {"since.around", "since.around-said"}, condition.Left: {"since.left", "since.left-said"},
	condition.Works: {"since.works", "since.works-said"}, condition.Fails: {"since.fails", "since.fails-said"},
	condition.Unanswered: {"since.unchecked", "since.unchecked-said"}, condition.NotHere: {"since.does-not-apply", "since.does-not-apply-said"},
	condition.Served: {"since.served", "since.served-said"}, condition.Read: {"since.read", "since.read-said"},
	condition.WasChanged: {"since.changed", "since.changed-said"}, condition.WasPutBack: {"since.put-back", "since.put-back-said"},
	condition.WasMissing: {"since.missing", "since.missing"}, condition.WasReplaced: {"since.fitted", "since.fitted-said"},
	condition.LeftOut: {"since.left-out", "since.left-out"}, condition.MeterRead: {"since.meter", "since.meter"},
	condition.MeterChanged: {"since.meter-replaced", "since.meter-replaced"}, condition.ShopSays: {"since.shop-says", "since.shop-says"},
}

func (s *since) newClaim(now *thing, c claim) {
	keys, known := newKeys[c.what]
	key := keys[1]
	switch {
	case !known:
		key = "since.detail"
	case logbook.Same(c.said, c.what) || logbook.Same(c.said, now.name):
		key = keys[0]
	}
	s.say(now.kind, key, "name", plain(now.name), "said", plain(c.said), "when", s.when(c.date))
}

// limits compares what a measured thing is held against.
func (s *since) limits(was, now *thing) {
	has := func(all []record.Limit, l record.Limit, so func(o record.Limit) bool) bool {
		return slices.ContainsFunc(all, func(o record.Limit) bool {
			same := sameValue(o.Limit, l.Limit) || s.a.first && logbook.Same(o.Limit, l.Limit)
			return same && so(o)
		})
	}
	anywhere := func(record.Limit) bool { return true }
	for _, l := range was.limits {
		switch {
		case has(now.limits, l, func(o record.Limit) bool { return s.a.first || logbook.Same(o.Source, l.Source) }):
		case has(now.limits, l, anywhere):
			i := slices.IndexFunc(now.limits, func(o record.Limit) bool { return sameValue(o.Limit, l.Limit) })
			s.other(was.kind, s.words.Say("since.of-source", "limit", benchtest.LimitSaid(s.words, l.Limit), "name", s.called(was)), l.Source, now.limits[i].Source)
		default:
			s.gone(was.kind, was.folded()+l.Limit, "since.limit-gone", "name", s.called(was), "limit", benchtest.LimitSaid(s.words, l.Limit))
		}
	}
	for _, l := range now.limits {
		if !has(was.limits, l, anywhere) && !s.a.first {
			s.say(now.kind, "since.limit", "name", plain(now.name), "limit", benchtest.LimitSaid(s.words, l.Limit))
		}
	}
}

// systems tells which systems the log had a thing in and has it in no longer: what
// counts as work on it, and as a matter of safety, goes by them.
func (s *since) systems(was, now *thing) {
	left := slices.DeleteFunc(slices.Clone(was.systems), func(w string) bool { return logbook.Known(w, now.systems) })
	if len(left) > 0 || len(was.systems) == 0 && len(now.systems) > 0 && !s.a.first {
		s.other(was.kind, s.words.Say("since.of-systems", "name", s.called(was)), s.words.Each(was.systems), s.words.Each(now.systems))
	}
}

// opened tells that a buyer need not be told of a thing before all else any more, where
// neither its standing nor its safety says so: the shop says that a change makes it
// safer. Written in afterwards, it turns what was said round.
func (s *since) opened(was, now *thing) {
	switch {
	case was.addsKnown && !was.adds && now.adds:
		s.gone(was.kind, was.folded(), "since.adds", "name", s.called(was))
	case was.adds && !now.adds:
		s.gone(was.kind, was.folded(), "since.adds-gone", "name", s.called(was))
	case was.open && !now.open && was.standing == now.standing && was.safety == now.safety:
		s.say(was.kind, "since.not-open", "name", s.called(was))
	}
}

func (s *since) safety(was, now *thing) {
	switch {
	case was.safety == now.safety || was.safety == "":
	case was.safety == "yes":
		s.gone(was.kind, was.folded()+was.safety, "since.safer", "name", s.called(was))
	case now.safety == "yes":
		s.say(now.kind, "since.safety", "name", plain(now.name))
	case now.safety == "no":
		s.say(now.kind, "since.safety-no", "name", plain(now.name))
	default:
		s.gone(was.kind, was.folded()+was.safety, "since.safety-unsaid", "name", s.called(was))
	}
}

// stands compares the standings. What stands kinder without a new word that makes it so
// is as much gone as what was taken out; where the reason is told already, it is not told
// again. Schema 1 had other rules, so that only what stands worse is told of it.
func (s *since) stands(was, now *thing, lost, added int, better bool) {
	kinder := was.standing.Worse(now.standing)
	pairs := []any{"name", plain(now.name), "was", s.standing(was.standing), "now", s.standing(now.standing)}
	switch {
	case was.standing == now.standing || was.standing == "" || s.a.first && kinder:
	case lost+added == 0 && (was.measured || now.measured): // the measurement's own standing tells it
	case kinder && !better && lost > 0:
	case kinder && !better && !s.leansOnBetter(now, leanest):
		s.gone(was.kind, was.folded()+string(was.standing), "since.kinder", pairs...)
	default:
		s.say(now.kind, "since.stands", pairs...)
	}
}

// noBetter are the claims that make nothing stand better.
var noBetter = []string{
	condition.Found, condition.FoundAgain, condition.Effect, condition.Remains, condition.Fails, condition.Unanswered, condition.Served,
	condition.WasChanged, condition.Why, condition.Affects, condition.Caution, condition.WasMissing, condition.WasTakenOut, condition.WentBack, condition.LeftOut,
}

// good tells whether a claim can make a thing stand better.
func (c claim) good() bool { return !slices.Contains(noBetter, c.what) }

// limited tells whether a thing has a limit by now, and had none.
func limited(was, now *thing) bool { return len(was.limits) == 0 && len(now.limits) > 0 }

// leanest is how far it is asked what a thing leans on: a defect on a point, that on a
// reading.
const leanest = 2

// leansOnBetter tells whether the log says more that is good of what lets a thing stand as
// it does.
func (s *since) leansOnBetter(now *thing, far int) bool {
	return far > 0 && slices.ContainsFunc(s.b.things, func(o *thing) bool {
		return o != now && logbook.Known(o.name, now.leans) && (s.better(o) || s.leansOnBetter(o, far-1))
	})
}

// better tells whether the log says something good of a thing that the sealed report had
// not.
func (s *since) better(now *thing) bool {
	was := s.sealed[now]
	if was == nil {
		was = &thing{}
	}
	return limited(was, now) || slices.ContainsFunc(now.claims, func(n claim) bool {
		return n.good() && !slices.ContainsFunc(was.claims, func(c claim) bool { return c.is(n, s.day(c.entry, c.date)) })
	})
}

// standing is a standing in words.
func (s *since) standing(of condition.Standing) string {
	return s.words.Say("standing." + of.Key())
}
