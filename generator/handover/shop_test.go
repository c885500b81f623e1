package handover

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
	"os"
	"strings"
	"sync"
	"testing"

	"github.com/spf13/afero"

	"asleft/generator/benchtest"
	"asleft/generator/catalog"
	"asleft/generator/condition"
	"asleft/generator/handover/sheet"
	"asleft/generator/logbook"
	"asleft/generator/page"
	"asleft/generator/tally"
)

// A small shop with one machine, written out so that a test can change a line.
const (
	shopFile = `---
shop: Test shop
currency: USD
web: https://shop.example/
---
`
	machineText = `---
name: Small pump
arrived: 2026-03-01
maker: Nobody & Sons </script>
serial: "AB-1234567"
---
`
	firstEntry = `---
date: 2026-03-02
title: First look
ran: "0:20"
checks:
  - {item: stops at the switch, result: works, system: guards, safety: yes}
  - {item: oil is at the mark, result: not checked, system: engine}
measured:
  - {what: compression, value: 60 psi, gauge: 1 psi, state: cold}
defects:
  - {key: leak, defect: seal leaks, effect: drips on the floor, system: engine, safety: no, photo: leak.jpg}
photos:
  - {file: leak.jpg, alt: oil under the seal, caption: After an hour}
---
`
	secondEntry = `---
date: 2026-03-09
title: New seal
checks:
  - {item: stops at the switch, result: works, system: guards, safety: yes}
  - {item: oil is at the mark, result: works, system: engine}
measured:
  - {what: compression, value: 75 psi, gauge: 1 psi, state: cold}
parts:
  - {part: shaft seal, each: 4.00, source: new, system: engine}
repaired:
  - {key: leak, how: new seal, proof: ran an hour and dry}
defects:
  - {key: knock, defect: knocks when hot, system: engine, safety: no}
---
`
)

// shopWith is that shop with more or other files.
func shopWith(t testing.TB, files map[string]string) afero.Fs {
	t.Helper()
	fs := afero.NewMemMapFs()
	all := map[string]string{"shop.md": shopFile, "machines/pump/machine.md": machineText, "machines/pump/2026-03-02-first.md": firstEntry, "machines/pump/photos/leak.jpg": string(tinyJPEG(t))}
	for name, text := range files {
		all[name] = text
	}
	for name, text := range all {
		write(t, fs, name, []byte(text))
	}
	return fs
}

func write(t testing.TB, fs afero.Fs, name string, data []byte) {
	t.Helper()
	if err := afero.WriteFile(fs, name, data, 0o644); err != nil {
		t.Fatal(err)
	}
}

func read(t testing.TB, fs afero.Fs, name string) []byte {
	t.Helper()
	data, err := afero.ReadFile(fs, name)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

func tinyJPEG(t testing.TB) []byte {
	t.Helper()
	pic := image.NewRGBA(image.Rect(0, 0, 24, 16))
	for x := range 24 {
		for y := range 16 {
			pic.Set(x, y, color.RGBA{uint8(x * 10), uint8(y * 15), 80, 255})
		}
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, pic, nil); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// siteOf is as much of a site as sealed reports are told of on.
func siteOf(t testing.TB, fs afero.Fs) *page.Site {
	t.Helper()
	shop, problems, err := logbook.Read(fs, logbook.Options{Words: catalog.English})
	if err != nil || len(problems) > 0 {
		t.Fatalf("the test's shop: %v, %v", problems, err)
	}
	count, problems := tally.Count(shop, catalog.English)
	if len(problems) > 0 {
		t.Fatalf("the test's shop: %v", problems)
	}
	site := &page.Site{Shop: shop, Count: count, Words: catalog.English}
	for n, m := range shop.Machines {
		site.Reports = append(site.Reports, condition.Judge(shop, m, count.Machines[n], tested(t, shop, m), catalog.English))
	}
	site.Outline()
	return site
}

// tested are the machine's bench tests.
func tested(t testing.TB, shop *logbook.Shop, m *logbook.Machine) []*benchtest.Outcome {
	t.Helper()
	var all []*benchtest.Outcome
	for _, e := range m.Entries {
		for _, one := range e.Tests {
			outcome, wrong := benchtest.Judge(shop, m, e, one, catalog.English)
			if len(wrong) > 0 {
				t.Fatalf("the test's shop: %v", wrong)
			}
			all = append(all, outcome)
		}
	}
	return all
}

// todayOf are the facts of the shop's first machine as they are on a day.
func todayOf(t testing.TB, fs afero.Fs, today logbook.Date) *Facts {
	t.Helper()
	return Today(siteOf(t, fs), 0, today)
}

// prepared is the report of the shop's first machine.
func prepared(t testing.TB, fs afero.Fs, today logbook.Date) *Report {
	t.Helper()
	r, err := Prepare(fs, siteOf(t, fs), 0, today)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func sealed(t testing.TB, fs, buyer, settings afero.Fs, today logbook.Date) *Made {
	t.Helper()
	made, err := prepared(t, fs, today).Seal(buyer, settings, sheet.Letter)
	if err != nil {
		t.Fatal(err)
	}
	return made
}

func chainOf(t testing.TB, fs afero.Fs) *Chain {
	t.Helper()
	c, err := ReadChain(fs, catalog.English, "")
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// three is the shop with three sealed reports, and the buyers' files. They are made once,
// and each test has copies of its own.
func three(t testing.TB) (fs, buyer afero.Fs, made []*Made) {
	t.Helper()
	threeMade.Lock()
	defer threeMade.Unlock()
	if threeMade.made == nil {
		fs, buyer := shopWith(t, nil), afero.NewMemMapFs()
		for _, day := range []logbook.Date{"2026-03-03", "2026-03-04", "2026-03-04"} {
			if len(made) == 2 {
				write(t, fs, "machines/pump/2026-03-09-second.md", []byte(strings.Replace(secondEntry, "2026-03-09", "2026-03-04", 1)))
			}
			made = append(made, sealed(t, fs, buyer, nil, day))
		}
		threeMade.fs, threeMade.buyer, threeMade.made = fs, buyer, made
	}
	return copied(t, threeMade.fs), copied(t, threeMade.buyer), threeMade.made
}

var threeMade struct {
	sync.Mutex
	fs, buyer afero.Fs
	made      []*Made
}

// copied is a file system with the same files.
func copied(t testing.TB, fs afero.Fs) afero.Fs {
	t.Helper()
	to := afero.NewMemMapFs()
	files := 0
	err := afero.Walk(fs, "", func(name string, info os.FileInfo, err error) error {
		if err == nil && !info.IsDir() {
			write(t, to, name, read(t, fs, name))
			files++
		}
		return err
	})
	if err != nil || files == 0 {
		t.Fatalf("%d files copied, %v", files, err)
	}
	return to
}
