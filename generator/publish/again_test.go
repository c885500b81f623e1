package publish_test

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"sync/atomic"
	"testing"
	"time"

	"github.com/spf13/afero"

	"asleft/generator/output"
	"asleft/generator/publish"
	"asleft/generator/publish/farend"
	"asleft/generator/testenv"
)

// A line that breaks in the middle of an upload, with or without a word, is opened again,
// and the run goes on: what it says at the end is of both lines together.
func TestGoesOnByItself(t *testing.T) {
	eachWay(t, func(t *testing.T, w way) {
		site := village("old", 30)
		for n := range 10 {
			site[fmt.Sprintf("photos/large%d-1600.jpg", n)] = fmt.Sprintf("%100000d", n)
		}
		for n, dead := range []bool{false, true} {
			line := testenv.NewLine(t)
			line.After, line.Dead = 700_000, dead
			far, err := w.open(t, func(o *farend.Options) { o.Dial, o.Quiet = line.Dial, 4*time.Second })
			if err != nil {
				t.Fatal(err)
			}
			o := slowerAtOnce()
			o.Pace.Again = 10 * time.Millisecond
			opened, told := 0, 0
			o.Again = func(ctx context.Context) (publish.FarEnd, error) {
				opened++
				return farend.Open(ctx, w.url, w.o)
			}
			o.Broken = func(why error, pause time.Duration) {
				told++
				if pause != o.Pace.Again || why == nil {
					t.Errorf("told %v, %v", why, pause)
				}
			}
			var last publish.Progress
			o.Progress = func(p publish.Progress) { last = p }
			result := bring(t, far, site, o)
			_ = far.Close()
			if opened != 1 || told != 1 || !line.Over() {
				t.Errorf("dead: %v: opened again %d times, told %d times", dead, opened, told)
			}
			brought := slices.Compact(slices.Sorted(slices.Values(result.Brought)))
			if len(brought) != len(site) || result.Kept != 0 || last.Files != len(site) || last.OfFiles != len(site) || last.Bytes != last.OfBytes || result.Bytes != last.Bytes {
				t.Errorf("dead: %v: of %d files: %d brought, %d kept, %+v", dead, len(site), len(brought), result.Kept, last)
			}
			sameAs(t, w.disk(t), site)
			ours := func() []os.DirEntry {
				infos, err := os.ReadDir(filepath.Join(w.server.Root, publish.Folder))
				if err != nil {
					t.Fatal(err)
				}
				return infos
			}
			for n := 0; n < 20 && len(ours()) != 1; n++ { // a busy server may make a draft of the old line after all was tidied: the next run's
				time.Sleep(time.Duration(n) * 100 * time.Millisecond)
				far, err := farend.Open(t.Context(), w.url, w.o)
				if err != nil {
					t.Fatal(err)
				}
				bring(t, far, site, slowerAtOnce())
				_ = far.Close()
			}
			if left := ours(); len(left) != 1 {
				t.Errorf("in our folder stayed %v", left)
			}
			for p, text := range site { // all of it is another site then
				delete(site, p)
				if p != "index.html" {
					p = fmt.Sprint("x", n, p)
				}
				site[p] = text + " "
			}
		}
	})
}

// breaking is a far end whose line breaks at some call of Put, and stays so.
type breaking struct {
	publish.FarEnd
	puts *atomic.Int32 // that still work
	err  error
}

func breakingAfter(fsys afero.Fs, puts int32, err error) breaking {
	b := breaking{farend.Folder(fsys, nil), new(atomic.Int32), err}
	b.puts.Store(puts)
	return b
}

func (b breaking) Put(ctx context.Context, name string, data []byte) error {
	if b.puts.Add(-1) < 0 {
		return b.err
	}
	return b.FarEnd.Put(ctx, name, data)
}

