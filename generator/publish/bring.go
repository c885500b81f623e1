package publish

import (
	"bytes"
	"cmp"
	"context"
	"crypto/md5" //nolint:gosec // what some servers tell of their files; nothing is kept safe by it
	"crypto/rand"
	"encoding/hex"
	"errors"
	"io/fs"
	"maps"
	"slices"
	"strings"
	"sync"
	"time"

	"golang.org/x/sync/errgroup"

	"asleft/generator/output"
)

// A Site is what is to be brought.
type Site struct {
	Owner Owner
	Files []output.File
	Read  func(p string) ([]byte, error) // a file of it
}

// Options say how. The zero value brings all, and waits for nobody.
type Options struct {
	DryRun   bool          // only say what would be done; nothing at the far end is changed
	MoveIn   bool          // go in where something stands that this shop did not bring
	AtOnce   bool          // keep nothing that is gone
	Thorough bool          // ask for each file, even where that takes long
	Who      string        // this run, for others who have to wait
	Wait     time.Duration // for another run
	Waiting  func(who string)
	// Ask is asked where MoveIn is missing; nil for no.
	Ask      func(*Plan) bool
	Progress func(Progress)
	// Again opens the far end anew after the line to it broke; nil for no second try.
	// Bring closes what it opened. Broken is told before each, with the pause until then.
	Again  func(ctx context.Context) (FarEnd, error)
	Broken func(why error, pause time.Duration)
	Pace   Pace
	// Token is that of the lock, for who never does two runs at a time: a lock that an earlier
	// one left when its line broke is then nobody's to wait for. Empty: a new one.
	Token string
}

// Progress is how far a run is.
type Progress struct {
	Files, OfFiles int
	Bytes, OfBytes int64
}

// A Result is what a run did, or what it would have done.
type Result struct {
	Brought  []string `json:"brought"`  // in the order in which they were brought
	Bytes    int64    `json:"bytes"`    // of those
	Kept     int      `json:"kept"`     // there as they should be
	Removed  []string `json:"removed"`  // gone from the far end
	Staying  int      `json:"staying"`  // gone from the site, and kept for a day
	Replaced []string `json:"replaced"` // somebody else's before
	Left     []string `json:"left"`     // somebody else's, and left alone; known only without a manifest
	NoList   bool     `json:"no_list"`  // the list at the far end was missing or damaged
	New      []string `json:"-"`        // of those brought, what was not there before in any form
}

// Bring makes the far end what the site is. Where the line breaks and Options say how to
// open another, it goes on by itself.
func Bring(ctx context.Context, far FarEnd, site Site, o Options) (Result, error) {
	o.Pace = o.Pace.orUsual()
	r := &run{far: far, site: site, o: o, want: map[string]Print{}, token: cmp.Or(o.Token, rand.Text())}
	for _, f := range site.Files {
		r.want[f.Path] = Print{f.Size, f.Sum}
	}
	if _, ok := r.want[output.FrontPage]; !ok {
		return Result{}, NewFault(nil, "publish.no-front-page")
	}
	result, err := r.once(ctx)
	if o.Again == nil || !Broke(err) {
		return result, err
	}
	return r.goOn(ctx, result, err)
}

// once brings what is to be brought over the line that there is.
func (r *run) once(ctx context.Context) (Result, error) {
	if err := r.readList(ctx); err != nil {
		return Result{}, err
	}
	if r.surelyWork() {
		return r.locked(ctx, r.see)
	}
	if err := r.see(ctx); err != nil {
		return Result{}, err
	}
	plan, err := r.plan(time.Now())
	if err != nil {
		return Result{}, err
	}
	if r.o.DryRun || plan.Nothing() && !r.second {
		return r.result(plan), nil
	}
	if err := r.mayGoIn(plan); err != nil {
		return Result{}, err
	}
	return r.locked(ctx, func(context.Context) error { return nil })
}

// A run is one call of Bring.
type run struct {
	far    FarEnd
	site   Site
	o      Options
	want   map[string]Print
	token  string // of the lock, over however many lines
	second bool   // the line broke before, and the lock may still stand there

	text      []byte // the manifest as it was read
	known     *Manifest
	ahead     bool // more is there than it says
	ourFolder bool
	seen      map[string]*Info
	asked     bool // to go in where something else stands, and told to

	mu      sync.Mutex
	listed  map[string]Listed
	done    Progress
	brought []string
	removed []string
}

// readList reads the manifest.
func (r *run) readList(ctx context.Context) error {
	text, err := r.far.Read(ctx, manifestName, maxManifest)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	return r.take(text, err == nil)
}

// take takes what was read for the manifest.
func (r *run) take(text []byte, there bool) error {
	r.text, r.known, r.ourFolder = text, nil, there
	if !there {
		return nil
	}
	if m, bad := ParseManifest(text); bad == nil {
		r.known = &m
		r.remember()
	} else if head, _, _ := strings.Cut(string(text), "\n"); head != manifestHead && strings.HasPrefix(head, "asleft publish manifest ") {
		return NewFault(bad, "publish.newer")
	}
	return nil
}

