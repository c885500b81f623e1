package desk

import (
	"html/template"
	"net/http"
	"net/url"
	"slices"
	"strings"

	"asleft/generator/benchtest"
	"asleft/generator/frontmatter"
	"asleft/generator/logbook"
)

// A Phone is what each page of the desk has besides when it goes to a phone.
type Phone struct {
	Attributes template.HTMLAttr // of the page's body
	Head, Top  template.HTML
}

// A phoneWriter marks an answer that goes to a phone.
type phoneWriter struct {
	http.ResponseWriter
	pages *template.Template
}

func (w *phoneWriter) Unwrap() http.ResponseWriter { return w.ResponseWriter }

// Phone serves the desk's pages to phones. Whether one may come in is for the caller to
// see.
func (d *Desk) Phone(p Phone) http.Handler {
	inside := d.routes()
	all := pagesFor(d.words, &p)
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		inside.ServeHTTP(&phoneWriter{w, all}, r)
	})
}

// here lets in who sits at the shop's computer, and no phone: what is sealed, and which
// phone is let in, is decided there.
func (d *Desk) here(inside http.HandlerFunc) http.HandlerFunc {
	return d.known(func(w http.ResponseWriter, r *http.Request) {
		if _, phone := w.(*phoneWriter); phone {
			d.page(w, http.StatusForbidden, "failed", failedView{d.frame(""), d.words.Say("desk.not-on-phone")})
			return
		}
		inside(w, r)
	})
}

// ByScript is the header by which the script of a phone's page says that it keeps what is
// typed on the phone: then it is no draft on this computer as well.
const ByScript = "Phone-Script"

// fleeting tells whether what a form sends is kept by the phone that it comes from.
func fleeting(w http.ResponseWriter, r *http.Request) bool {
	_, phone := w.(*phoneWriter)
	return phone && r.Header.Get(ByScript) != ""
}

// An Evening is the file of a new evening as a form says it.
type Evening struct {
	Text []byte
	Stem string // its name, without the ending
	// Silent are its defects of which nobody said if they can hurt someone, and the numbers that
	// may mean two things: it is not to be kept so.
	Silent []logbook.Problem
	rows   placed
}

// Evening makes the file of a new evening of a machine of what its form sends.
func (d *Desk) Evening(key string, v url.Values) (Evening, error) {
	e := Evening{rows: placed{}}
	var err error
	if e.Text, err = d.formText(target{kind: logbook.FileEntry, machine: key}, v, frontmatter.New(frontmatter.Node{Kind: frontmatter.Fields}, ""), false, e.rows); err != nil {
		return e, err
	}
	e.Stem, e.Silent = stemOf(e.Text), d.silent(e.Text)
	if own, twofold := d.typed(writing{target: target{kind: logbook.FileEntry, machine: key}, text: e.Text}); twofold {
		e.Silent = append(e.Silent, own...)
	}
	return e, nil
}

// Field is the name in the form of a field of the file, as measured[0].value is
// f.measured.3.value.
func (e Evening) Field(path string) string { return fieldName(path, e.rows) }

// Says is what is wrong with an evening, in a form's words, and the label of its field, for
// where that does not stand beside it; empty where it has none.
func (d *Desk) Says(e Evening, p logbook.Problem) (label, told string) {
	key := keyOf(logbook.FileEntry, p.Field)
	if of := "desk.label." + key; d.words.Has(of) {
		label = d.words.Say(of)
	}
	if slices.Contains(e.Silent, p) { // it says how to mend it itself
		key = ""
	}
	return label, says(d.words, p, key)
}

// titleWords is how many words of the story stand for a title that nobody wrote.
const titleWords = 7

// TitleOf is the beginning of the story, up to the end of its first sentence; three
// dots stand for the rest of a long one.
func TitleOf(body string) string {
	line, _, _ := strings.Cut(strings.TrimSpace(body), "\n")
	words := strings.Fields(line)
	n, more := min(titleWords, len(words)), ""
	if end := slices.IndexFunc(words[:n], func(w string) bool { return strings.ContainsAny(w[len(w)-1:], ".!?:;") }); end >= 0 {
		n = end + 1
	} else if n < len(words) {
		more = "…"
	}
	return strings.TrimRight(strings.Join(words[:n], " "), ".!?:;,") + more
}

// titled is a new evening with a title: what nobody wrote is the beginning of the story.
func titled(text []byte) []byte {
	f, err := frontmatter.Read(text)
	if err != nil {
		return text
	}
	want := f.Fields()
	title := TitleOf(f.Story())
	if _, has := want.Find("title"); has || title == "" {
		return text
	}
	at := slices.IndexFunc(want.Fields, func(f frontmatter.Field) bool { return f.Name == "date" }) + 1
	want.Fields = slices.Insert(slices.Clone(want.Fields), at, textField("title", title))
	out, err := f.With(want, f.Story())
	if err != nil {
		return text
	}
	return out
}

// eveningID is the id of the draft of an evening that has no name yet.
func eveningID(key, id string) string { return "machines/" + key + "/new-" + id }

// GoodID tells whether an id can be that of an evening without a name.
func GoodID(id string) bool { return newID.MatchString(id) }

// Draft is the draft on this computer of an evening that has no name yet; nil for none.
func (d *Desk) Draft(key, id string) ([]byte, error) {
	dr, err := d.draftOf(eveningID(key, id))
	if dr == nil || err != nil {
		return nil, err
	}
	return dr.Text, nil
}

// KeepDraft keeps such a draft; DropDraft drops it.
func (d *Desk) KeepDraft(key, id string, text []byte) error {
	return d.writeDraft(eveningID(key, id), draft{Text: text})
}

// DropDraft drops such a draft.
func (d *Desk) DropDraft(key, id string) error { return d.dropDraft(eveningID(key, id)) }

// know writes the system of each reading whose name the program knows, where nobody
// wrote one.
func know(want frontmatter.Node) {
	for _, f := range want.Fields {
		if f.Name != "measured" {
			continue
		}
		for n, item := range f.Node.Items {
			what, _ := item.Find("what")
			if _, has := item.Find("system"); has || item.From > 0 || item.Kind != frontmatter.Fields {
				continue
			}
			if system, _, ok := benchtest.Measurand(what.Text); ok && system != "" {
				f.Node.Items[n].Fields = append(slices.Clone(item.Fields), textField("system", system))
			}
		}
	}
}

// Typed tells whether a form has anything in it but the day and who writes.
func Typed(v url.Values) bool {
	for name, values := range v {
		at, field := strings.CutPrefix(name, fieldPrefix)
		if !field && name != "story" || strings.Contains(name, "*") {
			continue
		}
		if slices.Contains([]string{"date", "time", "by"}, at) || pointName.MatchString(name) && strings.HasSuffix(name, ".item") {
			continue
		}
		if slices.ContainsFunc(values, func(s string) bool { return strings.TrimSpace(s) != "" }) {
			return true
		}
	}
	return false
}