// When it is tried again, how often, and when that is of no use.
func TestTriesAgain(t *testing.T) {
	lost, full := publish.NewFault(nil, "publish.line-lost", "host", "h").OfLine(), publish.NewFault(nil, "publish.disk-full")
	for _, tc := range []struct {
		name   string
		first  error
		works  int32 // calls of Put on each line
		opens  error // what opening again says
		opened int
		want   string
	}{
		{"a full disk is not tried again", full, 5, nil, 0, "publish.disk-full"},
		{"a line that brings nothing more is tried four times", lost, 0, nil, 4, "publish.line-down"},
		{"a wrong password ends it", lost, 5, publish.NewFault(nil, "publish.password", "of", "m@h"), 1, "publish.password"},
		{"a line that is down altogether is tried four times", lost, 5, publish.NewFault(nil, "publish.no-host", "host", "h").OfLine(), 4, "publish.line-down"},
		{"as long as each line brings something, it goes on", lost, 12, nil, -1, ""},
	} {
		t.Run(tc.name, func(t *testing.T) {
			fsys, site := afero.NewMemMapFs(), village("old", 20)
			o := atOnce()
			o.Pace.Again, o.Pace.Flush, o.Pace.Beat = time.Millisecond, time.Minute, time.Minute
			var pauses []time.Duration
			o.Broken = func(_ error, pause time.Duration) { pauses = append(pauses, pause) }
			on := func() publish.FarEnd {
				return breakingAfter(fsys, tc.works, tc.first)
			}
			opened := 0
			o.Again = func(context.Context) (publish.FarEnd, error) {
				opened++
				if tc.opens != nil {
					return nil, tc.opens
				}
				return on(), nil
			}
			_, err := publish.Bring(context.Background(), on(), siteOf(site), o)
			if tc.want != "" && !publish.IsFault(err, tc.want) || tc.want == "" && err != nil {
				t.Errorf("said %v", err)
			}
			if tc.opened >= 0 && opened != tc.opened || tc.opened < 0 && opened < 5 {
				t.Errorf("opened %d times", opened)
			}
			if opened == 4 && !slices.Equal(pauses, []time.Duration{time.Millisecond, 3 * time.Millisecond, 9 * time.Millisecond, 27 * time.Millisecond}) {
				t.Errorf("paused %v", pauses)
			}
			if err == nil {
				sameAs(t, fsys, site)
			}
		})
	}
}

// Of what a run announced that was cut off, what is there and surely whole is not brought
// again, though the list there never came to say so. What only may be the new one is.
func TestTakesWhatIsThereAlready(t *testing.T) {
	for _, tc := range []struct {
		name string
		tear string // a file that is made shorter there
		want int    // that are there and not brought again
	}{
		{"photos that are whole", "", 4},
		{"a photo that was cut short", "photos/large2-1600.jpg", 3},
	} {
		t.Run(tc.name, func(t *testing.T) {
			fsys, site := afero.NewMemMapFs(), village("old", 1)
			photos := 0
			for n := range 4 {
				site[fmt.Sprintf("photos/large%d-1600.jpg", n)] = fmt.Sprintf("%1000d", n)
			}
			for p := range site {
				if output.NamedByContent(p) {
					photos++
				}
			}
			// The list, what is new in it, and all of the photos; then the line is down.
			o := atOnce()
			o.Pace.Flush, o.Pace.Beat = time.Minute, time.Minute
			far := breakingAfter(fsys, int32(1+photos), publish.NewFault(nil, "publish.line-lost", "host", "h").OfLine())
			if _, err := publish.Bring(context.Background(), far, siteOf(site), o); !publish.IsFault(err, "publish.line-lost") {
				t.Fatalf("said %v", err)
			}
			if tc.tear != "" {
				if err := afero.WriteFile(fsys, tc.tear, []byte("half"), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			o.Token = "another run"
			o.Pace.Stale, o.Pace.Look = 10*time.Millisecond, time.Millisecond
			result := bring(t, farend.Folder(fsys, nil), site, o)
			if result.Kept != photos-4+tc.want || len(result.Brought) != len(site)-result.Kept {
				t.Errorf("of %d files, of them %d photos: %d kept, brought %q", len(site), photos, result.Kept, result.Brought)
			}
			sameAs(t, fsys, site)
		})
	}
}

// A lock that an earlier run of the same desk left is not waited for; another's is.
func TestOwnLockThatWasLeft(t *testing.T) {
	for _, tc := range []struct {
		name, token string
		waits       bool
	}{
		{"the same", "of a desk", false},
		{"another's", "of another desk", true},
	} {
		t.Run(tc.name, func(t *testing.T) {
			fsys, site := afero.NewMemMapFs(), village("old", 3)
			far := farend.Folder(fsys, nil)
			o := quick()
			o.Token, o.Who = "of a desk", "her"
			if err := far.MakeFolders(context.Background(), []string{publish.Folder}); err != nil {
				t.Fatal(err)
			}
			if err := far.Create(context.Background(), publish.Folder+"/lock", []byte("asleft publish lock 1\nwho her\nrun "+tc.token+"\nbeat 7\n")); err != nil {
				t.Fatal(err)
			}
			waited := ""
			o.Waiting = func(who string) { waited = who }
			bring(t, far, site, o)
			if (waited == "her") != tc.waits {
				t.Errorf("waited for %q", waited)
			}
			sameAs(t, fsys, site)
		})
	}
}

// Whoever stops the run in a pause does not wait for its end.
func TestStoppedInAPause(t *testing.T) {
	far := breakingAfter(afero.NewMemMapFs(), 5, publish.NewFault(nil, "publish.line-lost", "host", "h").OfLine())
	ctx, stop := context.WithCancel(context.Background())
	defer stop()
	o := quick()
	o.Pace.Again = time.Hour
	o.Again = func(context.Context) (publish.FarEnd, error) { return far, nil }
	o.Broken = func(error, time.Duration) { stop() }
	if _, err := publish.Bring(ctx, far, siteOf(village("old", 4)), o); !errors.Is(err, context.Canceled) {
		t.Errorf("said %v", err)
	}
}
