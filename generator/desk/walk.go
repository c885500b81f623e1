package desk

import (
	"cmp"
	"errors"
	"net/http"
	"path"
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
	Before            bool   // there is a screen before it
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

// walkTarget is the evening that a walk is written into, under the name that it has by now.
func (d *Desk) walkTarget(r *http.Request) (target, bool) {
	t, ok := targetOf(r)
	t.at = machineAt(t.machine) + "/new/" + r.PathValue("id")
	return d.followed(t), ok && t.machine != ""
}

// walkAt is the screens of the walk that an evening was begun in.
func walkAt(t target) string {
	return machineAt(t.machine) + "/list/" + strings.TrimPrefix(path.Base(cmp.Or(t.begunAs, t.id)), "new-")
}

// walk shows one point.
func (d *Desk) walk(w http.ResponseWriter, r *http.Request) {
	t, ok := d.walkTarget(r)
	m, report := machineOf(d.o.Reading(), t.machine)
	if !ok || m == nil {
		d.notFound(w, r)
		return
	}
	all := points(report)
	n, _ := strconv.Atoi(r.URL.Query().Get("n")) // none is the first
	s, err := d.open(t)
	if errors.Is(err, errNoFile) { // the evening was kept, and taken back since
		d.notFound(w, r)
		return
	}
	if err != nil {
		d.fail(w, err)
		return
	}
	answers := answersOf(s.text)
	if n < 0 || n >= len(all) {
		http.Redirect(w, r, t.address(), http.StatusSeeOther)
		return
	}
	of := all[n]
	v := walkView{
		frame: d.frame(m.Name), At: walkAt(t) + "?n=" + strconv.Itoa(n), Back: machineAt(m.Key), Machine: m.Name, Before: n > 0,
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
	return d.words.Say("desk.walk-was", "result", d.words.Say("standing."+s.Standing.Key()), "date", d.words.Day(s.History[h-1].Entry.Date.Day()))
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
	t, ok := d.walkTarget(r)
	_, report := machineOf(d.o.Reading(), t.machine)
	if !ok || report == nil {
		d.notFound(w, r)
		return
	}
	all := points(report)
	n, err := strconv.Atoi(r.URL.Query().Get("n"))
	if err != nil || n < 0 || n >= len(all) {
		d.notFound(w, r)
		return
	}
	// The order is another once an evening was kept, and the page may be of before: it says
	// which point it shows.
	next, item := n+1, all[n].Name
	if shown := r.PostForm.Get("item"); shown != "" && shown != item {
		item, next = shown, -1
		if !slices.ContainsFunc(all, func(s *condition.Subject) bool { return s.Name == shown }) {
			d.notFound(w, r)
			return
		}
	}
	answers, err := d.answer(t, item, r.PostForm.Get("result"), lined(r.PostForm.Get("note")))
	switch {
	case errors.Is(err, errNoFile):
		d.notFound(w, r)
		return
	case err != nil:
		d.fail(w, err)
		return
	}
	if next < 0 {
		next = slices.IndexFunc(all, func(s *condition.Subject) bool { return answers[s.Name].result == "" && s.Name != item })
	}
	switch to := r.PostForm.Get("go"); {
	case to == "stay":
		w.WriteHeader(http.StatusNoContent)
		return
	case to == "evening" || next < 0:
		http.Redirect(w, r, t.address(), http.StatusSeeOther)
		return
	case to == "before":
		next = max(0, n-1)
	}
	http.Redirect(w, r, walkAt(t)+"?n="+strconv.Itoa(next), http.StatusSeeOther)
}

// answer writes an answer into the draft of an evening; "later" takes it out again. A note
// without an answer is kept with the answer that there is. It returns all answers.
func (d *Desk) answer(t target, item, result, note string) (map[string]given, error) {
	d.saving.Lock() // what was typed and what was pressed may come at once
	defer d.saving.Unlock()
	s, err := d.open(t)
	if err != nil {
		return nil, err
	}
	answers := answersOf(s.text)
	has := answers[item]
	if !slices.Contains(logbook.Results, result) {
		result = cmp.Or(has.result, logbook.NotChecked)
		if lined(has.note) == note {
			return answers, nil
		}
	}
	return answers, d.answerWith(s, item, given{result, note})
}

func (d *Desk) answerWith(s writing, item string, a given) error {
	f, err := frontmatter.Read(s.text)
	if err != nil {
		return err
	}
	want := f.Fields()
	checks, there := want.Find("checks")
	checks.Kind = frontmatter.List
	checks.Items = slices.Clone(checks.Items)
	at := slices.IndexFunc(checks.Items, func(c frontmatter.Node) bool {
		have, _ := c.Find("item")
		return have.Text == item
	})
	if at < 0 {
		at = len(checks.Items)
		checks.Items = append(checks.Items, frontmatter.Node{Kind: frontmatter.Fields, Fields: []frontmatter.Field{textField("item", item)}})
	}
	if a.result == logbook.NotChecked && a.note == "" {
		checks.Items = slices.Delete(checks.Items, at, at+1)
	} else { // what else was said of it stays
		c := &checks.Items[at]
		c.Fields = slices.DeleteFunc(slices.Clone(c.Fields), func(f frontmatter.Field) bool { return f.Name == "result" || f.Name == "note" })
		c.Fields = append(c.Fields, textField("result", a.result))
		if note := strings.Join(strings.Fields(a.note), " "); note != "" {
			c.Fields = append(c.Fields, textField("note", note))
		}
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
	return d.writeDraft(s.id, draft{File: s.file, Base: s.base, Began: s.text, Text: out})
}
