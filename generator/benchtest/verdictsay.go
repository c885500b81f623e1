package benchtest

import "asleft/generator/quantity"

// with is the reading of an input with the accuracy under another name than
// gauge, for a test that takes more than one tool.
func (b *bench) with(name, gauge string) reading { return reading{b.one(name), b.gaugeOf(gauge)} }

// accuracyOf is accuracy with a help of its own, for the second tool of a test.
func accuracyOf(name string, of quantity.Dimension, help string) input {
	in := accuracy(name, of)
	in.help = help
	return in
}

// last is the result that was found last; nil when there is none.
func (b *bench) last() *Result {
	if len(b.out.Results) == 0 {
		return nil
	}
	return &b.out.Results[len(b.out.Results)-1]
}

// whisker judges a finding and draws it against its limit.
func (b *bench) whisker(f finding) quantity.Verdict {
	verdict := b.find(f)
	if verdict == "" {
		return verdict
	}
	b.draw(Whisker, b.out.Results[len(b.out.Results)-1:])
	return verdict
}

// sayFor says what a verdict points to; the sentences for a value too close to
// its limit and for one without limit are the same for all tests. The places
// {value} and {limit} are those of the result found last.
func (b *bench) sayFor(verdict quantity.Verdict, inside, outside string, pairs ...any) {
	if r := b.last(); r != nil {
		pairs = append(pairs, "what", r.Name, "value", r.Value, "limit", r.Limit, "source", r.Source)
	}
	switch verdict {
	case quantity.Inside:
		b.say(inside, pairs...)
	case quantity.Outside:
		b.say(outside, pairs...)
	case quantity.TooClose:
		b.say("bench.other.too-close", pairs...)
	case quantity.NotLimited:
		b.say("bench.other.no-limit", pairs...)
	}
}
