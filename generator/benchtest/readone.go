package benchtest

import (
	"errors"
	"math/big"
	"regexp"
	"slices"
	"strings"
	"sync"

	"asleft/generator/logbook"
	"asleft/generator/quantity"
	"asleft/generator/spelling"
)

// readOne reads one plain value. Its word is the text to show.
func (b *bench) readOne(t input, in logbook.Input) value {
	v := value{word: in.Text}
	switch {
	case in.List || in.Items != nil:
		b.wrong(t, in, "problem.bench-not-one")
	case t.sort == aMeasure:
		return b.readMeasure(t, in)
	case t.sort == anAccuracy:
		g, err := quantity.ParseGauge(in.Text)
		if err != nil {
			b.unread(t, in, "problem.bench-accuracy", err)
		}
		v.gauge, v.word = g, g.String()
	case t.sort == aNumber || t.sort == aCount:
		if v.number = plain(in.Text, t.sort); v.number == nil {
			b.wrong(t, in, "problem.bench-number")
		}
	case t.sort == aChoice:
		v.word = b.readChoice(t, in)
	case t.sort == aYesNo:
		v.yes = strings.EqualFold(in.Text, "yes") || strings.EqualFold(in.Text, "true")
		if !v.yes && !strings.EqualFold(in.Text, "no") && !strings.EqualFold(in.Text, "false") {
			b.wrong(t, in, "problem.bench-yes-no")
		}
	case t.name == systemInput.name && !slices.Contains(b.shop.Systems, in.Text):
		b.wrong(t, in, "problem.bench-system", "systems", strings.Join(b.shop.Systems, ", "))
	}
	return v
}

func (b *bench) readMeasure(t input, in logbook.Input) value {
	q, err := quantity.Parse(in.Text)
	if err != nil {
		return b.readLoose(t, in)
	}
	b.fits(t, in, q)
	return value{quantity: q, word: q.String()}
}

// fits reports a quantity of another dimension, and one of a sign that the input
// does not take.
func (b *bench) fits(t input, in logbook.Input, q quantity.Quantity) {
	switch {
	case q.Dimension() != t.of:
		b.wrong(t, in, "problem.bench-dimension", "got", q.Dimension().String())
	case q.Unit() == t.never && t.never == quantity.VoltAC:
		b.wrong(t, in, "problem.bench-alternates")
	case q.Unit() == t.never:
		b.wrong(t, in, "problem.bench-alternates-not")
	case t.sign == aboveZero && q.Base().Sign() <= 0:
		b.wrong(t, in, "problem.bench-not-above-zero")
	case t.sign == zeroOrMore && q.Base().Sign() < 0:
		b.wrong(t, in, "problem.bench-below-zero")
	}
}

// unread reports text that quantity could not read, in its words.
func (b *bench) unread(t input, in logbook.Input, key string, err error) {
	var wrong *quantity.ParseError
	if errors.As(err, &wrong) {
		b.wrong(t, in, key, "expected", wrong.Expected, "mend", wrong.Mend)
	} else {
		b.wrong(t, in, key, "expected", err.Error(), "mend", "")
	}
}

// readChoice is the word that is meant, as the test has it.
func (b *bench) readChoice(t input, in logbook.Input) string {
	for _, w := range t.words {
		if strings.EqualFold(w, in.Text) {
			return w
		}
	}
	key, near := "problem.bench-word", spelling.Nearest(in.Text, t.words)
	if near != "" {
		key = "problem.bench-word-near"
	}
	b.wrong(t, in, key, "near", near)
	return ""
}

var (
	plainNumber = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^([0-9]{1,9}(?:\.[0-9]{1,9})?)(?: ?: ?1)?$`) })
	wholeNumber = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^([0-9]{1,9})$`) })
)

// plain reads a number above zero; nil when it is none.
func plain(text string, s sort) *big.Rat {
	form := plainNumber()
	if s == aCount {
		form = wholeNumber()
	}
	m := form.FindStringSubmatch(text)
	if m == nil {
		return nil
	}
	if n, _ := new(big.Rat).SetString(m[1]); n.Sign() > 0 {
		return n
	}
	return nil
}

// checkGauges reports an accuracy that is neither of the dimension that it is
// for nor in %.
func (b *bench) checkGauges(takes []input) {
	for _, t := range takes {
		g := b.given[t.name].gauge
		percent := g.Size().Dimension() == quantity.Ratio && t.of != quantity.Temperature
		if !g.IsZero() && g.Size().Dimension() != t.of && !percent {
			b.report(t.name, "problem.bench-accuracy-dimension", "read", g, "wants", t.wants(b.words), "example", t.example())
		}
	}
}
