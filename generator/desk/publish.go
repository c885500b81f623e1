package desk

import (
	"cmp"
	"context"
	"errors"
	"net/http"
	"path/filepath"
	"slices"
	"strconv"
	"sync"
	"time"

	"asleft/generator"
	"asleft/generator/delivery"
	"asleft/generator/logbook"
	"asleft/generator/output"
	"asleft/generator/publish"
	"asleft/generator/publish/farend"
	"asleft/generator/publish/visit"
)

// A Ring keeps secrets for the user, outside the shop's folder.
type Ring interface {
	// Get is a secret that it keeps; false for none.
	Get(kind, of string) (secret string, ok bool)
	Keep(kind, of, secret string) error
}

// Where the site stands in the shop's folder before it is brought.
const siteDir = "site"

// How long the desk waits: for an answer, with what was typed, and for a host that shows an
// old page for a moment.
const (
	waitForAnswer = 10 * time.Minute
	secretTime    = 15 * time.Minute
	waitForHost   = 5 * time.Second
)

// mostNamed is how many files a page names; of more it says how many.
const mostNamed = 40

// The steps of a run.
const (
	stepMaking  = "making"
	stepOpening = "opening"
	stepLooking = "looking"
	stepBring   = "bringing"
	stepSeeing  = "seeing"
	stepEnded   = "ended"
)

// What a run is for.
const (
	runLook  = "look"  // what would be brought
	runBring = "bring" // bring it
	runNow   = "now"   // and remove what is gone at once
	runCheck = "check" // what the world sees
)

// publishing is what the desk knows of bringing the site out: one run at a time.
type publishing struct {
	mu  sync.Mutex
	run *run
	// typed are the secrets that a far end took, from the run that looks to the one that
	// brings. They are in memory alone, and not for long.
	typed map[farend.Secret]string
	at    time.Time
	// lock is the mark of this desk's locks at the far end, the same as long as the desk is:
	// one that a run before left there when its line broke is not waited for.
	lock string
}

// A run makes the site and looks at the far end, brings what is new, or reads it as the
// world does. It goes on whoever looks at its page.
type run struct {
	d      *Desk
	of     string
	cancel context.CancelFunc
	ended  chan struct{}
	number string // one run from another

	mu       sync.Mutex
	step     string
	done     int // photos made, of so many
	todo     int
	waiting  string // who is at it
	broken   string // that the line broke off, and goes on by itself
	progress publish.Progress
	begun    time.Time // when files began to go over
	asked    int
	question *question
	to       string
	typed    map[farend.Secret]string // what this run's far end took, for a line that breaks
	trusted  string                   // the fingerprint that was said to be right
	result   *publish.Result
	hints    []string
	problems []logbook.Problem
	shop     *logbook.Shop // whose problems they are
	err      error
	web      string
	world    *visit.Report
}

// A question is asked on the page while the run waits.
type question struct {
	number int
	kind   string // trust, certificate, in, or the kind of a secret
	says   []string
	of     string
	again  bool
	answer chan answer
}

// The kinds of questions besides those for secrets.
const (
	askTrust       = "trust"
	askCertificate = "certificate"
	askIn          = "in"
)

// An answer is what somebody said to a question. Its secret stands in no other place.
type answer struct {
	yes, keep bool
	secret    string
}

// ask asks, and waits; false where nobody answers or the run is stopped.
func (r *run) ask(ctx context.Context, q question) (answer, bool) {
	q.answer = make(chan answer, 1)
	r.mu.Lock()
	r.asked++
	q.number = r.asked
	r.question = &q
	r.mu.Unlock()
	defer func() {
		r.mu.Lock()
		r.question = nil
		r.mu.Unlock()
	}()
	select {
	case a := <-q.answer:
		return a, true
	case <-ctx.Done():
	case <-time.After(waitForAnswer):
	}
	return answer{}, false
}

func (r *run) at(step string) {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.step = step
}

// errNowhere says that shop.md names no place.
var errNowhere = publish.NewFault(nil, "publish.nowhere")

