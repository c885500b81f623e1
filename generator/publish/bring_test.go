package publish_test

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/spf13/afero"
	"pgregory.net/rapid"

	"asleft/generator/output"
	"asleft/generator/publish"
	"asleft/generator/publish/farend"
	"asleft/generator/testenv"
)

// atOnce are quick options that keep nothing that is gone.
func atOnce() publish.Options {
	o := quick()
	o.AtOnce = true
	return o
}

func TestBringsWhatChangedAlone(t *testing.T) {
	fsys := afero.NewMemMapFs()
	far := farend.Folder(fsys, nil)
	old, young := village("old", 8), village("new", 8)
	first := bring(t, far, old, quick())
	sameAs(t, fsys, old)
	if len(first.Brought) != len(old) || first.Brought[len(old)-1] != "index.html" || first.NoList {
		t.Errorf("the first run: %+v", first)
	}
	if again := bring(t, far, old, quick()); len(again.Brought) != 0 || again.Kept != len(old) {
		t.Errorf("nothing changed: %+v", again)
	}
	changed := maps.Clone(old)
	changed["machines/m3/index.html"] += "!"
	if one := bring(t, far, changed, quick()); !slices.Equal(one.Brought, []string{"machines/m3/index.html"}) || one.Kept != len(old)-1 {
		t.Errorf("one page changed: %+v", one)
	}
	// What is gone stays for a day, then goes.
	second := bring(t, far, young, quick())
	gone := maps.Clone(changed)
	maps.DeleteFunc(gone, func(p, _ string) bool { _, kept := young[p]; return kept })
	if second.Staying != len(gone) || len(second.Removed) != 0 {
		t.Errorf("of %d files that are gone: %+v", len(gone), second)
	}
	sameAs(t, fsys, gone, young)
	last := bring(t, far, young, atOnce())
	if len(last.Removed) != len(gone) || last.Staying != 0 || len(last.Brought) != 0 {
		t.Errorf("removing: %+v", last)
	}
	sameAs(t, fsys, young)
	if there, _ := afero.DirExists(fsys, "machines/m1old"); there {
		t.Error("an empty folder stayed")
	}
	if lock, _ := afero.Exists(fsys, publish.Folder+"/lock"); lock {
		t.Error("the lock stayed")
	}
}

// What is gone and comes again, within its day, need not be brought.
func TestComesAgain(t *testing.T) {
	fsys := afero.NewMemMapFs()
	far := farend.Folder(fsys, nil)
	old, young := village("old", 8), village("new", 8)
	bring(t, far, old, quick())
	bring(t, far, young, quick())
	back := bring(t, far, old, quick())
	for _, p := range back.Brought {
		if strings.HasPrefix(p, "photos/") || strings.HasPrefix(p, "machines/m1old") {
			t.Errorf("%s was there and was brought again", p)
		}
	}
	bring(t, far, old, atOnce())
	sameAs(t, fsys, old)
}

func TestDryRunTouchesNothing(t *testing.T) {
	fsys := afero.NewMemMapFs()
	far := farend.Folder(fsys, nil)
	o := quick()
	o.DryRun = true
	if would := bring(t, far, village("old", 4), o); len(would.Brought) != len(village("old", 4)) {
		t.Errorf("%+v", would)
	}
	if infos, err := afero.ReadDir(fsys, "."); err == nil && len(infos) > 0 {
		t.Errorf("a dry run left %s", infos[0].Name())
	}
}

