package desk_test

import (
	"fmt"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"

	"github.com/spf13/afero"

	"asleft/generator"
	"asleft/generator/desk"
	"asleft/generator/logbook"
	"asleft/generator/testenv"
)

// TestADiskThatFails has each call that may change the disk fail in turn, and once all of
// them from there on, as on a full one: a file is whole, as before or as it was to be; what
// failed is said, and what was typed is still sent by the page.
func TestADiskThatFails(t *testing.T) {
	const name = "machines/plover/machine.md"
	failed := 0
	for _, full := range []bool{false, true} {
		for nth := 1; ; nth++ {
			folder, _ := aLongLog(t, 2)
			b := tableOf(t, folder)
			before := b.file(name)
			plan := &testenv.Plan{Changes: true, Kill: full}
			d := desk.New(plan.Over(b.folder), desk.Options{Reading: b.reading, Now: b.now})
			b.handle = d.Handler(host)
			v := formOf(t, b.get("/desk/m/plover"))
			v.Set("f.model", "Rider 38 B")
			plan.Nth = nth
			v.Set("do", "try")
			said := b.post("/desk/m/plover", v).Body.String()
			drafted := strings.Contains(said, "Draft kept")
			if tripped := plan.Tripped; tripped && drafted && plan.Failed != "remove" && plan.Failed != "mkdir" && plan.Failed != "sync" {
				t.Errorf("call %d, %s of %s failed, and it said %s", nth, plan.Failed, plan.On, said)
			}
			v.Set("do", "keep")
			w := b.post("/desk/m/plover", v)
			after := b.file(name)
			mine := strings.Contains(after, "Rider 38 B")
			if !mine && after != before {
				t.Fatalf("call %d: the file is neither:\n%s", nth, after)
			}
			if w.Code == http.StatusSeeOther && !mine {
				t.Errorf("call %d, %s of %s: it says kept, and is not", nth, plan.Failed, plan.On)
			}
			if !plan.Tripped {
				break
			}
			failed++
			plan.Nth = 0
			if full {
				continue
			}
			// Tried again, it is kept, and nothing is left beside it.
			if v.Set("base", ""); mine {
				continue
			}
			again := formOf(t, b.get("/desk/m/plover"))
			again.Set("f.model", "Rider 38 B")
			again.Set("do", "keep")
			if w := b.post("/desk/m/plover", again); w.Code != http.StatusSeeOther || !strings.Contains(b.file(name), "Rider 38 B") {
				t.Errorf("call %d, %s of %s, and tried again: %d", nth, plan.Failed, plan.On, w.Code)
			}
		}
	}
	if failed < 10 {
		t.Errorf("only %d calls failed", failed)
	}
}

// aLongLog is a shop with one machine of that many evenings.
func aLongLog(t testing.TB, evenings int) (folder afero.Fs, reading *generator.Reading) {
	t.Helper()
	folder = afero.NewMemMapFs()
	put := func(name, text string) {
		if err := afero.WriteFile(folder, name, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	put("shop.md", "---\nshop: Long Lane\ncurrency: USD\n---\n")
	put("machines/plover/machine.md", "---\nname: Plover\nkind: walk-behind tiller\narrived: 2020-01-01\n---\n")
	day := time.Date(2020, 1, 1, 0, 0, 0, 0, time.UTC)
	for n := range evenings {
		date := day.AddDate(0, 0, 7*n).Format(time.DateOnly)
		put("machines/plover/"+date+"-evening.md", fmt.Sprintf("---\ndate: %s\ntitle: Evening %d\nby: RT\nhours: 2\nmeasured:\n  - {what: compression, value: %d psi, gauge: 2 psi}\nparts:\n  - {part: gasket %d, each: 3.20, source: new, system: engine}\ndefects:\n  - {key: d%d, defect: bolt %d loose, system: frame, safety: no}\nrepaired:\n  - {key: d%d, how: tightened it, proof: ran an hour and it held}\n---\nWhat was done on evening %d.\n", date, n, 60+n%9, n, n, n, n, n))
	}
	reading, err := generator.Read(folder, generator.Options{Today: logbook.Date("2026-11-28")})
	if err != nil || len(reading.Problems) > 0 {
		t.Fatal(reading.Problems, err)
	}
	return folder, reading
}

// BenchmarkAMachineOfAHundredEvenings is the page of one, and a keystroke in its newest
// evening.
func BenchmarkAMachineOfAHundredEvenings(b *testing.B) {
	folder, reading := aLongLog(b, 100)
	d := desk.New(folder, desk.Options{Reading: func() *generator.Reading { return reading }, Now: func() time.Time { return now }})
	handle := d.Handler(host)
	for _, at := range []string{"/desk/m/plover", "/desk/m/plover/new/20261128T193000-abcdef", "/desk/m/plover/report"} {
		b.Run(at[len("/desk/m/plover"):], func(b *testing.B) {
			for b.Loop() {
				answer(b, handle, at)
			}
		})
	}
}

// answer is the page at an address.
func answer(b *testing.B, handle http.Handler, at string) {
	b.Helper()
	r := httptest.NewRequest(http.MethodGet, at, nil)
	r.Host, r.RemoteAddr = host, "127.0.0.1:50000"
	w := httptest.NewRecorder()
	handle.ServeHTTP(w, r)
	if w.Code != http.StatusOK {
		b.Fatalf("%s: %d", at, w.Code)
	}
}

// TestALongSession: what the desk remembers of forms that were shown and typed in is
// bounded.
func TestALongSession(t *testing.T) {
	folder, reading := aLongLog(t, 10)
	d := desk.New(folder, desk.Options{Reading: func() *generator.Reading { return reading }, Now: func() time.Time { return now }})
	b := &table{t: t, folder: folder, desk: d, handle: d.Handler(host), read: reading}
	at := "/desk/m/plover/new/20261128T193000-abcdef"
	v := formOf(t, b.get(at))
	for n := range 250 {
		v.Set("story", strings.Repeat("word ", n))
		v.Set("do", "try")
		b.post(at, v)
		if n%5 == 0 {
			b.get(at)
		}
	}
	if n := desk.Remembered(d); n > 200 {
		t.Errorf("%d texts of forms are remembered", n)
	}
	names, err := afero.ReadDir(folder, ".asleft/desk")
	if err != nil || len(names) != 1 {
		t.Errorf("drafts: %d (%v)", len(names), err)
	}
}
