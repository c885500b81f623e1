package desk

import (
	"regexp"
	"slices"
	"strconv"
	"strings"

	"asleft/generator/frontmatter"
	"asleft/generator/logbook"
)

// What somebody types in a form can be sound in a file and yet not be what was meant, or be
// told of there in words that help in a file alone. These are found here; the file on the disk
// may say the same all along, and is not asked about it.

var (
	// bareWhole is a number without a unit: 45 in a field for a length of time.
	bareWhole = regexp.MustCompile(`^\d{1,6}$`)
	// moneyMark is a sign or a code of a currency beside an amount.
	moneyMark = regexp.MustCompile(`^(?:\p{Sc}|[A-Z]{3}\b).*\d|\d.*(?:\p{Sc}|\b[A-Z]{3})$`)
)

// mostBare is the most hours that a number alone is taken for: more than that is more than a
// day's work, and most often means minutes.
const mostBare = 12

// typed are the problems of what was typed that the reader of a file does not find, or words
// for a file alone. Twofold is whether a number may mean two things: that is not to be kept.
func (d *Desk) typed(s writing) (all []logbook.Problem, twofold bool) {
	f, err := frontmatter.Read(s.text)
	if err != nil {
		return nil, false // it is told of already
	}
	was := map[string][]string{}
	if s.file != "" {
		there, err := d.now(s.file)
		if before, e := frontmatter.Read(there); err == nil && e == nil {
			eachText(before.Fields(), fieldsOf(s.kind), "", func(of *field, _, text string) { was[of.path] = append(was[of.path], text) })
		}
	}
	currency := d.currency()
	eachText(f.Fields(), fieldsOf(s.kind), "", func(of *field, path, text string) {
		if slices.Contains(was[of.path], text) {
			return
		}
		says := ""
		switch {
		case of.ask == length || of.path == "hours":
			n, err := strconv.Atoi(text)
			if err != nil || !bareWhole.MatchString(text) || n <= mostBare {
				return
			}
			says, twofold = d.words.Say("desk.bare-length", "read", text, "short", logbook.Minutes(n).String()), true
		case of.ask == clock && text == "24:00":
			says = d.words.Say("desk.midnight")
		case of.ask == money && moneyMark.MatchString(text):
			says = d.words.Say("desk.other-money", "read", text, "currency", currency)
		default:
			return
		}
		all = append(all, logbook.Problem{Place: logbook.Place{File: s.file, Field: path}, Says: says})
	})
	return all, twofold
}

// currency is that of the shop; empty where it is not known.
func (d *Desk) currency() string {
	if r := d.o.Reading(); r != nil {
		return r.Shop.Currency
	}
	return ""
}

// eachText visits the texts of fields that a form asks for, with their paths as a problem has
// them: hours[1].lasted.
func eachText(n frontmatter.Node, of []*field, path string, do func(of *field, path, text string)) {
	for _, in := range n.Fields {
		f := find(of, strings.ReplaceAll(in.Name, " ", "_"))
		if f == nil {
			continue
		}
		at := path + f.name
		switch in.Node.Kind {
		case frontmatter.Text:
			do(f, at, strings.TrimSpace(in.Node.Text))
		case frontmatter.Fields:
			eachText(in.Node, f.of, at+".", do)
		case frontmatter.List:
			for i, item := range in.Node.Items {
				eachText(spelledOut(item, f.of), f.of, at+"["+strconv.Itoa(i)+"].", do)
			}
		}
	}
}

// inPlaceOf are the reader's problems with the form's own in the place of those that stand
// at the same field.
func inPlaceOf(all, own []logbook.Problem) []logbook.Problem {
	all = slices.DeleteFunc(all, func(p logbook.Problem) bool {
		return slices.ContainsFunc(own, func(o logbook.Problem) bool { return o.Field == p.Field })
	})
	return append(all, own...)
}
