package publish

import (
	"bytes"
	"context"
	"crypto/md5" //nolint:gosec // what some servers tell of their files; nothing is kept safe by it
	"encoding/hex"
	"errors"
	"io/fs"
	"maps"
	"strings"
	"sync"
	"time"

	"golang.org/x/sync/errgroup"
	"golang.org/x/sync/semaphore"

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
	Pace     Pace
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

// memory is how many bytes of files are held at a time.
const memory = 64 << 20

// Bring makes the far end what the site is.
func Bring(ctx context.Context, far FarEnd, site Site, o Options) (Result, error) {
	o.Pace = o.Pace.orUsual()
	r := &run{far: far, site: site, o: o, want: map[string]Print{}}
	for _, f := range site.Files {
		r.want[f.Path] = Print{f.Size, f.Sum}
	}
	if _, ok := r.want[output.FrontPage]; !ok {
		return Result{}, NewFault(nil, "publish.no-front-page")
	}
	if err := r.look(ctx); err != nil {
		return Result{}, err
	}
	plan, err := r.plan(time.Now())
	if err != nil {
		return Result{}, err
	}
	if o.DryRun || plan.Nothing() {
		return r.result(plan), nil
	}
	if err := r.mayGoIn(plan); err != nil {
		return Result{}, err
	}
	return r.locked(ctx)
}

// A run is one call of Bring.
type run struct {
	far  FarEnd
	site Site
	o    Options
	want map[string]Print

	text      []byte // the manifest as it was read
	known     *Manifest
	ourFolder bool
	seen      map[string]*Info
	asked     bool // to go in where something else stands, and told to

	mu      sync.Mutex
	listed  map[string]Listed
	done    Progress
	brought []string
}

// look reads the manifest and sees what stands at the far end.
func (r *run) look(ctx context.Context) error {
	r.known, r.seen, r.ourFolder = nil, map[string]*Info{}, false
	text, err := r.far.Read(ctx, manifestName, maxManifest)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	if err == nil {
		r.ourFolder = true
		if m, bad := ParseManifest(text); bad == nil {
			r.known = &m
		} else if head, _, _ := strings.Cut(string(text), "\n"); head != manifestHead && strings.HasPrefix(head, "asleft publish manifest ") {
			return NewFault(bad, "publish.newer")
		}
	}
	r.text = text
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

func (r *run) plan(now time.Time) (*Plan, error) {
	return Make(Situation{
		Owner: Owner{inLine(r.site.Owner.Shop), inLine(r.site.Owner.Web)}, Want: r.want, Known: r.known, Seen: r.seen,
		OurFolder: r.ourFolder, AtOnce: r.o.AtOnce, Now: now,
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

// locked does the work with the lock held.
func (r *run) locked(ctx context.Context) (result Result, err error) {
	ctx, lose := context.WithCancelCause(ctx)
	defer lose(nil)
	l, err := takeLock(ctx, r.far, r.o, lose)
	if err != nil {
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
	// On a long line each answer takes its time, so these are asked for together.
	var now time.Time
	var text []byte
	var asked errgroup.Group
	asked.Go(func() (err error) { now, err = l.now(ctx); return err })
	asked.Go(func() error { return r.far.Tidy(ctx) })
	asked.Go(func() error { return l.verify(ctx) })
	asked.Go(func() (err error) {
		if text, err = r.far.Read(ctx, manifestName, maxManifest); errors.Is(err, fs.ErrNotExist) {
			return nil
		}
		return err
	})
	if err := asked.Wait(); err != nil {
		return Result{}, err
	}
	if !bytes.Equal(text, r.text) { // another run was at work meanwhile
		if err := r.look(ctx); err != nil {
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
	if !plan.Nothing() {
		err = r.carryOut(ctx, plan)
	}
	result = r.result(plan)
	if err != nil {
		result.Brought, result.Bytes = r.brought, r.done.Bytes
		if cause := context.Cause(ctx); cause != nil && errors.Is(err, context.Canceled) {
			err = cause
		}
	}
	return result, err
}

// carryOut brings the files, stage by stage, and removes what is gone.
func (r *run) carryOut(ctx context.Context, plan *Plan) (err error) {
	r.listed = plan.announced()
	for _, stage := range plan.Stages {
		for _, p := range stage {
			r.done.OfFiles, r.done.OfBytes = r.done.OfFiles+1, r.done.OfBytes+r.want[p].Size
		}
	}
	if len(plan.Stages) > 0 {
		var before errgroup.Group // folders that stay empty if the manifest cannot be written harm nobody
		before.Go(func() error { return r.flush(ctx) })
		before.Go(func() error { return r.far.MakeFolders(ctx, plan.folders()) })
		if err := before.Wait(); err != nil {
			return err
		}
		if err := r.bringAll(ctx, plan); err != nil {
			return err
		}
	}
	if err := r.flush(ctx); err != nil || len(plan.Remove) == 0 {
		return err
	}
	if err := r.removeAll(ctx, plan.Remove); err != nil {
		return err
	}
	return r.flush(ctx)
}

// bringAll brings the stages, and writes the manifest every few seconds. A run that
// fails leaves a manifest of what it has done.
func (r *run) bringAll(ctx context.Context, plan *Plan) (err error) {
	stop, stopped := make(chan struct{}), make(chan struct{})
	go func() {
		defer close(stopped)
		for {
			select {
			case <-stop:
				return
			case <-time.After(r.o.Pace.Flush):
				_ = r.flush(ctx) // the next one may work; the last one is asked
			}
		}
	}()
	defer func() {
		close(stop)
		<-stopped
		if err != nil {
			after, cancel := context.WithTimeout(context.WithoutCancel(ctx), 10*time.Second)
			defer cancel()
			_ = r.flush(after) // what failed first is what is told
		}
	}()
	room := semaphore.NewWeighted(memory)
	for _, stage := range plan.Stages {
		if err := r.bringStage(ctx, stage, room); err != nil {
			return err
		}
	}
	return nil
}

func (r *run) bringStage(ctx context.Context, stage []string, room *semaphore.Weighted) error {
	work, working := errgroup.WithContext(ctx)
	work.SetLimit(max(1, r.far.Traits().AtOnce))
	for _, p := range stage {
		if working.Err() != nil {
			break
		}
		work.Go(func() error {
			weight := min(r.want[p].Size, memory)
			if err := room.Acquire(working, weight); err != nil {
				return err
			}
			defer room.Release(weight)
			data, err := r.file(p)
			if err == nil {
				err = r.far.Put(working, p, data)
			}
			if err == nil {
				r.isThere(p)
			}
			return err
		})
	}
	if err := work.Wait(); err != nil {
		return err
	}
	return ctx.Err()
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
	result := Result{Brought: []string{}, Kept: plan.Keep, Removed: some(plan.Remove), Staying: plan.gone(), Replaced: some(plan.Replaced), Left: some(plan.Left), NoList: r.known == nil && len(plan.Left)+len(plan.Replaced)+plan.Keep > 0}
	for _, stage := range plan.Stages {
		result.Brought = append(result.Brought, stage...)
		for _, p := range stage {
			result.Bytes += r.want[p].Size
			if !plan.there[p] && (r.known == nil || r.known.Files[p].State != There) {
				result.New = append(result.New, p)
			}
		}
	}
	return result
}
