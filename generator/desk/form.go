package desk

import (
	"cmp"
	"maps"
	"net/url"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"asleft/generator/benchtest"
	"asleft/generator/frontmatter"
	"asleft/generator/logbook"
)

// The names of a form's fields are their paths, with a number for each row of a list:
//
//	f.measured.0.what    a text
//	f.worked_on          ticked boxes: once for each, and once with nothing
//	f.measured.*list     the form has the rows of this list, even where none is left
//	f.measured.0.*was    which item of the file's list the row is, counted from 1
//	story                the text below the fields
//	base                 the digest of the file that the form was made from
//
// A field that a form has not got stays as the file has it.
const (
	fieldPrefix = "f."
	wasName     = "*was"
	listName    = "*list"
)

// mostRows bounds each list of a form.
const mostRows = 500

// A branch is what a form sent for a field, and for those that stand in it.
type branch struct {
	values   []string
	in       map[string]*branch
	currency string // of the shop
	single   bool   // an input of a bench test that takes one reading
}

// money has prices be in the shop's currency.
func (b *branch) money(currency string) {
	b.currency = currency
	for _, in := range b.in {
		in.money(currency)
	}
}

func branchOf(v url.Values) *branch {
	top := &branch{in: map[string]*branch{}}
	for name, values := range v {
		path, ok := strings.CutPrefix(name, fieldPrefix)
		if !ok || strings.Count(path, ".") > 8 || slices.Contains(strings.Split(path, "."), "") {
			continue
		}
		at := top
		for part := range strings.SplitSeq(path, ".") {
			if at.in == nil {
				at.in = map[string]*branch{}
			}
			if at.in[part] == nil {
				at.in[part] = &branch{}
			}
			at = at.in[part]
		}
		at.values = values
	}
	return top
}

// forget has the rows be new ones, whatever the file they were numbered by.
func (b *branch) forget() {
	delete(b.in, wasName)
	for _, in := range b.in {
		in.forget()
	}
}

// rows are the numbers of a list's rows, in order.
func (b *branch) rows() []int {
	var all []int
	for name := range b.in {
		if n, err := strconv.Atoi(name); err == nil && n >= 0 && n < mostRows {
			all = append(all, n)
		}
	}
	slices.Sort(all)
	return all
}

// text is the last value that was sent, with the line ends of a file.
func (b *branch) text() string {
	if len(b.values) == 0 {
		return ""
	}
	return lined(b.values[len(b.values)-1])
}

func lined(s string) string {
	return strings.TrimSpace(strings.ReplaceAll(strings.ReplaceAll(s, "\r\n", "\n"), "\r", "\n"))
}

// placed are the rows of the form that the items of the file will stand in: where a
// problem names an item, it is shown at this row.
type placed map[string]int

// fieldsWanted is what fields are to say: what the form sent in place of what was,
// and all else as it was.
func fieldsWanted(was frontmatter.Node, sent *branch, of []*field, path string, rows placed) frontmatter.Node {
	want := frontmatter.Node{Kind: frontmatter.Fields, From: was.From}
	had := map[string]bool{}
	if path == "tests." && sent.in["test"] != nil {
		kind, known := benchtest.KindNamed(sent.in["test"].text())
		for name, b := range sent.in {
			b.single = known && !slices.ContainsFunc(kind.Inputs, func(in benchtest.InputHelp) bool { return in.Name == name && in.Several })
		}
	}
	keep := func(name string, n frontmatter.Node, there bool) {
		if there {
			want.Fields = append(want.Fields, frontmatter.Field{Name: name, Node: n})
		}
	}
	for _, f := range was.Fields {
		name := strings.ReplaceAll(f.Name, " ", "_")
		had[name], had[f.Name] = true, true
		b := cmp.Or(sent.in[f.Name], sent.in[name])
		if b == nil {
			keep(f.Name, f.Node, true)
			continue
		}
		n, there := wanted(f.Node, b, find(of, name), path+name, rows)
		if empty := f.Node.Kind == frontmatter.Text && f.Node.Text == ""; empty && !there {
			n, there = f.Node, true // an empty field is no news
		}
		keep(f.Name, n, there)
	}
	for _, f := range of {
		if b := sent.in[f.name]; b != nil && !had[f.name] {
			had[f.name] = true
			n, there := wanted(frontmatter.Node{}, b, f, path+f.name, rows)
			keep(f.name, n, there)
		}
	}
	rest := slices.Sorted(maps.Keys(sent.in)) // the inputs of a test, the features of a machine
	if path == "tests." {
		rest = inputsInOrder(rest, sent)
	}
	for _, name := range rest {
		if !had[name] && !strings.HasPrefix(name, "*") {
			n, there := wanted(frontmatter.Node{}, sent.in[name], nil, path+name, rows)
			keep(name, n, there)
		}
	}
	return want
}

