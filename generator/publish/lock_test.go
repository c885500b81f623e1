package publish_test

import (
	"context"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"github.com/spf13/afero"

	"asleft/generator/publish"
	"asleft/generator/publish/farend"
)

// careless is a far end that lets two create the same file, as some stores do.
type careless struct {
	publish.FarEnd
	then func() // after a create
}

func (c careless) Create(ctx context.Context, name string, data []byte) error {
	err := c.Put(ctx, name, data)
	c.then()
	return err
}

// Where the far end lets two take the lock, the one whose text stands there has it, and
// the other brings nothing and leaves the lock alone.
func TestLockThatTwoCanTake(t *testing.T) {
	fsys := afero.NewMemMapFs()
	const theirs = "asleft publish lock 1\nwho AB on bench\nrun OTHER\nbeat 0\n"
	far := careless{farend.Folder(fsys, nil), func() {
		if err := afero.WriteFile(fsys, publish.Folder+"/lock", []byte(theirs), 0o600); err != nil {
			t.Fatal(err)
		}
	}}
	_, err := publish.Bring(context.Background(), far, siteOf(village("old", 2)), quick())
	if !publish.IsFault(err, "publish.at-work") && !publish.IsFault(err, "publish.lock-lost") || !strings.Contains(err.Error(), "AB on bench") {
		t.Errorf("said %v", err)
	}
	if there, _ := afero.Exists(fsys, "index.html"); there {
		t.Error("the site was brought all the same")
	}
	if text, _ := afero.ReadFile(fsys, publish.Folder+"/lock"); string(text) != theirs {
		t.Errorf("the other's lock is gone: %q", text)
	}
}

// A dead run's lock is taken over, and the lock of the one who was taking it over and
// died in turn.
func TestTakesOver(t *testing.T) {
	for _, also := range []string{"", publish.Folder + "/lock-taken-over"} {
		fsys := afero.NewMemMapFs()
		for _, name := range []string{publish.Folder + "/lock", also} {
			if name == "" {
				continue
			}
			if err := afero.WriteFile(fsys, name, []byte("asleft publish lock 1\nwho AB on bench\nrun DEAD\nbeat 7\n"), 0o600); err != nil {
				t.Fatal(err)
			}
		}
		o := quick()
		waited := ""
		o.Waiting = func(who string) { waited = who }
		bring(t, farend.Folder(fsys, nil), village("old", 2), o)
		if waited != "AB on bench" {
			t.Errorf("waited for %q", waited)
		}
		if infos, err := afero.ReadDir(fsys, publish.Folder); err != nil || len(infos) != 1 {
			t.Errorf("left behind: %v, %v", infos, err)
		}
	}
}

// slow is a far end that takes its time to tidy away what is unfinished, and would take the
// lock with it while that is written.
type slow struct {
	publish.FarEnd
	tidying *atomic.Bool
	hit     *atomic.Bool
}

func (s slow) Tidy(ctx context.Context) error {
	s.tidying.Store(true)
	defer s.tidying.Store(false)
	time.Sleep(100 * time.Millisecond)
	return s.FarEnd.Tidy(ctx)
}

func (s slow) Put(ctx context.Context, name string, data []byte) error {
	if s.tidying.Load() {
		s.hit.Store(true)
	}
	return s.FarEnd.Put(ctx, name, data)
}

// The lock is not written anew while unfinished files are tidied away: until it is in place
// it is one of them, and gone with them the run ends as one that may not write there.
func TestTidiesWithoutTheLock(t *testing.T) {
	far := slow{farend.Folder(afero.NewMemMapFs(), nil), new(atomic.Bool), new(atomic.Bool)}
	o := quick()
	o.Pace.Beat = time.Millisecond
	bring(t, far, village("old", 2), o)
	if far.hit.Load() {
		t.Error("the lock was written while unfinished files were tidied away")
	}
}

// dying is a far end whose line breaks once the lock is taken: it is not renewed, and who
// asks for it waits until the run is given up.
type dying struct {
	publish.FarEnd
	says error
}

func (d dying) Put(ctx context.Context, name string, data []byte) error {
	if strings.HasSuffix(name, "/lock") {
		return d.says
	}
	return d.FarEnd.Put(ctx, name, data)
}

func (d dying) Stat(ctx context.Context, names []string) (map[string]publish.Info, error) {
	if len(names) == 1 && strings.HasSuffix(names[0], "/lock") {
		<-ctx.Done()
		return nil, ctx.Err()
	}
	return d.FarEnd.Stat(ctx, names)
}

// What is told of a lock that was lost is why, whatever was under way meanwhile.
func TestLostLockSaysWhy(t *testing.T) {
	far := dying{farend.Folder(afero.NewMemMapFs(), nil), publish.NewFault(nil, "publish.line-lost", "host", "h")}
	if _, err := publish.Bring(context.Background(), far, siteOf(village("old", 2)), quick()); !publish.IsFault(err, "publish.line-lost") {
		t.Errorf("said %v", err)
	}
}

// keeping is a far end that says that the lock was removed, and keeps it.
type keeping struct {
	publish.FarEnd
	created atomic.Int64
}

func (k *keeping) Create(ctx context.Context, name string, data []byte) error {
	k.created.Add(1)
	return k.FarEnd.Create(ctx, name, data)
}

func (k *keeping) Remove(ctx context.Context, name string) error {
	if name == publish.Folder+"/lock" {
		return nil
	}
	return k.FarEnd.Remove(ctx, name)
}

// A lock that never goes is waited for as long as one that somebody holds, with a pause
// before each look.
func TestLockThatNeverGoes(t *testing.T) {
	fsys := afero.NewMemMapFs()
	if err := afero.WriteFile(fsys, publish.Folder+"/lock", []byte("asleft publish lock 1\nwho AB on bench\nrun DEAD\nbeat 7\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	far, o := &keeping{FarEnd: farend.Folder(fsys, nil)}, quick()
	o.Wait = 4 * o.Pace.Stale
	ctx, stop := context.WithTimeout(context.Background(), 10*time.Second)
	defer stop()
	_, err := publish.Bring(ctx, far, siteOf(village("old", 2)), o)
	if looks := 2*int64(o.Wait/o.Pace.Look) + 2; !publish.IsFault(err, "publish.at-work") || far.created.Load() > looks {
		t.Errorf("asked for %d times, %d at most, and said %v", far.created.Load(), looks, err)
	}
}
