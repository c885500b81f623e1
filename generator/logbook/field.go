package logbook

import (
	"errors"
	"slices"
	"strconv"
	"strings"

	"github.com/govalues/decimal"
	"go.yaml.in/yaml/v4"

	"asleft/generator/quantity"
	"asleft/generator/spelling"
)

// text is a field of plain text.
func (f *mapping) text(name string) string {
	n := f.value(name)
	switch {
	case n == nil:
		return ""
	case n.Kind == yaml.ScalarNode: // its path is a string to be made, and mostly for nothing
		return shared(strings.TrimSpace(n.Value))
	}
	return f.src.scalar(n, f.at(name).Field)
}

func (s *source) scalar(n *yaml.Node, path string) string {
	if n.Kind != yaml.ScalarNode {
		s.report(s.at(n.Line, path), "problem.not-text", "read", shown(n))
		return ""
	}
	return shared(strings.TrimSpace(n.Value))
}

// need is text that has to be there.
func (f *mapping) need(name string) string {
	f.demand(name)
	return f.text(name)
}

// name is what a thing is called, which has to be there and to be seen: one of signs or
// of letters that nobody sees would be told as nothing.
func (f *mapping) name(name string) string {
	s := f.need(name)
	if s != "" && !nameSeen(s) {
		f.report(name, "problem.name-unseen", "read", s)
	}
	return s
}

// demand reports a field that has to be there and is not.
func (f *mapping) demand(name string) {
	if f.value(name) == nil && !f.broken {
		f.report(name, "problem.required", "field", name)
	}
}

// oneOf is a field with a closed list of words; empty when not given or not
// one of them.
func (f *mapping) oneOf(name string, words []string) string {
	s := f.text(name)
	if s == "" {
		return ""
	}
	return f.src.oneOf(f.at(name), s, words)
}

func (s *source) oneOf(at Place, read string, words []string) string {
	if i := slices.Index(words, read); i >= 0 {
		return words[i] // one string for all that say so
	}
	if near := spelling.Nearest(read, words); near != "" {
		s.report(at, "problem.not-one-of-near", "read", read, "near", near, "words", strings.Join(words, " | "))
	} else {
		s.report(at, "problem.not-one-of", "read", read, "words", strings.Join(words, " | "))
	}
	return ""
}

// system is the name of a part of the machine.
func (f *mapping) system(name string) string {
	s := f.text(name)
	if s == "" {
		return ""
	}
	return f.src.system(f.at(name), s)
}

// system is a part of the machine by its name. Where shop.md could not be
// read, nobody knows which ones the shop has added. A name that differs from a
// known one only in case, spacing or number is told as that.
func (s *source) system(at Place, read string) string {
	if s.rules.systems == nil || slices.Contains(s.rules.systems, read) {
		return read
	}
	for _, known := range s.rules.systems {
		if SameNumber(read, known) {
			s.report(at, "problem.system-written", "read", read, "near", known)
			return known
		}
	}
	return s.oneOf(at, read, s.rules.systems)
}

// eachSystem goes through a list of names of parts of the machine.
func (f *mapping) eachSystem(name string, use func(at Place, system string)) {
	for _, t := range f.texts(name) {
		if system := f.src.system(t.Place, t.text); system != "" {
			use(t.Place, system)
		}
	}
}

func (f *mapping) needSystem(name string) string {
	f.demand(name)
	return f.system(name)
}

func (f *mapping) yes(name string, otherwise bool) bool {
	switch s := f.text(name); strings.ToLower(s) {
	case "":
		return otherwise
	case "yes", "true":
		return true
	case "no", "false":
		return false
	default:
		f.report(name, "problem.not-yes-no", "read", s)
		return otherwise
	}
}

// safety is what the log says of it; nothing where it says nothing. It is
// never taken for a no.
func (f *mapping) safety() Safety {
	switch s := f.text("safety"); strings.ToLower(s) {
	case "":
	case "yes", "true":
		return SafetyYes
	case "no", "false":
		return SafetyNo
	default:
		f.report("safety", "problem.safety", "read", s)
	}
	return NotSaid
}

