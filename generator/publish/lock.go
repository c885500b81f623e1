package publish

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"strings"
	"sync"
	"time"
)

// Pace is how often things are done; zero takes what suits people.
type Pace struct {
	Beat  time.Duration // the lock is renewed
	Stale time.Duration // a lock that nobody renews is a dead run's
	Look  time.Duration // whoever waits looks again
	Flush time.Duration // the manifest is written while files are brought
	Again time.Duration // after the line broke, before the first try; the next ones wait longer
}

func (p Pace) orUsual() Pace {
	set := func(d *time.Duration, usual time.Duration) {
		if *d == 0 {
			*d = usual
		}
	}
	set(&p.Beat, 5*time.Second)
	set(&p.Stale, 30*time.Second)
	set(&p.Look, time.Second)
	set(&p.Flush, 3*time.Second)
	set(&p.Again, 2*time.Second)
	return p
}

const lockHead = "asleft publish lock 1"

// A lock is the lock file at the far end, held by this run.
type lock struct {
	far   FarEnd
	pace  Pace
	who   string
	token string

	mu        sync.Mutex
	beat      int
	confirmed time.Time // when it was last seen to be ours, by this computer's clock

	// writing is held while the lock is written anew, and while unfinished files are tidied
	// away: the lock is one of them until it is in place.
	writing sync.Mutex

	stop context.CancelFunc
	over chan struct{}
}

func (l *lock) text() []byte {
	return fmt.Appendf(nil, "%s\nwho %s\nrun %s\nbeat %d\n", lockHead, inLine(l.who), l.token, l.beat)
}

// in tells whether a lock's text is of this run.
func (l *lock) in(text []byte) bool {
	return strings.Contains(string(text), "\nrun "+l.token+"\n")
}

// holder is who a lock's text names.
func holder(text string) string {
	for line := range strings.Lines(text) {
		if who, ok := strings.CutPrefix(line, "who "); ok {
			return strings.TrimSpace(who)
		}
	}
	return "?"
}

// takeLock takes the lock, and waits for another run that has it. It takes over from
// one that does not renew it. lost is called if somebody takes it away meanwhile.
// One that has this token was left by this run, or by one before it, when its line broke.
func takeLock(ctx context.Context, far FarEnd, o Options, token string, lost func(error)) (*lock, error) {
	l := &lock{far: far, pace: o.Pace, who: o.Who, token: token, over: make(chan struct{})}
	var seen string            // the lock's text
	var since, begun time.Time // since when it has not changed; since when somebody has it
	for told := false; ; {
		err := far.Create(ctx, lockName, l.text())
		if err == nil {
			break
		}
		if !errors.Is(err, fs.ErrExist) {
			return nil, err
		}
		data, err := far.Read(ctx, lockName, 4096)
		if errors.Is(err, fs.ErrNotExist) {
			data, err = nil, nil // let go just now, or about to be written
		}
		if err != nil {
			return nil, err
		}
		if l.in(data) {
			break
		}
		now := time.Now()
		if begun.IsZero() {
			begun = now
		}
		if since.IsZero() || string(data) != seen {
			seen, since = string(data), now
		}
		if now.Sub(since) >= l.pace.Stale {
			if err := takeOver(ctx, far, seen, now.Sub(since) >= 2*l.pace.Stale); err != nil {
				return nil, err
			}
			// Not at once: a far end may say that the lock is gone, and keep it.
		}
		if now.Sub(begun) >= o.Wait {
			return nil, NewFault(nil, "publish.at-work", "who", holder(seen))
		}
		if !told && o.Waiting != nil {
			o.Waiting(holder(seen))
		}
		told = true
		select {
		case <-ctx.Done():
			return nil, context.Cause(ctx)
		case <-time.After(l.pace.Look):
		}
	}
	l.confirmed = time.Now()
	var beating context.Context
	beating, l.stop = context.WithCancel(context.WithoutCancel(ctx))
	go l.renew(beating, lost)
	return l, nil
}

// verify says whether the lock that was just taken is this run's: a server that does
// not know how to refuse a second one wrote over the first, and the one whose text
// stands there has it.
func (l *lock) verify(ctx context.Context) error {
	data, err := l.far.Read(ctx, lockName, 4096)
	if err == nil && !l.in(data) {
		l.mu.Lock()
		defer l.mu.Unlock()
		l.confirmed = time.Time{} // it is not to be removed as ours
		err = NewFault(nil, "publish.at-work", "who", holder(string(data)))
	}
	return err
}

// takeOver removes the lock of a dead run. Of several that want to, one does: it
// holds a second lock meanwhile, which is removed as well if that one died in turn.
func takeOver(ctx context.Context, far FarEnd, stale string, both bool) error {
	const second = lockName + "-taken-over"
	if err := far.Create(ctx, second, []byte(lockHead+"\n")); err != nil && !(both && errors.Is(err, fs.ErrExist)) {
		if errors.Is(err, fs.ErrExist) {
			return nil
		}
		return err
	}
	data, err := far.Read(ctx, lockName, 4096)
	if err == nil && string(data) == stale || errors.Is(err, fs.ErrNotExist) && stale == "" {
		err = far.Remove(ctx, lockName)
	}
	if errors.Is(err, fs.ErrNotExist) {
		err = nil
	}
	return errors.Join(err, far.Remove(ctx, second))
}

// renew shows others that this run lives, and notices if one of them thought that it
// did not.
func (l *lock) renew(ctx context.Context, lost func(error)) {
	defer close(l.over)
	for {
		select {
		case <-ctx.Done():
			return
		case <-time.After(l.pace.Beat):
		}
		if err := l.check(ctx); err != nil {
			if ctx.Err() == nil {
				lost(err)
			}
			return
		}
		l.mu.Lock()
		l.beat++
		text := l.text()
		l.mu.Unlock()
		l.writing.Lock()
		err := l.far.Put(ctx, lockName, text)
		l.writing.Unlock()
		if err != nil {
			if ctx.Err() == nil {
				lost(err)
			}
			return
		}
	}
}

// tidy removes what a run that was cut off left unfinished.
func (l *lock) tidy(ctx context.Context) error {
	l.writing.Lock()
	defer l.writing.Unlock()
	return l.far.Tidy(ctx)
}

// check says whether the lock is still this run's.
func (l *lock) check(ctx context.Context) error {
	data, err := l.far.Read(ctx, lockName, 4096)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	if err != nil || !l.in(data) {
		return NewFault(nil, "publish.lock-lost", "who", holder(string(data)))
	}
	l.mu.Lock()
	defer l.mu.Unlock()
	l.confirmed = time.Now()
	return nil
}

// now is the time by the far end's clock, told by the lock file that was just
// written there; this computer's where the far end does not tell.
func (l *lock) now(ctx context.Context) (time.Time, error) {
	seen, err := l.far.Stat(ctx, []string{lockName})
	if err != nil {
		return time.Time{}, err
	}
	if changed := seen[lockName].Changed; !changed.IsZero() {
		return changed, nil
	}
	return time.Now(), nil
}

// release lets go. A lock that was taken away stays with whoever has it now.
func (l *lock) release(ctx context.Context) error {
	l.stop()
	<-l.over
	l.mu.Lock()
	sure := time.Since(l.confirmed) < l.pace.Stale/2
	l.mu.Unlock()
	if !sure {
		if err := l.check(ctx); err != nil {
			return err
		}
	}
	return l.far.Remove(ctx, lockName)
}