// Each call of the far end fails once, alone and as if the line were cut for good:
// at every moment and afterwards a visitor finds whole pages, what is not ours is
// never touched, and the next run makes it the same as the site, byte for byte.
func TestEveryCallFails(t *testing.T) {
	old, young := village("old", 5), village("new", 5)
	foreign := map[string]string{"notes.txt": "mine", "machines/m1old/mine.txt": "mine too"}
	for _, kill := range []bool{false, true} {
		for nth, tripped := 1, true; tripped; nth++ {
			fsys := afero.NewMemMapFs()
			bring(t, farend.Folder(fsys, nil), old, quick())
			for p, text := range foreign {
				if err := afero.WriteFile(fsys, p, []byte(text), 0o600); err != nil {
					t.Fatal(err)
				}
			}
			plan := &testenv.Plan{Nth: nth, Kill: kill, Renamed: func(to string) {
				if !strings.HasPrefix(to, publish.Folder) { // the lock is renewed at any moment, also while files are removed
					whole(t, fsys, old, young)
				}
			}}
			_, err := publish.Bring(context.Background(), farend.Folder(plan.Over(fsys), nil), siteOf(young), atOnce())
			if tripped = plan.Tripped; err == nil && tripped && kill && plan.Failed != "stat" && plan.Failed != "read" {
				t.Fatalf("call %d: %s of %s failed and all after it, and nothing was said", nth, plan.Failed, plan.On)
			}
			whole(t, fsys, old, young)
			if nth%3 != 0 { // in life a third run comes now and then, or another evening's
				bring(t, farend.Folder(fsys, nil), old, quick())
			}
			bring(t, farend.Folder(fsys, nil), young, atOnce())
			sameAs(t, fsys, young, foreign)
		}
	}
}

// A run that is cut goes on where it was.
func TestGoesOn(t *testing.T) {
	files := village("old", 200)
	fsys := afero.NewMemMapFs()
	var renames atomic.Int32
	ctx, cut := context.WithCancel(context.Background())
	defer cut()
	plan := &testenv.Plan{Renamed: func(string) {
		if renames.Add(1) == 150 {
			time.Sleep(20 * time.Millisecond) // for the manifest
			cut()
		}
	}}
	far := farend.Folder(plan.Over(fsys), nil)
	cutShort, err := publish.Bring(ctx, far, siteOf(files), quick())
	if !errors.Is(err, context.Canceled) {
		t.Fatalf("stopped with %v", err)
	}
	rest := bring(t, farend.Folder(fsys, nil), files, quick())
	if rest.Kept < 50 || rest.Kept+len(rest.Brought) != len(files) || len(cutShort.Brought) > rest.Kept {
		t.Errorf("of %d files %d were brought, then %d were taken as there", len(files), len(cutShort.Brought), rest.Kept)
	}
	sameAs(t, fsys, files)
}

// Without its list: what says its content in its name is not sent again, pages are,
// and nothing is removed.
func TestListLostOrTorn(t *testing.T) {
	old, young := village("old", 8), village("new", 8)
	for name, damage := range map[string]func(text []byte) []byte{
		"lost":      func([]byte) []byte { return nil },
		"cut short": func(text []byte) []byte { return text[:len(text)-7] },
		"not ours":  func([]byte) []byte { return []byte("<html>") },
		"empty":     func([]byte) []byte { return []byte{} },
		"changed": func(text []byte) []byte {
			return []byte(strings.Replace(string(text), " machines/", " ../machines/", 1))
		},
	} {
		t.Run(name, func(t *testing.T) {
			fsys := afero.NewMemMapFs()
			bring(t, farend.Folder(fsys, nil), old, quick())
			const at = publish.Folder + "/manifest"
			text, err := afero.ReadFile(fsys, at)
			if err != nil {
				t.Fatal(err)
			}
			if text = damage(text); text == nil {
				err = fsys.RemoveAll(publish.Folder)
			} else {
				err = afero.WriteFile(fsys, at, text, 0o600)
			}
			if err != nil {
				t.Fatal(err)
			}
			// One photo is short: its size shows it.
			if err := afero.WriteFile(fsys, "photos/m2both-400.jpg", []byte("a ph"), 0o600); err != nil {
				t.Fatal(err)
			}
			result := bring(t, farend.Folder(fsys, nil), young, atOnce())
			if slices.Contains(result.Brought, "assets/both.css") || !slices.Contains(result.Brought, "photos/m2both-400.jpg") || len(result.Removed) > 0 || !result.NoList {
				t.Errorf("%+v", result)
			}
			sameAs(t, fsys, old, young)
		})
	}
}

