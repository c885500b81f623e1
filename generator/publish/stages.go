package publish

import (
	"context"
	"sync"
	"sync/atomic"
	"time"

	"golang.org/x/sync/errgroup"
	"golang.org/x/sync/semaphore"
)

// memory is how many bytes of files are held at a time.
const memory = 64 << 20

// alongside is how many files go over the line together with what announces them. More
// would only stand in its way, and nothing could be put in place until then.
const alongside = 16

// A gate opens when so many things are done.
type gate struct {
	left atomic.Int64
	open chan struct{}
}

func newGate(things int) *gate {
	g := &gate{open: make(chan struct{})}
	g.left.Store(int64(things))
	return g
}

func (g *gate) done() {
	if g.left.Add(-1) == 0 {
		close(g.open)
	}
}

func (g *gate) wait(ctx context.Context) error {
	select {
	case <-g.open:
		return ctx.Err()
	case <-ctx.Done():
		return ctx.Err()
	}
}

// A bringing is the files of a plan on their way. Drafts of all stages go over the line
// one after another, without a pause between the stages; a file is put in place when
// all of the stages before its own are.
type bringing struct {
	*run
	drafter Drafter             // nil where a file cannot be held back
	writing *semaphore.Weighted // calls that write at a time
	placing *semaphore.Weighted // drafts that are put in place at a time
	room    *semaphore.Weighted // bytes at a time

	drafts map[string]bool // not in place yet; with mu of run
}

// bringAll announces what is to come, brings the stages, and writes the manifest every
// few seconds and at the end. A run that fails leaves a manifest of what it has done, and
// no drafts, if the line still carries that.
func (r *run) bringAll(ctx context.Context, plan *Plan) (err error) {
	atOnce := int64(max(1, r.far.Traits().AtOnce))
	b := &bringing{run: r, writing: semaphore.NewWeighted(atOnce), placing: semaphore.NewWeighted(atOnce), room: semaphore.NewWeighted(memory), drafts: map[string]bool{}}
	b.drafter, _ = r.far.(Drafter)
	work, working := errgroup.WithContext(ctx)
	announced := newGate(2) // folders that stay empty if the manifest cannot be written harm nobody
	stopFlush := r.flushing(working, announced)
	defer func() {
		stopFlush()
		if err != nil {
			after, cancel := context.WithTimeout(context.WithoutCancel(ctx), 10*time.Second)
			defer cancel()
			if b.sweep(after) == nil {
				_ = r.flush(after) // what failed first is what is told
			}
		}
	}()
	both := func(err error) error {
		if err == nil {
			announced.done()
		}
		return err
	}
	work.Go(func() error { return both(r.flush(working)) })
	work.Go(func() error { return both(r.far.MakeFolders(working, plan.folders())) })
	before, begun := announced, 0
	for _, stage := range plan.Stages {
		after := newGate(len(stage))
		for _, p := range stage {
			if begun++; begun > alongside && announced.wait(working) != nil {
				break
			}
			if !b.start(working, work, p, before, after) {
				break
			}
		}
		before = after
	}
	work.Go(func() error {
		return b.bring(working, manifestName, Manifest{r.site.Owner, plan.After}.Text(), func() error {
			err := before.wait(working)
			stopFlush() // what it writes is older
			return err
		})
	})
	if err := work.Wait(); err != nil {
		return err
	}
	return ctx.Err()
}

// start begins to bring a file as soon as there is room for it on the line; false where
// the work is over before.
func (b *bringing) start(ctx context.Context, work *errgroup.Group, p string, before, after *gate) bool {
	weight := min(b.want[p].Size, memory)
	if b.drafter == nil && before.wait(ctx) != nil || b.room.Acquire(ctx, weight) != nil {
		return false
	}
	if b.writing.Acquire(ctx, 1) != nil {
		b.room.Release(weight)
		return false
	}
	let := sync.OnceFunc(func() {
		b.writing.Release(1)
		b.room.Release(weight)
	})
	work.Go(func() error {
		defer let()
		data, err := b.file(p)
		if err != nil {
			return err
		}
		err = b.bring(ctx, p, data, func() error {
			if b.drafter != nil { // it has gone over the line; the next one may
				data = nil
				let()
			}
			return before.wait(ctx)
		})
		if err == nil {
			b.isThere(p)
			after.done()
		}
		return err
	})
	return true
}

// bring brings a file and puts it in place when turn returns.
func (b *bringing) bring(ctx context.Context, p string, data []byte, turn func() error) error {
	if b.drafter == nil {
		if err := turn(); err != nil {
			return err
		}
		return b.far.Put(ctx, p, data)
	}
	draft, err := b.drafter.Draft(ctx, p, data)
	if err != nil {
		return err
	}
	b.waits(draft, true)
	if err := turn(); err != nil {
		return err
	}
	if err := b.placing.Acquire(ctx, 1); err != nil {
		return err
	}
	defer b.placing.Release(1)
	err = b.drafter.Place(ctx, draft, p)
	b.waits(draft, false) // one that failed has removed it
	return err
}

func (b *bringing) waits(draft string, yes bool) {
	b.mu.Lock()
	defer b.mu.Unlock()
	if yes {
		b.drafts[draft] = true
	} else {
		delete(b.drafts, draft)
	}
}

// sweep removes the drafts that were not put in place: on a disk that is full they would
// take the room that its owner needs.
func (b *bringing) sweep(ctx context.Context) error {
	work, working := errgroup.WithContext(ctx)
	work.SetLimit(max(1, b.far.Traits().AtOnce))
	for draft := range b.drafts { // nobody adds to them any more
		if working.Err() != nil {
			break
		}
		work.Go(func() error { return b.far.Remove(working, draft) })
	}
	return work.Wait()
}

// flushing writes the manifest every few seconds once it is announced, until stop is
// called.
func (r *run) flushing(ctx context.Context, announced *gate) (stop func()) {
	end, ended := make(chan struct{}), make(chan struct{})
	go func() {
		defer close(ended)
		if announced.wait(ctx) != nil {
			return
		}
		for {
			select {
			case <-end:
				return
			case <-ctx.Done():
				return
			case <-time.After(r.o.Pace.Flush):
				_ = r.flush(ctx) // the next one may work; the last one is asked
			}
		}
	}()
	return sync.OnceFunc(func() {
		close(end)
		<-ended
	})
}