// remember puts right what the manifest does not know yet of the line that broke: what is
// still announced there, and of which the far end said that it is in place.
func (r *run) remember() {
	r.ahead = false
	for _, p := range r.brought {
		if f := r.known.Files[p]; f.State == Coming && f.Print == r.want[p] {
			r.known.Files[p] = Listed{State: There, Print: f.Print}
			r.ahead = true
		}
	}
}

// surelyWork tells whether the manifest alone says that there is something to do in a
// place that is this shop's: the lock is then asked for while files are looked at.
func (r *run) surelyWork() bool {
	if r.o.DryRun || r.known == nil || r.known.Owner.strange(r.owner()) {
		return false
	}
	for p, want := range r.want {
		if had := r.known.Files[p]; had.State == Coming || had.Print != want {
			return true
		}
	}
	return false
}

// see looks at what stands at the far end.
func (r *run) see(ctx context.Context) error {
	r.seen = map[string]*Info{}
	if r.known == nil {
		all, err := r.far.List(ctx)
		if err != nil {
			return err
		}
		for p, info := range all {
			r.seen[p] = &info
		}
		for p := range r.want {
			if _, there := all[p]; !there {
				r.seen[p] = nil
			}
		}
		return nil
	}
	var names []string
	for p := range r.want {
		f, listed := r.known.Files[p]
		if r.o.Thorough || !r.far.Traits().DearStat || !listed || f.State == Coming {
			names = append(names, p)
		}
	}
	there, err := r.far.Stat(ctx, names)
	if err != nil {
		return err
	}
	for _, p := range names {
		r.seen[p] = nil
		if info, ok := there[p]; ok {
			r.seen[p] = &info
		}
	}
	return nil
}

func (r *run) owner() Owner { return Owner{inLine(r.site.Owner.Shop), inLine(r.site.Owner.Web)} }

func (r *run) plan(now time.Time) (*Plan, error) {
	return Make(Situation{
		Owner: r.owner(), Want: r.want, Known: r.known, Seen: r.seen,
		OurFolder: r.ourFolder, Remembered: r.second, AtOnce: r.o.AtOnce, Now: now,
		MD5: func(p string) (string, error) {
			data, err := r.file(p)
			sum := md5.Sum(data) //nolint:gosec // see the import
			return hex.EncodeToString(sum[:]), err
		},
	})
}

// mayGoIn refuses a place where something stands that this shop did not bring, until
// told.
func (r *run) mayGoIn(plan *Plan) error {
	if !plan.Stranger || r.o.MoveIn || r.asked {
		return nil
	}
	if r.o.Ask != nil && r.o.Ask(plan) {
		r.asked = true
		return nil
	}
	if plan.Other != nil {
		return NewFault(nil, "publish.other-shop", "shop", plan.Other.Shop, "web", plan.Other.Web)
	}
	if len(plan.Replaced) > 0 {
		return NewFault(nil, "publish.stranger-replaced", "files", Several(plan.Replaced))
	}
	return NewFault(nil, "publish.stranger", "files", Several(plan.Left))
}

// Several names the first few of many files.
func Several(names []string) string {
	const few = 3
	if len(names) <= few {
		return strings.Join(names, ", ")
	}
	return strings.Join(names[:few], ", ") + ", ..."
}

// locked does the work with the lock held. It sees to the rest of the look meanwhile.
func (r *run) locked(ctx context.Context, see func(context.Context) error) (result Result, err error) {
	ctx, lose := context.WithCancelCause(ctx)
	defer lose(nil)
	defer func() { // whatever was under way when the lock was lost: that is what is told
		if cause := context.Cause(ctx); cause != nil && errors.Is(err, context.Canceled) {
			err = cause
		}
	}()
	// On a long line each answer takes its time, so whatever can be asked for together is.
	var looking errgroup.Group
	looking.Go(func() error { return see(ctx) })
	l, err := takeLock(ctx, r.far, r.o, r.token, lose)
	if err != nil {
		lose(err)
		_ = looking.Wait() // without the lock it does not matter
		return Result{}, err
	}
	defer func() {
		// What failed first is what is told; a lock that stays is a dead run's soon.
		after, cancel := context.WithTimeout(context.WithoutCancel(ctx), 10*time.Second)
		defer cancel()
		if e := l.release(after); err == nil {
			err = e
		}
	}()
	var now time.Time
	var text []byte
	there := true
	var asked errgroup.Group
	asked.Go(looking.Wait)
	asked.Go(func() (err error) { now, err = l.now(ctx); return err })
	asked.Go(func() error { return l.tidy(ctx) })
	asked.Go(func() error { return l.verify(ctx) })
	asked.Go(func() (err error) {
		if text, err = r.far.Read(ctx, manifestName, maxManifest); errors.Is(err, fs.ErrNotExist) {
			there = false
			return nil
		}
		return err
	})
	if err := asked.Wait(); err != nil {
		return Result{}, err
	}
	if !bytes.Equal(text, r.text) || there != r.ourFolder { // another run was at work meanwhile
		err := r.take(text, there)
		if err == nil {
			err = r.see(ctx)
		}
		if err != nil {
			return Result{}, err
		}
	}
	plan, err := r.plan(now)
	if err != nil {
		return Result{}, err
	}
	if err := r.mayGoIn(plan); err != nil {
		return Result{}, err
	}
	if !plan.Nothing() || r.ahead {
		err = r.carryOut(ctx, plan)
	}
	if err != nil {
		result = r.result(plan)
		result.Brought, result.Bytes, result.Removed = r.brought, r.done.Bytes, r.removed
		return result, err
	}
	return r.result(plan), nil
}