func TestStrangersAreLeftAlone(t *testing.T) {
	files := village("old", 4)
	for _, tc := range []struct {
		name     string
		there    map[string]string
		key      string
		replaced int
	}{
		{"a site with other names", map[string]string{"welcome.html": "welcome", "img/a.png": "a"}, "publish.stranger", 0},
		{"a host's placeholder", map[string]string{"index.html": "your site goes here"}, "publish.stranger-replaced", 1},
		{"a style like ours proves nothing", map[string]string{"assets/both.css": "p {}", "welcome.html": "hello"}, "publish.stranger", 0},
	} {
		t.Run(tc.name, func(t *testing.T) {
			fsys := afero.NewMemMapFs()
			for p, text := range tc.there {
				if err := afero.WriteFile(fsys, p, []byte(text), 0o600); err != nil {
					t.Fatal(err)
				}
			}
			far := farend.Folder(fsys, nil)
			_, err := publish.Bring(context.Background(), far, siteOf(files), quick())
			if !publish.IsFault(err, tc.key) {
				t.Fatalf("not told: %v", err)
			}
			sameAs(t, fsys, tc.there)
			o := quick()
			o.MoveIn = true
			if result := bring(t, far, files, o); len(result.Replaced) != tc.replaced {
				t.Errorf("%+v", result)
			}
			sameAs(t, fsys, tc.there, files)
			bring(t, far, files, quick()) // no longer a stranger
		})
	}
}

// A file that somebody put beside ours, where a page comes later, is asked for too.
func TestStrangerAmongOurs(t *testing.T) {
	fsys := afero.NewMemMapFs()
	far := farend.Folder(fsys, nil)
	files := village("old", 4)
	bring(t, far, files, quick())
	if err := afero.WriteFile(fsys, "machines/m9/index.html", []byte("somebody's"), 0o600); err != nil {
		t.Fatal(err)
	}
	more := maps.Clone(files)
	more["machines/m9/index.html"] = "ours"
	_, err := publish.Bring(context.Background(), far, siteOf(more), quick())
	if !publish.IsFault(err, "publish.stranger-replaced") || !strings.Contains(err.Error(), "machines/m9/index.html") {
		t.Fatalf("not told: %v", err)
	}
}

func TestAnotherShopsSite(t *testing.T) {
	fsys := afero.NewMemMapFs()
	far := farend.Folder(fsys, nil)
	theirs := siteOf(map[string]string{"index.html": "theirs", "machines/a/index.html": "theirs"})
	theirs.Owner = publish.Owner{Shop: "Elderberry Engines", Web: "https://other.example/"}
	if _, err := publish.Bring(context.Background(), far, theirs, quick()); err != nil {
		t.Fatal(err)
	}
	ours := siteOf(village("old", 4))
	_, err := publish.Bring(context.Background(), far, ours, quick())
	if !publish.IsFault(err, "publish.other-shop") || !strings.Contains(err.Error(), "Elderberry Engines") {
		t.Fatalf("not told: %v", err)
	}
	// The same shop under another name, or at another address, is no stranger.
	for _, owner := range []publish.Owner{{Shop: "Elderberry Motors", Web: "https://other.example/"}, {Shop: "Elderberry Motors", Web: "https://elderberry.example/"}} {
		theirs.Owner = owner
		if _, err := publish.Bring(context.Background(), far, theirs, quick()); err != nil {
			t.Errorf("%v: %v", owner, err)
		}
	}
	o := atOnce()
	o.MoveIn = true
	if _, err := publish.Bring(context.Background(), far, ours, o); err != nil {
		t.Fatal(err)
	}
	sameAs(t, fsys, map[string]string{"machines/a/index.html": "theirs"}, village("old", 4))
}

// A site that changes under the run is not brought half.
func TestSiteChangesMeanwhile(t *testing.T) {
	site := siteOf(village("old", 4))
	site.Read = func(string) ([]byte, error) { return []byte("another"), nil }
	_, err := publish.Bring(context.Background(), farend.Folder(afero.NewMemMapFs(), nil), site, quick())
	if !publish.IsFault(err, "publish.site-changed") {
		t.Errorf("said %v", err)
	}
}