// tellingText is text that has to say something: three words or more, or a
// number. A photo says as much, where the item names one.
func (f *mapping) tellingText(name string, photo bool) string {
	s := f.text(name)
	if s != "" && !photo && !Telling(s) {
		f.report(name, "problem.says-nothing", "read", s)
	}
	return s
}

// reason is text that says why, which has to say something as well.
func (f *mapping) reason(name string) string {
	s := f.text(name)
	if s != "" && !Telling(s) {
		f.report(name, "problem.no-reason", "read", s, "field", name)
	}
	return s
}

// firstDay is the day before which no log can be: the engines that this is
// about were not built yet, and a year such as 0206 is a slip of the finger.
const firstDay Date = "1900-01-01"

func (f *mapping) date(name string) Date {
	d, _, _ := f.moment(name)
	return d
}

// moment is a date, with its time of day where one is written behind it.
func (f *mapping) moment(name string) (d Date, c Clock, hasClock bool) {
	s := f.text(name)
	if s == "" {
		return "", 0, false
	}
	d, c, hasClock, stamped := parseStamp(s, f.src.rules.zone)
	var err error
	if !stamped {
		d, err = ParseDate(s)
	}
	switch {
	case err != nil:
		f.badDate(name, s)
		return "", 0, false
	case d.Before(firstDay):
		f.report(name, "problem.long-ago", "read", s)
		return "", 0, false
	case f.src.rules.today.Before(d):
		f.report(name, "problem.future-date", "read", s, "today", f.src.rules.today)
		return "", 0, false
	}
	return d, c, hasClock
}

// badDate reports what is no date, with the way to write it where that is sure.
func (f *mapping) badDate(name, read string) {
	switch near, season := nearDate(read); {
	case season != "":
		f.report(name, "problem.date-season", "read", read, "year", near, "month", season)
	case near != "":
		f.report(name, "problem.date-near", "read", read, "near", near)
	default:
		f.report(name, "problem.date", "read", read)
	}
}

func (f *mapping) needDate(name string) Date {
	f.demand(name)
	return f.date(name)
}

func (f *mapping) clock(name string) (Clock, bool) {
	s := f.text(name)
	if s == "" {
		return 0, false
	}
	c, err := ParseClock(s)
	if err != nil {
		f.report(name, "problem.clock", "read", s)
		return 0, false
	}
	return c, true
}

func (f *mapping) minutes(name string) Minutes {
	s := f.text(name)
	if s == "" {
		return 0
	}
	m, err := ParseMinutes(s)
	if err != nil {
		f.report(name, "problem.minutes", "read", s)
	}
	return m
}

// maxAmount and maxCount keep a line's product and any sum of lines within the
// 19 digits of a decimal.
var (
	maxAmount = decimal.MustNew(1_000_000_000, 0)
	maxCount  = decimal.MustNew(1_000_000, 0)
)

// maxPlaces is how fine a number of things, or a tax, can be.
const maxPlaces = 6

func (f *mapping) amount(name string) Amount {
	return f.amountIn(name, f.text(name))
}

// amountIn is the money that a text in that field says.
func (f *mapping) amountIn(name, s string) Amount {
	if s == "" {
		return Amount{}
	}
	if !plainNumber(s) {
		f.report(name, "problem.money", "read", s)
		return Amount{}
	}
	r := f.src.rules
	_, frac, _ := strings.Cut(s, ".")
	switch {
	case r.digits == 0 && frac != "":
		f.report(name, "problem.money-no-decimals", "read", s, "currency", r.currency)
		return Amount{}
	case r.digits > 0 && len(frac) > r.digits:
		f.report(name, "problem.money-decimals", "read", s, "has", r.number(len(frac)), "currency", r.currency, "digits", r.number(r.digits))
		return Amount{}
	}
	d, err := decimal.Parse(s)
	if err != nil || d.Cmp(maxAmount) > 0 {
		f.report(name, "problem.money-too-big", "read", s)
		return Amount{}
	}
	return Amount{d, true}
}