// carryOut brings the files, stage by stage, and removes what is gone.
func (r *run) carryOut(ctx context.Context, plan *Plan) (err error) {
	r.begin(plan)
	if len(plan.Stages) > 0 {
		err = r.bringAll(ctx, plan)
	} else {
		err = r.flush(ctx)
	}
	if err != nil || len(plan.Remove) == 0 {
		return err
	}
	if err := r.removeAll(ctx, plan.Remove); err != nil {
		return err
	}
	return r.flush(ctx)
}

// begin counts what is to come. What came over a line that broke, and is there, counts
// as done.
func (r *run) begin(plan *Plan) {
	r.listed = plan.announced()
	r.brought, r.removed = r.before(plan)
	r.done = Progress{Files: len(r.brought), OfFiles: len(r.brought)}
	for _, p := range r.brought {
		r.done.Bytes += r.want[p].Size
	}
	r.done.OfBytes = r.done.Bytes
	for _, stage := range plan.Stages {
		for _, p := range stage {
			r.done.OfFiles, r.done.OfBytes = r.done.OfFiles+1, r.done.OfBytes+r.want[p].Size
		}
	}
}

// before are the files that were brought and removed and are not in the plan.
func (r *run) before(plan *Plan) (brought, removed []string) {
	again := map[string]bool{}
	for _, names := range slices.Concat(plan.Stages, [][]string{plan.Remove}) {
		for _, p := range names {
			again[p] = true
		}
	}
	less := func(names []string) []string {
		return slices.DeleteFunc(slices.Clone(names), func(p string) bool { return again[p] })
	}
	return less(r.brought), less(r.removed)
}

// file reads a file of the site, which must be the one that was made.
func (r *run) file(p string) ([]byte, error) {
	data, err := r.site.Read(p)
	if err != nil {
		return nil, err
	}
	if PrintOf(data) != r.want[p] {
		return nil, NewFault(nil, "publish.site-changed", "file", p)
	}
	return data, nil
}

func (r *run) isThere(p string) {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.listed[p] = Listed{State: There, Print: r.want[p]}
	r.brought = append(r.brought, p)
	r.done.Files++
	r.done.Bytes += r.want[p].Size
	if r.o.Progress != nil {
		r.o.Progress(r.done)
	}
}

func (r *run) removeAll(ctx context.Context, names []string) error {
	work, ctx := errgroup.WithContext(ctx)
	work.SetLimit(max(1, r.far.Traits().AtOnce))
	for _, p := range names {
		work.Go(func() error {
			if err := r.far.Remove(ctx, p); err != nil && !errors.Is(err, fs.ErrNotExist) {
				return err
			}
			r.mu.Lock()
			defer r.mu.Unlock()
			delete(r.listed, p)
			r.removed = append(r.removed, p)
			return nil
		})
	}
	return work.Wait()
}

// flush writes the manifest as things stand.
func (r *run) flush(ctx context.Context) error {
	r.mu.Lock()
	m := Manifest{r.site.Owner, maps.Clone(r.listed)}
	r.mu.Unlock()
	return r.far.Put(ctx, manifestName, m.Text())
}

func (r *run) result(plan *Plan) Result {
	some := func(names []string) []string { return append([]string{}, names...) } // an empty list is one too
	brought, removed := r.before(plan)
	result := Result{
		Brought: some(brought), Kept: plan.Keep - len(brought), Removed: append(some(removed), plan.Remove...), Staying: plan.gone(),
		Replaced: some(plan.Replaced), Left: some(plan.Left), NoList: r.known == nil && len(plan.Left)+len(plan.Replaced)+plan.Keep > 0,
	}
	for _, stage := range plan.Stages {
		result.Brought = append(result.Brought, stage...)
		for _, p := range stage {
			if !plan.there[p] && (r.known == nil || r.known.Files[p].State != There) {
				result.New = append(result.New, p)
			}
		}
	}
	for _, p := range result.Brought {
		result.Bytes += r.want[p].Size
	}
	return result
}