// StopPublishing stops a run and waits for its end. What was brought is there.
func (d *Desk) StopPublishing() {
	d.publish.mu.Lock()
	r := d.publish.run
	d.publish.mu.Unlock()
	if r != nil {
		r.cancel()
		<-r.ended
	}
}

// startRun begins a run, unless one is at work.
func (d *Desk) startRun(of string) {
	d.publish.mu.Lock()
	defer d.publish.mu.Unlock()
	if r := d.publish.run; r != nil {
		select {
		case <-r.ended:
		default:
			return // its page shows it
		}
	}
	ctx, cancel := context.WithCancel(context.Background())
	r := &run{d: d, of: of, cancel: cancel, ended: make(chan struct{}), number: NewSecret()[:8], step: stepMaking}
	d.publish.run = r
	go func() {
		defer close(r.ended)
		defer cancel()
		err := r.do(ctx)
		if err != nil && ctx.Err() != nil {
			err = publish.NewFault(err, "publish.stopped")
		}
		r.mu.Lock()
		defer r.mu.Unlock()
		r.err, r.step, r.typed = err, stepEnded, nil
	}()
}

// do is the whole of a run.
func (r *run) do(ctx context.Context) error {
	d := r.d
	if err := output.CheckPlace(d.o.Dir, filepath.Join(d.o.Dir, siteDir)); err != nil {
		return err
	}
	site, err := r.site()
	if err != nil || site.Shop == nil {
		return err
	}
	r.mu.Lock()
	r.web = site.Shop.Web
	r.mu.Unlock()
	var brought []string
	if r.of == runCheck {
		for _, f := range site.Files {
			brought = append(brought, f.Path)
		}
		slices.Sort(brought)
	} else {
		to := delivery.Destination(site.Shop, d.o.Dir)
		if to.None() {
			return errNowhere
		}
		if brought, err = r.bring(ctx, to, site); err != nil {
			return err
		}
		if r.of == runLook || to.URL == nil { // a folder is not the web, and somebody may carry it there
			return nil
		}
	}
	if site.Shop.Web == "" {
		r.hint(d.words.Say("desk.publish-no-web"))
		return nil
	}
	r.at(stepSeeing)
	report, err := visit.Visit{Web: site.Shop.Web, Files: site.Files, Changed: brought, Wait: waitForHost}.Look(ctx)
	if err == nil {
		r.mu.Lock()
		r.world = &report
		r.mu.Unlock()
	}
	return err
}

func (r *run) hint(text string) {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.hints = append(r.hints, text)
}

// site makes the site; none where the logs have problems.
func (r *run) site() (delivery.Site, error) {
	d := r.d
	if r.of == runCheck {
		return delivery.Standing(d.folder, d.folder, siteDir, d.words)
	}
	site, found, err := delivery.Make(d.folder, d.folder, siteDir, generator.Options{
		Today: d.today(), Program: d.o.Program, Site: siteDir, Words: d.words, Progress: func(done, of int) {
			r.mu.Lock()
			defer r.mu.Unlock()
			r.done, r.todo = done, of
		},
	})
	if len(found) > 0 {
		r.mu.Lock()
		defer r.mu.Unlock()
		r.problems = found
		if reading := d.o.Reading(); reading != nil {
			r.shop = reading.Shop
		}
	}
	return site, err
}

