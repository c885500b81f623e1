package desk

import (
	"cmp"
	"errors"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"time"

	"asleft/generator/delivery"
	"asleft/generator/publish"
	"asleft/generator/publish/farend"
)

// publishView is the page from which the site goes out.
type publishView struct {
	frame
	To      string // where it goes; empty for nowhere yet
	Web     string
	Run     *runView
	Ring    bool // there is a key ring to keep a secret in
	Working bool
}

// A runView is a run as its page shows it.
type runView struct {
	Number, State string // what it shows is the same as long as its state is
	Line          string // what it is at
	Done, Of      int    // of a bar; Of is 0 for none
	Question      *questionView
	Wrong         string
	Mend          string     // where what is wrong can be mended
	Problems      []fileLink // of the logs
	Count         string
	Lines         []string // what came of it
	Lists         []fileList
	Hints         []string
	World         []string // what is not so, over the web
	Seen          string   // all is
	Bring         bool     // can be pressed next
	Now           bool     // so can this: what is gone from the site stays there still
	Ended         bool
}

type fileList struct {
	Title string
	Names []string
	More  string
}

type questionView struct {
	Number, Title string
	Says          []string
	Code          string // a fingerprint
	Secret        bool
	Yes, No       string
	Again         bool
}

func (d *Desk) publishPage(w http.ResponseWriter, _ *http.Request) {
	v := publishView{frame: d.frame(d.words.Say("desk.publish")), Ring: d.o.Ring != nil}
	if d.o.Dir == "" {
		d.page(w, http.StatusNotFound, "failed", failedView{d.frame(""), d.words.Say("desk.publish-no-disk")})
		return
	}
	reading := d.o.Reading()
	if reading == nil {
		d.page(w, http.StatusServiceUnavailable, "failed", failedView{d.frame(""), d.words.Say("desk.no-shop-yet")})
		return
	}
	v.To, v.Web = delivery.Destination(reading.Shop, d.o.Dir).String(), reading.Shop.Web
	d.publish.mu.Lock()
	r := d.publish.run
	d.publish.mu.Unlock()
	if r != nil {
		v.Run = r.view()
		v.Working = !v.Run.Ended
		v.Again = v.Working && v.Run.Question == nil // what is typed is not to be lost
	}
	d.page(w, http.StatusOK, "publish", v)
}

// view is the run as it is now.
func (r *run) view() *runView {
	r.mu.Lock()
	defer r.mu.Unlock()
	words := r.d.words
	v := &runView{Number: r.number, State: r.number + " " + r.step, Hints: r.hints}
	switch {
	case r.question != nil:
		v.Question = r.question.view(r.d)
		v.State += " " + v.Question.Number
		return v
	case r.broken != "" && r.step != stepEnded:
		v.Line = r.broken
		return v
	case r.step == stepBring:
		p := r.progress
		v.Line = words.Say("publish.progress-line", "files", p.Files, "of", p.OfFiles, "size", delivery.Size(p.Bytes, words), "all", delivery.Size(p.OfBytes, words), "left", delivery.Left(p, time.Since(r.begun), words))
		v.Done, v.Of = p.Files, p.OfFiles
		return v
	case r.step == stepMaking && r.todo > 0:
		v.Line = words.Say("desk.publish-photos", "done", r.done, "of", r.todo)
		v.Done, v.Of = r.done, r.todo
		return v
	case r.step == stepLooking && r.waiting != "":
		v.Line = words.Say("publish.waiting", "who", r.waiting)
		return v
	case r.step != stepEnded:
		v.Line = words.Say("desk.publish-step-" + r.step)
		return v
	}
	v.Ended = true
	for _, p := range r.problems {
		name := p.File
		if r.shop != nil {
			name = nameOfFile(r.shop, p.File)
		}
		v.Problems = append(v.Problems, fileLink{addressOf(idOfFile(p.File)), name, labeled(words, p.Says)})
	}
	if n := len(v.Problems); n > 0 {
		v.Count = words.Count("desk.publish-mend", n)
	}
	if r.err != nil {
		v.Wrong = r.d.inWords(r.err)
		if field := fieldOfFault(r.err); field != "" {
			v.Mend = placeAt + "#" + field
		}
		return v
	}
	r.came(v)
	return v
}