// inputsInOrder are the fields of a bench test as a person would write them.
func inputsInOrder(names []string, sent *branch) []string {
	order := []string{"test", "where", "as_found"}
	if b := sent.in["test"]; b != nil {
		kind, _ := benchtest.KindNamed(b.text())
		for _, in := range kind.Inputs {
			order = append(order, in.Name)
		}
	}
	rank := func(name string) int {
		if n := slices.Index(order, name); n >= 0 {
			return n
		}
		return len(order)
	}
	slices.SortStableFunc(names, func(a, b string) int { return rank(a) - rank(b) })
	return names
}

// wanted is what one field is to say; false where it is to be left out.
func wanted(was frontmatter.Node, sent *branch, f *field, path string, rows placed) (frontmatter.Node, bool) {
	var of []*field
	ask := line
	if f != nil {
		of, ask = f.of, f.ask
	}
	numbers := sent.rows()
	switch {
	case len(numbers) > 0 || sent.in[listName] != nil:
		return itemsWanted(was, sent, of, path, numbers, rows)
	case ask == lines || ask == systems:
		return textsWanted(was, sent, ask)
	case len(sent.in) > 0:
		n := fieldsWanted(was, sent, of, path+".", rows)
		return n, len(n.Fields) > 0
	}
	text := sent.text()
	all, several := readings(text), f == nil && strings.HasPrefix(path, "tests.") && !sent.single
	if several && (len(all) > 1 || len(all) == 1 && was.Kind == frontmatter.List) {
		n := frontmatter.Node{Kind: frontmatter.List}
		for _, one := range all {
			n.Items = append(n.Items, frontmatter.Node{Kind: frontmatter.Text, Text: one})
		}
		if was.Kind == frontmatter.List && strings.Join(textsOf(was), ", ") == strings.Join(textsOf(n), ", ") {
			return was, true
		}
		return n, true
	}
	if was.Kind == frontmatter.Text && text == lined(was.Text) {
		return was, text != ""
	}
	if several && len(all) == 1 {
		text = all[0]
	}
	if text = spelled(ask, path, text, sent.currency); sent.single {
		text = decimalComma.ReplaceAllString(text, "$1.$2$3")
	}
	return frontmatter.Node{Kind: frontmatter.Text, Text: text}, text != ""
}

// unitBehind is a comma between two digits with a unit behind them: it may stand for a decimal
// point. What stands before it would be a reading without a unit, which no test takes.
var unitBehind = regexp.MustCompile(`(\d),(\d+\s*[\p{L}°%"'])`)

// readings are those that a text names, with commas or on lines of their own. One that may
// have a comma for its point stays whole: the test says how to write it.
func readings(text string) []string {
	const within = "\x00"
	var all []string
	for one := range strings.FieldsFuncSeq(unitBehind.ReplaceAllString(text, "${1}"+within+"${2}"), func(r rune) bool { return r == ',' || r == '\n' }) {
		all = append(all, strings.TrimSpace(strings.ReplaceAll(one, within, ",")))
	}
	return all
}

