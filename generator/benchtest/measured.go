package benchtest

import (
	"slices"
	"sync"

	"asleft/generator/catalog"
	"asleft/generator/logbook"
	"asleft/generator/quantity"
)

// MeasuredAs is the name under which a reading is one with the results of a test: that
// of the test's result, where the reading goes by the test's name and the test finds the
// very thing that is read; else the reading's own.
func MeasuredAs(name string) string {
	if k := measuredBy(name); k != nil {
		return k.reads
	}
	return name
}

// measuredBy is the test whose result is the thing of that name; nil where there is none.
func measuredBy(name string) *kind { return readers()[logbook.Folded(name)] }

// readers are the tests that read what they find, by each folded name of that.
var readers = sync.OnceValue(func() map[string]*kind {
	all := map[string]*kind{}
	for _, k := range registered() {
		if k.reads != "" {
			for _, name := range k.goesBy() {
				all[logbook.Folded(name)] = k
			}
		}
	}
	return all
})

// goesBy are all names of the thing that a test reads.
func (k *kind) goesBy() []string {
	if k.readAs != nil {
		return append([]string{k.reads}, k.readAs...)
	}
	return slices.Concat([]string{k.reads, k.name}, k.also)
}

// A Judged is a plain reading held against all that limits it.
type Judged struct {
	Verdict quantity.Verdict
	Limits  []Sourced       // what it was held against
	Own     []logbook.Limit // the machine's own among them
}

// JudgePlain holds a reading that is of no test against the machine's own limit, and
// against what is published for it: what holds for every such reading, and what the
// tests of the same thing were held against, by what those say of the machine. The worse
// verdict counts, for a published safety limit cannot be loosened. Of several that the
// tests used, nobody can tell which is this reading's: it has to be inside them all, and
// is outside only if it is outside them all.
func JudgePlain(shop *logbook.Shop, m *logbook.Machine, r logbook.Reading, tested []PublishedLimit, words *catalog.Catalog) Judged {
	j := Judged{Verdict: quantity.NotLimited}
	k := measuredBy(r.What)
	j.Own = ownLimits(m, r, k)
	for _, own := range j.Own {
		if v, ok := j.against(r, own.Limit, own.Source); ok {
			j.Verdict = quantity.Worse(j.Verdict, atAltitude(shop, r, own.Limit, v))
		}
	}
	var verdicts []quantity.Verdict
	for _, p := range tested {
		if v, ok := j.against(r, p.limit, p.source); ok {
			verdicts = append(verdicts, v)
		}
	}
	j.Verdict = quantity.Worse(j.Verdict, agreed(verdicts))
	if p := always(m, r.What, k); !p.limit.IsZero() {
		if v, ok := j.against(r, p.limit, words.Say(p.source)); ok {
			j.Verdict = quantity.Worse(j.Verdict, v)
		}
	}
	if k != nil && !k.ceiling.limit.IsZero() {
		if v, err := quantity.JudgeReading(r.Value, r.Gauge, k.ceiling.limit); err == nil && v == quantity.Outside {
			_, _ = j.against(r, k.ceiling.limit, words.Say(k.ceiling.source))
			j.Verdict = quantity.Outside
		}
	}
	return j
}

// ownLimits are the machine's own limits under any name of the thing.
func ownLimits(m *logbook.Machine, r logbook.Reading, k *kind) []logbook.Limit {
	names := []string{r.What}
	if k != nil {
		names = append(names, k.goesBy()...)
	}
	return limitsBy(m, names, r.Where)
}

// limitsBy are the machine's own limits under any of the names, at any of the places
// and for every place; each once, the more exact first.
func limitsBy(m *logbook.Machine, names []string, wheres ...string) []logbook.Limit {
	var all []logbook.Limit
	for _, name := range names {
		for _, where := range wheres {
			for _, l := range m.LimitsFor(name, where) {
				if !l.Limit.IsZero() && !slices.ContainsFunc(all, func(o logbook.Limit) bool { return o == l }) {
					all = append(all, l)
				}
			}
		}
	}
	return all
}

// against holds a reading against one limit; false where there is none, or one of another
// dimension, which the logbook has reported.
func (j *Judged) against(r logbook.Reading, limit quantity.Limit, source string) (quantity.Verdict, bool) {
	if limit.IsZero() {
		return "", false
	}
	j.Limits = append(j.Limits, Sourced{Limit: limit.String(), Source: source})
	v, err := quantity.JudgeReading(r.Value, r.Gauge, limit)
	return v, err == nil
}

// agreed is the verdict of several limits of which one holds, whichever it is.
func agreed(all []quantity.Verdict) quantity.Verdict {
	if len(all) == 0 {
		return quantity.NotLimited
	}
	for _, v := range all[1:] {
		if v != all[0] {
			return quantity.TooClose
		}
	}
	return all[0]
}

// always is a published safety limit that holds for every reading of a thing on that
// machine; none where there is none.
func always(m *logbook.Machine, what string, k *kind) published {
	switch {
	case logbook.Same(what, tripCurrent):
		return tripCurrents()
	case k == nil:
	case k.name == tipSpeed:
		return atMost(tipLimit, "bench.source.tip-speed")
	case k.name == stoppingTime && isWalkBehind(m):
		return walkBehindStop()
	}
	return published{}
}

// isWalkBehind tells whether a machine is one of those that 16 CFR 1205 is about: by
// its kind, or by a sheet that it names beside that.
func isWalkBehind(m *logbook.Machine) bool {
	of := func(s *logbook.Sheet) bool { return s != nil && s.Kind == walkBehindMower }
	return of(m.Sheet) || slices.ContainsFunc(m.Sheets, of)
}

// walkBehindMower is the kind of the sheet of the machines that 16 CFR 1205 is
// about.
const walkBehindMower = "walk-behind mower"

// atAltitude is a verdict on a reading of compression in a shop above the sea: as it was
// read it is less than at sea level, by how much sources do not agree on, so that one
// below its limit is outside only if it is so by all of them.
func atAltitude(shop *logbook.Shop, r logbook.Reading, limit quantity.Limit, raw quantity.Verdict) quantity.Verdict {
	h := shop.Altitude
	if !logbook.Same(r.What, compression.name) || h.Sign() <= 0 || float(h.Base()) > troposphereM {
		return raw
	}
	verdicts := []quantity.Verdict{raw}
	for _, factor := range seaLevelFactors(h) {
		at := r.Value.Times(factor, mostDigits)
		if v, err := quantity.JudgeReading(at, r.Gauge.Times(factor, mostDigits), limit); err == nil {
			verdicts = append(verdicts, v)
		}
	}
	return agreed(verdicts)
}