// bring brings the site, or finds what would be brought.
func (r *run) bring(ctx context.Context, to logbook.Destination, site delivery.Site) ([]string, error) {
	r.mu.Lock()
	r.step, r.to = stepOpening, to.String()
	r.mu.Unlock()
	far, err := r.open(ctx, to, site)
	if err != nil {
		return nil, err
	}
	r.at(stepLooking)
	if r.of != runLook {
		defer r.d.publish.forget()
	}
	options := publish.Options{
		DryRun: r.of == runLook, AtOnce: r.of == runNow, Who: delivery.Who(r.d.words), Wait: delivery.WaitForOther, Pace: r.d.o.Pace, Token: r.d.publish.lock,
		Waiting: func(who string) {
			r.mu.Lock()
			defer r.mu.Unlock()
			r.waiting = who
		},
		Ask: func(plan *publish.Plan) bool {
			a, ok := r.ask(ctx, question{kind: askIn, says: delivery.Strangers(plan, r.d.words), of: to.String()})
			return ok && a.yes
		},
		Progress: func(p publish.Progress) {
			r.mu.Lock()
			defer r.mu.Unlock()
			if r.step != stepBring {
				r.step, r.begun = stepBring, time.Now()
			}
			r.progress, r.broken = p, ""
		},
		Broken: func(_ error, pause time.Duration) {
			r.mu.Lock()
			defer r.mu.Unlock()
			r.broken = r.d.words.Count("publish.again", int(pause.Seconds()))
		},
	}
	if to.URL != nil {
		options.Again = func(ctx context.Context) (publish.FarEnd, error) { return r.open(ctx, to, site) }
	}
	result, err := publish.Bring(ctx, far, site.ToBring(), options)
	noReplace := far.Traits().NoReplace
	if e := far.Close(); err == nil {
		err = e
	}
	if err != nil {
		return nil, err
	}
	if noReplace && r.of != runLook && len(result.Brought) > 0 {
		r.hint(r.d.words.Say("publish.no-replace"))
	}
	r.mu.Lock()
	defer r.mu.Unlock()
	r.result = &result
	return result.Brought, nil
}

// open opens the far end, and asks what it has to ask.
func (r *run) open(ctx context.Context, to logbook.Destination, site delivery.Site) (publish.FarEnd, error) {
	d := r.d
	if to.URL == nil {
		return delivery.OpenFolder(to.Folder, d.o.Dir, filepath.Join(d.o.Dir, siteDir), r.of == runLook)
	}
	o := delivery.FarEnd(site.Shop, d.o.Far)
	o.Fingerprint = cmp.Or(r.trusted, o.Fingerprint)
	secrets := &secretsAsked{r: r, typed: map[farend.Secret]string{}, keep: map[farend.Secret]bool{}}
	o.Secret = secrets.get
	o.Trust = func(host, kind, fingerprint string) bool {
		a, ok := r.ask(ctx, question{kind: askTrust, of: host, says: []string{
			d.words.Say("desk.publish-trust", "host", host), fingerprint, d.words.Say("desk.publish-trust-how", "kind", kind),
		}})
		return ok && a.yes
	}
	far, err := farend.Open(ctx, to.URL, o)
	if fingerprint, unknown := farend.UnknownCertificate(err); unknown && r.trusts(ctx, to, fingerprint) {
		o.Fingerprint = fingerprint
		far, err = farend.Open(ctx, to.URL, o)
	}
	if err != nil {
		if !publish.Broke(err) {
			d.publish.forget()
		}
		return nil, err
	}
	secrets.taken()
	r.typed = secrets.typed
	d.publish.hold(secrets.typed)
	return far, nil
}

// trusts asks whether a server's certificate for which nobody speaks is the right one, and
// keeps its fingerprint where the site's place stands.
func (r *run) trusts(ctx context.Context, to logbook.Destination, fingerprint string) bool {
	d, host := r.d, to.URL.Host
	a, ok := r.ask(ctx, question{kind: askCertificate, of: host, says: []string{
		d.words.Say("desk.publish-certificate", "host", host), fingerprint, d.words.Say("desk.publish-certificate-how"),
	}})
	if !ok || !a.yes {
		return false
	}
	r.trusted = fingerprint
	switch err := d.keepFingerprint(to, fingerprint); {
	case errors.Is(err, errOther):
		r.hint(d.words.Say("desk.publish-fingerprint-not-kept"))
	case err != nil:
		r.hint(d.inWords(err))
	}
	return true
}

// secretsAsked are those of one opening.
type secretsAsked struct {
	r     *run
	typed map[farend.Secret]string
	keep  map[farend.Secret]bool
}

