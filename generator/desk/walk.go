package desk

import (
	"cmp"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"asleft/generator/condition"
	"asleft/generator/frontmatter"
	"asleft/generator/logbook"
)

// Walking the list is a point a screen, with buttons for a thumb. The answers go into the
// draft of an evening, which is kept like any other.

type walkView struct {
	frame
	At, Back, Machine string
	Of                string // which of how many
	Item, How, Was    string
	Safety            bool
	Note              string
	Next, Before      string // the screens beside; empty for none
	Finish            string // the evening that the answers are in
	Answered          string // how many
	Choices           []walkChoice
}

type walkChoice struct {
	Value, Label string
	Chosen       bool
}

// points are those of a machine's list, those first that can hurt someone and that
// nobody has answered.
func points(r *condition.Report) []*condition.Subject {
	var all []*condition.Subject
	for _, s := range r.Subjects {
		if s.Kind == condition.KindPoint {
			all = append(all, s)
		}
	}
	rank := func(s *condition.Subject) int {
		switch {
		case s.Unanswered() && s.Open:
			return 0
		case s.Unanswered():
			return 1
		case s.Open:
			return 2
		}
		return 3
	}
	slices.SortStableFunc(all, func(a, b *condition.Subject) int { return cmp.Compare(rank(a), rank(b)) })
	return all
}

// walkTarget is the evening that a walk is written into.
func walkTarget(r *http.Request) (target, bool) {
	t, ok := targetOf(r)
	t.at = machineAt(t.machine) + "/new/" + r.PathValue("id")
	return t, ok && t.machine != ""
}

// walk shows one point.
func (d *Desk) walk(w http.ResponseWriter, r *http.Request) {
	t, ok := walkTarget(r)
	m, report := machineOf(d.o.Reading(), t.machine)
	if !ok || m == nil {
		d.notFound(w, r)
		return
	}
	all := points(report)
	n, _ := strconv.Atoi(r.URL.Query().Get("n")) // none is the first
	s, err := d.open(t)
	if err != nil {
		d.fail(w, err)
		return
	}
	answers := answersOf(s.text)
	if n < 0 || n >= len(all) {
		http.Redirect(w, r, t.at, http.StatusSeeOther)
		return
	}
	of := all[n]
	screen := r.URL.Path
	v := walkView{
		frame: d.frame(m.Name), At: screen + "?n=" + strconv.Itoa(n), Back: machineAt(m.Key), Machine: m.Name, Finish: t.at,
		Of: d.words.Say("desk.walk-of", "n", n+1, "all", len(all)), Item: of.Name, Safety: of.Safety != logbook.SafetyNo,
		Note: answers[of.Name].note,
	}
	if len(answers) > 0 {
		v.Answered = d.words.Count("desk.walk-answered", len(answers))
	}
	if of.Item != nil {
		v.How = of.Item.How
	}
	v.Was = d.walkedBefore(of)
	if n > 0 {
		v.Before = screen + "?n=" + strconv.Itoa(n-1)
	}
	v.Next = screen + "?n=" + strconv.Itoa(n+1)
	for _, c := range d.walkChoices() {
		c.Chosen = answers[of.Name].result == c.Value
		v.Choices = append(v.Choices, c)
	}
	d.page(w, http.StatusOK, "walk", v)
}

// walkedBefore is what the log says of a point so far; empty for nothing.
func (d *Desk) walkedBefore(s *condition.Subject) string {
	h := len(s.History)
	if h == 0 {
		return ""
	}
	return d.words.Say("desk.walk-was", "result", d.words.Say("standing."+condition.Word(s.Standing)), "date", d.words.Day(s.History[h-1].Entry.Date.Day()))
}

// walkChoices are the answers that a point can have.
func (d *Desk) walkChoices() []walkChoice {
	return []walkChoice{
		{Value: logbook.Works, Label: d.words.Say("desk.walk-works")}, {Value: logbook.Fails, Label: d.words.Say("desk.walk-fails")},
		{Value: logbook.DoesNotApply, Label: d.words.Say("desk.walk-not")}, {Value: logbook.NotChecked, Label: d.words.Say("desk.walk-later")},
	}
}

type given struct{ result, note string }

// answersOf are the points that an evening answers.
func answersOf(text []byte) map[string]given {
	f, err := frontmatter.Read(text)
	if err != nil {
		return nil
	}
	checks, _ := f.Fields().Find("checks")
	return answersIn(checks)
}

// answersIn are the points that a list of checks answers.
func answersIn(checks frontmatter.Node) map[string]given {
	all := map[string]given{}
	for _, c := range checks.Items {
		item, _ := c.Find("item")
		result, _ := c.Find("result")
		note, _ := c.Find("note")
		all[item.Text] = given{result.Text, note.Text}
	}
	return all
}

// walked takes the answer to a point, and goes on to the next.
func (d *Desk) walked(w http.ResponseWriter, r *http.Request) {
	t, ok := walkTarget(r)
	_, report := machineOf(d.o.Reading(), t.machine)
	if !ok || report == nil {
		d.notFound(w, r)
		return
	}
	if err := r.ParseForm(); err != nil {
		http.Error(w, err.Error(), http.StatusBadRequest)
		return
	}
	all := points(report)
	n, err := strconv.Atoi(r.URL.Query().Get("n"))
	if err != nil || n < 0 || n >= len(all) {
		d.notFound(w, r)
		return
	}
	result := r.PostForm.Get("result")
	if slices.Contains(logbook.Results, result) {
		if err := d.answer(t, all[n].Name, given{result, lined(r.PostForm.Get("note"))}); err != nil {
			d.fail(w, err)
			return
		}
	}
	http.Redirect(w, r, r.URL.Path+"?n="+strconv.Itoa(n+1), http.StatusSeeOther)
}

// answer writes an answer into the draft of an evening; "later" takes it out again.
func (d *Desk) answer(t target, item string, a given) error {
	s, err := d.open(t)
	if err != nil {
		return err
	}
	f, err := frontmatter.Read(s.text)
	if err != nil {
		return err
	}
	want := f.Fields()
	checks, there := want.Find("checks")
	checks.Kind = frontmatter.List
	checks.Items = slices.DeleteFunc(slices.Clone(checks.Items), func(c frontmatter.Node) bool {
		have, _ := c.Find("item")
		return have.Text == item
	})
	if a.result != logbook.NotChecked || a.note != "" {
		c := frontmatter.Node{Kind: frontmatter.Fields, Fields: []frontmatter.Field{textField("item", item), textField("result", a.result)}}
		if a.note != "" {
			c.Fields = append(c.Fields, textField("note", strings.Join(strings.Fields(a.note), " ")))
		}
		checks.Items = append(checks.Items, c)
	}
	want.Fields = slices.DeleteFunc(slices.Clone(want.Fields), func(f frontmatter.Field) bool { return there && f.Name == "checks" })
	if len(checks.Items) > 0 {
		want.Fields = append(want.Fields, frontmatter.Field{Name: "checks", Node: checks})
	}
	if _, titled := want.Find("title"); !titled {
		want.Fields = append(want.Fields, textField("title", d.words.Say("desk.walk-title")))
	}
	out, err := f.With(want, f.Story())
	if err != nil {
		return err
	}
	return d.writeDraft(t.id, draft{File: t.file, Base: s.base, Began: s.text, Text: out})
}