// Whatever was there before, a run makes it the site, and leaves the rest alone.
func TestAlwaysTheSameBytes(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		names := []string{"index.html", "a/index.html", "b/index.html", "photos/1.jpg", "photos/2.jpg", "assets/s.css", "feed.xml"}
		text := rapid.SampledFrom([]string{"", "one", "two", "three and more"})
		some := func(label string, all []string) map[string]string {
			files := map[string]string{}
			for _, p := range all {
				if rapid.Bool().Draw(rt, label+p) {
					files[p] = text.Draw(rt, label+p+" says")
				}
				if output.NamedByContent(p) {
					if _, in := files[p]; in {
						files[p] = p
					}
				}
			}
			return files
		}
		fsys := afero.NewMemMapFs()
		foreign := some("foreign ", []string{"mine.txt", "a/mine.txt", "photos/mine.jpg"})
		for p, text := range foreign {
			if err := afero.WriteFile(fsys, p, []byte(text), 0o600); err != nil {
				rt.Fatal(err)
			}
		}
		var last map[string]string
		for n := range rapid.IntRange(1, 5).Draw(rt, "runs") {
			last = some(fmt.Sprint(n, " "), names)
			last["index.html"] = fmt.Sprint("front ", n)
			o := atOnce()
			o.MoveIn = true
			plan := &testenv.Plan{Nth: rapid.IntRange(0, 120).Draw(rt, "fails at"), Kill: rapid.Bool().Draw(rt, "for good")}
			_, _ = publish.Bring(context.Background(), farend.Folder(plan.Over(fsys), nil), siteOf(last), o)
		}
		o := atOnce()
		o.MoveIn = true
		if _, err := publish.Bring(context.Background(), farend.Folder(fsys, nil), siteOf(last), o); err != nil {
			rt.Fatal(err)
		}
		got := map[string]string{}
		all, err := farend.Folder(fsys, nil).List(context.Background())
		if err != nil {
			rt.Fatal(err)
		}
		for p := range all {
			data, err := afero.ReadFile(fsys, p)
			if err != nil {
				rt.Fatal(err)
			}
			got[p] = string(data)
		}
		maps.Copy(last, foreign)
		if diff := cmp.Diff(last, got); diff != "" {
			rt.Fatalf("-want +got\n%s", diff)
		}
	})
}

// What the far end and this computer think of the time does not matter: a file's day
// begins and ends by the far end's clock.
func TestClocksDiffer(t *testing.T) {
	for _, away := range []time.Duration{-365 * 24 * time.Hour, 0, 365 * 24 * time.Hour} {
		fsys := afero.NewMemMapFs()
		far := &skewed{FarEnd: farend.Folder(fsys, nil), by: away}
		old, young := village("old", 4), village("new", 4)
		bring(t, far, old, quick())
		if result := bring(t, far, young, quick()); len(result.Removed) > 0 || result.Staying == 0 {
			t.Errorf("%v away: %+v", away, result)
		}
		far.by += 25 * time.Hour
		young["index.html"] += "!" // something is to do
		if result := bring(t, far, young, quick()); len(result.Removed) == 0 || result.Staying > 0 {
			t.Errorf("%v away, a day later: %+v", away, result)
		}
		sameAs(t, fsys, young)
	}
}

// skewed is a far end whose clock is wrong.
type skewed struct {
	publish.FarEnd
	by time.Duration
}

func (s *skewed) Stat(ctx context.Context, names []string) (map[string]publish.Info, error) {
	all, err := s.FarEnd.Stat(ctx, names)
	for p, info := range all {
		info.Changed = info.Changed.Add(s.by)
		all[p] = info
	}
	return all, err
}

// A pipe that stands at the far end where the manifest should is told of, and not waited
// for.
func TestPipeForAManifest(t *testing.T) {
	pipe := &testenv.Piped{Fs: afero.NewMemMapFs(), Pipe: publish.Folder + "/manifest"}
	if err := afero.WriteFile(pipe.Fs, pipe.Pipe, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	_, err := publish.Bring(context.Background(), farend.Folder(pipe, nil), siteOf(village("old", 2)), quick())
	if pipe.Opened || !publish.IsFault(err, "publish.in-the-way") {
		t.Errorf("opened %v, and said %v", pipe.Opened, err)
	}
}