func itemsWanted(was frontmatter.Node, sent *branch, of []*field, path string, numbers []int, rows placed) (frontmatter.Node, bool) {
	list := frontmatter.Node{Kind: frontmatter.List}
	var added []frontmatter.Node
	var addedRows []int
	put := func(item frontmatter.Node, row int) {
		rows[path+"["+strconv.Itoa(len(list.Items))+"]"] = row
		list.Items = append(list.Items, item)
	}
	for _, row := range numbers {
		b := sent.in[strconv.Itoa(row)]
		var from frontmatter.Node
		if w := b.in[wasName]; w != nil {
			if n, err := strconv.Atoi(w.text()); err == nil && n > 0 && n <= len(was.Items) {
				from = was.Items[n-1]
				from.From = n
			}
		}
		item := fieldsWanted(spelledOut(from, of), b, of, path+".", rows)
		if path == "checks" && row >= pointsFrom && unsaid(item) {
			continue
		}
		if from.From > 0 && from.Kind == frontmatter.Text && len(of) > 0 && len(item.Fields) == 1 && item.Fields[0].Name == of[0].name && item.Fields[0].Node.Text == from.Text {
			put(from, row)
			continue
		}
		switch {
		case len(item.Fields) == 0:
		case from.From > 0:
			put(item, row)
		default:
			added, addedRows = append(added, item), append(addedRows, row)
		}
	}
	for i, item := range added {
		put(item, addedRows[i])
	}
	return list, len(list.Items) > 0
}

// unsaid tells whether a point of the list has no answer and no note.
func unsaid(check frontmatter.Node) bool {
	result, _ := check.Find("result")
	_, note := check.Find("note")
	return (result.Text == "" || result.Text == logbook.NotChecked) && !note
}

// spelledOut is an item that is a text alone (missing: [depth skid]) as the field that it
// stands for: the first of its fields.
func spelledOut(item frontmatter.Node, of []*field) frontmatter.Node {
	if item.Kind != frontmatter.Text || item.Text == "" || len(of) == 0 {
		return item
	}
	return frontmatter.Node{Kind: frontmatter.Fields, From: item.From, Fields: []frontmatter.Field{textField(of[0].name, item.Text)}}
}

// textsWanted is a list of texts. One that was there already keeps its place.
func textsWanted(was frontmatter.Node, sent *branch, ask asking) (frontmatter.Node, bool) {
	texts := sent.values
	if ask == lines {
		texts = strings.Split(sent.text(), "\n")
	}
	left := slices.Clone(was.Items)
	var kept, added []frontmatter.Node
	for _, t := range texts {
		t = lined(t)
		if t == "" {
			continue
		}
		n := slices.IndexFunc(left, func(n frontmatter.Node) bool { return n.Kind == frontmatter.Text && lined(n.Text) == t })
		if n < 0 {
			added = append(added, frontmatter.Node{Kind: frontmatter.Text, Text: t})
			continue
		}
		kept = append(kept, left[n])
		left = slices.Delete(left, n, n+1)
	}
	slices.SortStableFunc(kept, func(a, b frontmatter.Node) int { return a.From - b.From })
	all := append(kept, added...)
	if was.Kind == frontmatter.Text && was.Text != "" && len(all) == 1 { // one text where a list may stand
		if all[0].Text == lined(was.Text) {
			return was, true
		}
		return all[0], true
	}
	return frontmatter.Node{Kind: frontmatter.List, Items: all}, len(all) > 0
}

// withField are fields with one more, or with another in its place.
func withField(want frontmatter.Node, f frontmatter.Field) frontmatter.Node {
	if n := slices.IndexFunc(want.Fields, func(had frontmatter.Field) bool { return had.Name == f.Name }); n >= 0 {
		want.Fields[n] = f
	} else {
		want.Fields = append(want.Fields, f)
	}
	return want
}

// textField is a field with a text in it.
func textField(name, value string) frontmatter.Field {
	return frontmatter.Field{Name: name, Node: frontmatter.Node{Kind: frontmatter.Text, Text: value}}
}