func (f *mapping) needAmount(name string) Amount {
	f.demand(name)
	return f.amount(name)
}

// number of things, as a plain decimal; otherwise where not given.
func (f *mapping) number(name string, otherwise decimal.Decimal) decimal.Decimal {
	if read := f.text(name); read != "" {
		return f.numberIn(name, read, otherwise)
	}
	return otherwise
}

// numberIn is the number that a text in that field says.
func (f *mapping) numberIn(name, s string, otherwise decimal.Decimal) decimal.Decimal {
	if !plainNumber(s) {
		f.report(name, "problem.number", "read", s)
		return otherwise
	}
	_, frac, _ := strings.Cut(s, ".")
	d, err := decimal.Parse(s)
	if err != nil || d.Cmp(maxCount) > 0 || len(frac) > maxPlaces {
		f.report(name, "problem.number-size", "read", s)
		return otherwise
	}
	return d
}

func (f *mapping) whole(name string) int {
	s := f.text(name)
	if s == "" {
		return 0
	}
	n, err := strconv.ParseUint(s, 10, 16)
	if err != nil || n == 0 {
		f.report(name, "problem.whole-number", "read", s)
		return 0
	}
	return int(n)
}

// quantity is a number with a unit of that dimension.
func (f *mapping) quantity(name string, want quantity.Dimension) quantity.Quantity {
	q := f.anyQuantity(name, want)
	if !q.IsZero() && q.Dimension() != want {
		f.report(name, "problem.dimension", "read", q.String(), "want", want, "got", q.Dimension())
		return quantity.Quantity{}
	}
	return q
}

// anyQuantity is a number with a unit; what is said of a mistake fits the
// dimensions that the field takes, where those are known.
func (f *mapping) anyQuantity(name string, want ...quantity.Dimension) quantity.Quantity {
	s := f.text(name)
	if s == "" {
		return quantity.Quantity{}
	}
	q, err := quantity.Parse(s)
	if err != nil {
		q, err = quantity.ParseAs(s, want...)
	}
	if err != nil {
		f.unreadable(name, s, err)
		return quantity.Quantity{}
	}
	return q
}

// reading is what a gauge showed, which may be about right, a range or open.
func (f *mapping) reading(name string) quantity.Reading {
	s := f.text(name)
	if s == "" {
		return quantity.Reading{}
	}
	r, err := quantity.ParseReading(s)
	if err != nil {
		f.unreadable(name, s, err)
		return quantity.Reading{}
	}
	return r
}

// shownBy is what a meter that shows that unit reads, which cannot be below nothing.
func (f *mapping) shownBy(name string, like quantity.Unit) quantity.Quantity {
	s := f.text(name)
	if s == "" {
		return quantity.Quantity{}
	}
	q, err := quantity.ParseLike(s, like)
	switch {
	case err != nil:
		f.unreadable(name, s, err)
		return quantity.Quantity{}
	case q.Sign() < 0:
		f.report(name, "problem.negative", "read", q.String())
		return quantity.Quantity{}
	}
	return q
}

// unreadable reports a quantity, limit or gauge that is none, or a limit whose
// two ends cannot be held against each other.
func (f *mapping) unreadable(name, read string, err error) {
	var parse *quantity.ParseError
	if errors.As(err, &parse) {
		f.report(name, "problem.quantity", "read", read, "expected", parse.Expected, "mend", parse.Mend)
		return
	}
	f.report(name, "problem.limit", "read", read)
}

// number is a small count as a person says it.
func (r *rules) number(n int) string {
	keys := []string{"number.1", "number.2", "number.3", "number.4", "number.5", "number.6", "number.7", "number.8", "number.9"}
	if n >= 1 && n <= len(keys) {
		return r.words.Say(keys[n-1])
	}
	return strconv.Itoa(n)
}