// get is asked by a far end. What was typed for this run, however long it takes, or for the
// one that looked comes first, then what the key ring keeps, and then somebody is asked.
func (a *secretsAsked) get(ctx context.Context, of farend.Secret) (string, error) {
	try := of.Try
	of.Try = 0
	if try == 0 {
		for _, had := range []map[farend.Secret]string{a.typed, a.r.typed, a.r.d.publish.secrets()} {
			if secret, ok := had[of]; ok {
				a.typed[of] = secret
				return secret, nil
			}
		}
		if ring := a.r.d.o.Ring; ring != nil {
			if secret, ok := ring.Get(of.Kind, of.Of); ok {
				return secret, nil
			}
		}
	}
	said, ok := a.r.ask(ctx, question{kind: of.Kind, of: of.Of, again: try > 0})
	if !ok || said.secret == "" {
		return "", cmp.Or(ctx.Err(), error(farend.ErrNoSecret))
	}
	a.typed[of], a.keep[of] = said.secret, said.keep
	return said.secret, nil
}

// taken gives the key ring what it is to keep, once the far end took it.
func (a *secretsAsked) taken() {
	for of, secret := range a.typed {
		if !a.keep[of] || a.r.d.o.Ring == nil {
			continue
		}
		if err := a.r.d.o.Ring.Keep(of.Kind, of.Of, secret); err != nil {
			a.r.hint(a.r.d.words.Say("publish.not-kept"))
		}
	}
}

func (p *publishing) secrets() map[farend.Secret]string {
	p.mu.Lock()
	defer p.mu.Unlock()
	if time.Since(p.at) > secretTime {
		p.typed = nil
	}
	return p.typed
}

func (p *publishing) hold(typed map[farend.Secret]string) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.typed, p.at = typed, time.Now()
	time.AfterFunc(secretTime, func() { _ = p.secrets() })
}

func (p *publishing) forget() {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.typed = nil
}

// said takes what somebody pressed on the page.
func (d *Desk) publishSaid(w http.ResponseWriter, r *http.Request) {
	v := r.PostForm
	switch do := v.Get("do"); do {
	case runLook, runBring, runNow, runCheck:
		if d.o.Dir == "" {
			d.notFound(w, r)
			return
		}
		if reading := d.o.Reading(); do != runCheck && reading != nil && reading.Shop.Publish.To.None() {
			http.Redirect(w, r, placeAt, http.StatusSeeOther)
			return
		}
		d.startRun(do)
	case "yes", "no":
		d.answerRun(v.Get("run"), v.Get("question"), answer{yes: do == "yes", keep: v.Get("keep") == "yes", secret: v.Get("secret")})
	case "stop":
		d.publish.mu.Lock()
		if run := d.publish.run; run != nil {
			run.cancel()
		}
		d.publish.mu.Unlock()
	}
	http.Redirect(w, r, publishAt, http.StatusSeeOther)
}

// The addresses of the pages.
const (
	publishAt = "/desk/publish"
	placeAt   = "/desk/publish/place"
)

// answerRun gives an answer to the question that it is for, once.
func (d *Desk) answerRun(number, question string, a answer) {
	d.publish.mu.Lock()
	r := d.publish.run
	d.publish.mu.Unlock()
	if r == nil || r.number != number {
		return
	}
	r.mu.Lock()
	defer r.mu.Unlock()
	if q := r.question; q != nil && strconv.Itoa(q.number) == question {
		q.answer <- a // there is room for one, and the question is gone with it
		r.question = nil
	}
}

// inWords is a fault as a page says it.
func (d *Desk) inWords(err error) string {
	var f *publish.Fault
	var refused *output.Refusal
	switch {
	case errors.As(err, &f):
		if own := "desk." + f.Key; d.words.Has(own) {
			return d.words.Say(own, f.Pairs...)
		}
		return f.In(d.words)
	case errors.As(err, &refused):
		return refused.Says
	case errors.Is(err, output.ErrNoSite):
		return d.words.Say("desk.publish-no-site")
	}
	return d.words.Say("desk.publish-failed", "why", err.Error())
}
