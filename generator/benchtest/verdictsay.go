package benchtest

import (
	"slices"
	"strings"

	"asleft/generator/quantity"
)

// with is the reading of an input with the accuracy under another name than
// gauge, for a test that takes more than one tool.
func (b *bench) with(name, gauge string) reading {
	b.asRead[name] = true
	return b.readingOf(b.given[name], b.gaugeOf(gauge))
}

// accuracyOf is accuracy with a help of its own, for the second tool of a test.
func accuracyOf(name string, of quantity.Dimension, help string) input {
	in := accuracy(name, of)
	in.help = help
	return in
}

// last is the result that was found last.
func (b *bench) last() *Result {
	return &b.out.Results[len(b.out.Results)-1]
}

// whisker judges a finding and draws it against its limit.
func (b *bench) whisker(f finding) quantity.Verdict {
	verdict := b.find(f)
	b.draw(Whisker, b.out.Results[len(b.out.Results)-1:])
	return verdict
}

// sayFor says what a verdict points to, by the side on which a value lies outside
// its limit; the sentences for a value too close to its limit, for one without
// limit and for a side that the test has no sentence for are the same for all
// tests. The places {value} and {limit} are those of the last result of that
// verdict.
func (b *bench) sayFor(verdict quantity.Verdict, inside string, outside sides, pairs ...any) {
	r := b.lastThat(verdict)
	pairs = append(pairs, "what", r.Name, "value", r.Value, "limit", LimitSaid(b.words, r.Limit), "source", r.Source)
	switch verdict {
	case quantity.Inside:
		b.say(inside, pairs...)
	case quantity.Outside:
		b.say(outside.always(*r), pairs...)
	case quantity.TooClose:
		b.say("bench.other.too-close", pairs...)
	case quantity.NotLimited:
		b.say("bench.other.no-limit", pairs...)
	}
}

// lastThat is the result of that verdict that was found last, or the last of all.
func (b *bench) lastThat(verdict quantity.Verdict) *Result {
	for i, r := range slices.Backward(b.out.Results) {
		if r.Verdict == verdict {
			return &b.out.Results[i]
		}
	}
	return b.last()
}

// sayNoGauge says that no tool's accuracy was recorded, where a reading was judged
// without it; of several tools it says which.
func (b *bench) sayNoGauge() {
	var missing []string
	given := false
	for _, in := range b.kind.inputs {
		switch {
		case in.sort != anAccuracy:
		case b.has(in.name):
			given = true
		case b.hasReadingOf(in):
			missing = append(missing, strings.ReplaceAll(in.name, "_", " "))
		}
	}
	limited := slices.ContainsFunc(b.out.Results, func(r Result) bool { return r.Limit != "" })
	switch {
	case len(missing) == 0 || !limited:
	case given:
		b.say("bench.side.no-gauge-of", "tools", b.words.List(missing))
	default:
		b.say("bench.side.no-gauge")
	}
}

// hasReadingOf tells whether a reading was given that this tool took.
func (b *bench) hasReadingOf(tool input) bool {
	return slices.ContainsFunc(b.kind.inputs, func(in input) bool {
		if in.sort != aMeasure || !b.has(in.name) {
			return false
		}
		if tool.took != nil {
			return slices.Contains(tool.took, in.name)
		}
		return in.of == tool.of && b.asRead[in.name] && !b.readByOther(in.name)
	})
}

// readByOther tells whether another tool of the test says that it took a reading.
func (b *bench) readByOther(name string) bool {
	return slices.ContainsFunc(b.kind.inputs, func(in input) bool { return slices.Contains(in.took, name) })
}