// came is what came of a run that ended well.
func (r *run) came(v *runView) {
	words := r.d.words
	if of := r.result; of != nil {
		to, size := r.to, delivery.Size(of.Bytes, words)
		count := func(key string, n int, pairs ...any) {
			if n > 0 {
				v.Lines = append(v.Lines, words.Count(key, n, pairs...))
			}
		}
		switch {
		case len(of.Brought)+len(of.Removed) == 0:
			v.Lines = append(v.Lines, words.Count("publish.nothing-new", of.Kept, "to", to))
		case r.of == runLook:
			v.Bring = true
			count("desk.publish-would", len(of.Brought), "size", size, "kept", of.Kept)
		default:
			count("publish.brought", len(of.Brought), "to", to, "size", size, "kept", of.Kept)
			count("publish.removed", len(of.Removed))
		}
		if r.of == runLook {
			var changed []string
			for _, name := range of.Brought {
				if !slices.Contains(of.New, name) {
					changed = append(changed, name)
				}
			}
			v.list(r.d, "desk.publish-new", of.New)
			v.list(r.d, "desk.publish-changed", changed)
			v.list(r.d, "desk.publish-gone", of.Removed)
		}
		count("desk.publish-staying", of.Staying)
		v.Now = of.Staying > 0 && !v.Bring
		count("publish.left", len(of.Left), "files", publish.Several(of.Left))
		if of.NoList && r.of != runLook {
			v.Lines = append(v.Lines, words.Say("publish.no-list"))
		}
	}
	if w := r.world; w != nil {
		for _, f := range w.Findings {
			key := f.Key
			if own := "desk." + key; words.Has(own) {
				key = own
			}
			v.World = append(v.World, words.Say(key, f.Pairs...))
		}
		if w.Fine() {
			v.Seen = words.Count("publish.seen", w.Same, "web", r.web)
		}
	}
}

func (v *runView) list(d *Desk, key string, names []string) {
	if len(names) == 0 {
		return
	}
	l := fileList{Title: d.words.Count(key, len(names)), Names: slices.Sorted(slices.Values(names))}
	if more := len(names) - mostNamed; more > 0 {
		l.Names, l.More = l.Names[:mostNamed], d.words.Count("desk.publish-more", more)
	}
	v.Lists = append(v.Lists, l)
}

func (q *question) view(d *Desk) *questionView {
	v := &questionView{Number: strconv.Itoa(q.number), Says: q.says, Again: q.again, Yes: d.words.Say("desk.yes"), No: d.words.Say("desk.no")}
	switch q.kind {
	case askTrust, askCertificate:
		v.Title = d.words.Say("desk.publish-"+q.kind+"-ask", "host", q.of)
		v.Code, v.Says = q.says[1], []string{q.says[0], q.says[2]}
		v.Yes, v.No = d.words.Say("desk.publish-trust-yes"), d.words.Say("desk.publish-trust-no")
	case askIn:
		v.Title = d.words.Say("desk.publish-in", "to", q.of)
		v.Yes, v.No = d.words.Say("desk.publish-in-yes"), d.words.Say("desk.publish-in-no")
	default:
		v.Secret = true
		v.Title = d.words.Say("desk.publish-ask-"+map[string]string{farend.Password: "password", farend.Passphrase: "passphrase", farend.SecretKey: "secret-key"}[q.kind], "of", q.of)
		v.Yes, v.No = d.words.Say("desk.publish-go-on"), d.words.Say("desk.publish-stop")
	}
	return v
}

// faultFields are the fields of the place's form at which a fault of publish can be mended.
var faultFields = map[string]string{
	"no-host": "host", "dead-line": "host", "no-line": "host", "no-sftp": "host", "around": "host",
	"certificate-name":  "host",
	"certificate-other": "f-publish-fingerprint", "host-other": "f-publish-fingerprint",
	"key-file": "f-publish-key", "key-passphrase": "f-publish-key", "key-locked": "f-publish-key",
	"password": "user", "not-let-in": "user", "secret-key": "access", "region": "f-publish-region",
	"no-folder": "path", "no-own-folder": "folder", "onto-itself": "folder", "cannot-open": "folder", "no-bucket": "bucket",
	"no-right": "path", "in-the-way": "path",
}

// fieldOfFault is that field; empty for none.
func fieldOfFault(err error) string {
	var f *publish.Fault
	if !errors.As(err, &f) {
		return ""
	}
	return faultFields[strings.TrimPrefix(f.Key, "publish.")]
}

// faultNow is what went wrong last, by the field of the place's form.
func (d *Desk) faultNow() (field, says string) {
	d.publish.mu.Lock()
	r := d.publish.run
	d.publish.mu.Unlock()
	if r == nil {
		return "", ""
	}
	r.mu.Lock()
	defer r.mu.Unlock()
	if r.step != stepEnded || r.err == nil {
		return "", ""
	}
	return cmp.Or(fieldOfFault(r.err), "way"), d.inWords(r.err)
}
