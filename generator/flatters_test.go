package generator_test

import (
	"io/fs"
	"maps"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/spf13/afero"

	"asleft/generator"
	"asleft/generator/catalog"
	"asleft/generator/handover"
	"asleft/generator/page"
	"asleft/themes"
)

// Each way in which a seller once could have flattered a machine, from the raw
// files to every place where a buyer looks.

// filesOfText are the files of a text: "-- name --" begins a file, and the rest is what it holds.
func filesOfText(t testing.TB, text string) map[string]string {
	t.Helper()
	files, name := map[string]string{}, ""
	for line := range strings.Lines(text) {
		if rest, ok := strings.CutPrefix(line, "-- "); ok && strings.HasSuffix(line, " --\n") {
			name = strings.TrimSuffix(rest, " --\n")
			continue
		}
		if name == "" {
			t.Fatalf("the line %q is of no file", line)
		}
		files[name] += line
	}
	return files
}

const plainShop = `-- shop.md --
---
shop: Test shed
currency: USD
web: https://shed.example/
contact: by appointment
---
`

// mowerShop is a shop with one mower for sale, and the files of a text.
func mowerShop(t testing.TB, text string) map[string]string {
	t.Helper()
	files := filesOfText(t, plainShop+`-- machines/m/machine.md --
---
name: Small mower
kind: walk-behind mower
stage: for sale
asking: 90.00
arrived: 2026-03-01
---
`)
	maps.Copy(files, filesOfText(t, text))
	return files
}

// entryOf is the text of an entry of the machine.
func entryOf(file, fields string) string {
	return "-- machines/m/" + file + ".md --\n---\ndate: " + file[:10] + "\ntitle: Evening\n" + fields + "---\n\nThe story.\n"
}

// An outcome is all that becomes of the one machine of a shop: on the site, in
// the texts to paste, and on the sealed paper.
type outcome struct {
	tellings
	sealed, sealedFront string
	sealedParts         map[string]string
	story, data         string
	asks                int // what a seal is asked about
	gaps                string
	home                string // the shop's first page
}

// became makes the site of a shop and seals its machine m.
func became(t *testing.T, files map[string]string) outcome {
	t.Helper()
	o := outcome{tellings: tellAll(t, files)["m"]}
	folder := memoryShop(t, files)
	site := madeFrom(t, folder, afero.NewMemMapFs(), generator.Options{})
	o.story, _ = pageTexts(t, site["machines/m/index.html"])
	o.home, _ = pageTexts(t, site["index.html"])
	o.data = site["machines/m/listing/index.html"]
	o.asks = sealAsks(t, folder, "m")
	paper, _, _ := sealReport(t, folder, afero.NewMemMapFs(), "m", "2026-12-31")
	o.sealed, o.sealedParts = pageTexts(t, string(paper))
	o.sealedFront = o.sealedParts["front"]
	r, err := generator.Read(folder, generator.Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, g := range r.Gaps {
		o.gaps += g.String() + "\n"
	}
	return o
}

// sealAsks is how many matters a seal asks about, unless the buyer is told.
func sealAsks(t testing.TB, folder afero.Fs, key string) int {
	t.Helper()
	r, err := generator.Read(folder, generator.Options{})
	if err != nil || len(r.Problems) > 0 {
		t.Fatal(err, r.Problems)
	}
	for n, m := range r.Shop.Machines {
		if m.Key == key {
			report, err := handover.Prepare(folder, &page.Site{Shop: r.Shop, Count: r.Count, Reports: r.Reports, Words: catalog.English}, n, "2026-12-31")
			if err != nil {
				t.Fatal(err)
			}
			return len(report.Facts.Open())
		}
	}
	t.Fatalf("no machine %s", key)
	return 0
}

// looks are the places where a buyer looks first.
func (o outcome) looks() map[string]string {
	return map[string]string{
		"front sheet": o.front, "listing": o.listing, "text to paste": o.long, "short text to paste": o.short, "sealed front sheet": o.sealedFront,
	}
}

// told wants words in every place where a buyer looks first.
func (o outcome) told(t *testing.T, words ...string) {
	t.Helper()
	for where, text := range o.looks() {
		for _, w := range words {
			if !strings.Contains(text, plainWords(w)) {
				t.Errorf("the %s does not say %q:\n%s", where, w, text)
			}
		}
	}
}

// reported wants words in a part of the report, on the site and sealed.
func (o outcome) reported(t *testing.T, part string, words ...string) {
	t.Helper()
	for where, text := range map[string]string{"condition page": o.sections[part], "sealed report": o.sealedParts[part]} {
		for _, w := range words {
			if !strings.Contains(text, plainWords(w)) {
				t.Errorf("the part %s of the %s does not say %q:\n%s", part, where, w, text)
			}
		}
	}
}

// silent wants words nowhere.
func (o outcome) silent(t *testing.T, words ...string) {
	t.Helper()
	all := o.looks()
	all["condition page"], all["sealed report"], all["story"] = o.condition, o.sealed, o.story
	for where, text := range all {
		for _, w := range words {
			if i := strings.Index(text, plainWords(w)); i >= 0 {
				t.Errorf("the %s says %q: %s", where, w, text[max(0, i-120):min(len(text), i+160)])
			}
		}
	}
}

// subject is the subject of a kind that has these words.
func (o outcome) subject(t *testing.T, kind, words string) toldOfASubject {
	t.Helper()
	for _, exact := range []bool{true, false} {
		for _, s := range o.record.Subjects {
			if s.Kind == kind && (strings.EqualFold(s.Name, words) || strings.EqualFold(s.Key, words) || !exact && strings.Contains(s.says(), plainWords(words))) {
				return s
			}
		}
	}
	t.Fatalf("record.json has no %s %q", kind, words)
	return toldOfASubject{}
}

// stands wants a subject to stand so.
func (o outcome) stands(t *testing.T, kind, words, standing string, open bool) {
	t.Helper()
	if s := o.subject(t, kind, words); s.Standing != standing || s.Open != open {
		t.Errorf("the %s %q is %q with open %v, want %q, %v", kind, words, s.Standing, s.Open, standing, open)
	}
}

// damaged wants the structured data to hold bad news, and a seal to ask.
func (o outcome) damaged(t *testing.T) {
	t.Helper()
	if !strings.Contains(o.data, "DamagedCondition") {
		t.Error("the structured data hold nothing of it")
	}
	if o.asks == 0 {
		t.Error("it seals without a question")
	}
}

// problems are what the program refuses in a shop.
func problems(t testing.TB, files map[string]string) string {
	t.Helper()
	r, err := generator.Read(memoryShop(t, files), generator.Options{})
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	for _, p := range r.Problems {
		b.WriteString(p.String() + " (" + p.Mend + ")\n")
	}
	return b.String()
}

// refused wants the program to refuse a shop at a field.
func refused(t *testing.T, files map[string]string, field string) {
	t.Helper()
	if says := problems(t, files); !strings.Contains(says, field) {
		t.Errorf("want a problem at %s, got: %s", field, says)
	}
}

const (
	stopPoint = "blade stops within three seconds of release"
	flapPoint = "rear flap is whole and reaches down"
)

func TestFlattersByMeasuring(t *testing.T) {
	t.Run("a blade that stops after 9 s", func(t *testing.T) {
		o := became(t, mowerShop(t, entryOf("2026-03-02-a", "tests:\n  - {test: blade stopping time, time: 9 s, mower: walk-behind rotary, cut: 21 in}\n")))
		o.stands(t, "measurement", "blade stopping time", "wrong", true)
		o.stands(t, "point", stopPoint, "wrong", true)
		o.told(t, "blade stopping time")
		o.reported(t, "measured", "9 s", "3.0 s")
		o.damaged(t)
	})
	t.Run("a tip speed of 25,900 ft/min", func(t *testing.T) {
		o := became(t, mowerShop(t, entryOf("2026-03-02-a", "tests:\n  - {test: blade tip speed, blade: 21 in, spindle_rpm: 4711 rpm}\n")))
		o.stands(t, "measurement", "blade tip speed", "wrong", true)
		o.told(t, "blade tip speed")
		o.damaged(t)
	})
	t.Run("insulation of 0.01 Mohm", func(t *testing.T) {
		files := mowerShop(t, entryOf("2026-03-02-a", "tests:\n  - {test: insulation resistance, resistance: 0.01 Mohm, temperature: 68 degF, winding: random-wound, rated_volts: 240 V}\n"))
		files["machines/m/machine.md"] = strings.Replace(files["machines/m/machine.md"], "walk-behind mower", "generator", 1)
		o := became(t, files)
		o.stands(t, "measurement", "insulation resistance", "wrong", true)
		o.told(t, "insulation resistance")
		o.damaged(t)
	})
	t.Run("compression of 31 psi", func(t *testing.T) {
		files := mowerShop(t, entryOf("2026-03-02-a", "measured:\n  - {what: compression, value: 31 psi, gauge: 1 psi}\n"))
		files["machines/m/machine.md"] = strings.Replace(files["machines/m/machine.md"], "arrived:", "limits:\n  - {what: compression, limit: \">= 60 psi\", source: the sheet}\narrived:", 1)
		o := became(t, files)
		o.stands(t, "measurement", "compression", "wrong", false)
		o.told(t, "compression")
		o.reported(t, "wrong", "compression")
		o.reported(t, "measured", "31 psi", "60 psi")
		o.damaged(t)
	})
	t.Run("an outside reading between the first and the last", func(t *testing.T) {
		files := mowerShop(t, entryOf("2026-03-02-a", "measured:\n  - {what: compression, value: 75 psi}\n")+
			entryOf("2026-03-05-b", "measured:\n  - {what: compression, value: 31 psi}\n")+
			entryOf("2026-03-09-c", "measured:\n  - {what: compression, value: 80 psi}\n"))
		files["machines/m/machine.md"] = strings.Replace(files["machines/m/machine.md"], "arrived:", "limits:\n  - {what: compression, limit: \">= 60 psi\", source: the sheet}\narrived:", 1)
		o := became(t, files)
		o.stands(t, "measurement", "compression", "in order", false)
		o.reported(t, "measured", "75 psi", "31 psi", "80 psi")
	})
}

func TestFlattersByAnswering(t *testing.T) {
	check := func(results ...string) string {
		text := "checks:\n"
		for _, r := range results {
			text += "  - {item: " + flapPoint + ", " + r + "}\n"
		}
		return text
	}
	t.Run("fails, later not checked", func(t *testing.T) {
		o := became(t, mowerShop(t, entryOf("2026-03-02-a", check("result: fails, note: torn halfway up"))+entryOf("2026-03-05-b", check("result: not checked"))))
		o.stands(t, "point", flapPoint, "wrong", true)
		o.reported(t, "safety", flapPoint, "torn halfway up")
		o.damaged(t)
	})
	t.Run("fails and works in one entry", func(t *testing.T) {
		for _, order := range [][]string{{"result: fails", "result: works"}, {"result: works", "result: fails"}, {"result: works", "result: fails, as_found: yes"}} {
			o := became(t, mowerShop(t, entryOf("2026-03-02-a", check(order...))))
			o.stands(t, "point", flapPoint, "wrong", true)
		}
	})
	t.Run("fails as found and works after the work of that evening", func(t *testing.T) {
		o := became(t, mowerShop(t, entryOf("2026-03-02-a", check("result: works", "result: fails, as_found: yes")+"worked_on: [guards]\n")))
		o.stands(t, "point", flapPoint, "in order", false)
	})
	t.Run("fails, then works without work between", func(t *testing.T) {
		o := became(t, mowerShop(t, entryOf("2026-03-02-a", check("result: fails"))+entryOf("2026-03-05-b", check("result: works"))))
		o.stands(t, "point", flapPoint, "in order", false)
		for where, text := range map[string]string{"condition page": o.condition, "sealed report": o.sealed} {
			if !strings.Contains(text, "the log shows no work on the guards between") || !strings.Contains(text, "march 2") || !strings.Contains(text, "march 5") {
				t.Errorf("the %s does not say that nothing was done between", where)
			}
		}
	})
	t.Run("the guard fell off beside works: guard is on", func(t *testing.T) {
		o := became(t, mowerShop(t, entryOf("2026-03-02-a", check("result: works")+"defects:\n  - {key: fell, defect: the rear flap fell off on the lawn, system: guards, safety: yes}\n")))
		o.stands(t, "point", flapPoint, "out of date", true)
		o.stands(t, "defect", "fell", "wrong", true)
		o.told(t, "the rear flap fell off on the lawn")
	})
	t.Run("entries of one day without a time", func(t *testing.T) {
		o := became(t, mowerShop(t, entryOf("2026-03-02-b", check("result: works"))+entryOf("2026-03-02-a", "parts:\n  - {part: new rear flap, source: new, each: 5.00, system: guards}\n")))
		o.stands(t, "point", flapPoint, "out of date", true)
		if !strings.Contains(o.gaps, "time") {
			t.Errorf("nothing asks for the time: %s", o.gaps)
		}
	})
}

func TestFlattersByWording(t *testing.T) {
	milder := entryOf("2026-03-02-a", "defects:\n  - {key: knock, defect: the blade hub is cracked through, effect: the blade can fly off, system: implement, safety: yes}\n") +
		entryOf("2026-03-03-b", "repaired:\n  - {key: knock, how: welded up as it was}\n") +
		entryOf("2026-03-05-c", "defects:\n  - {key: knock, defect: a little tick at idle, system: frame, safety: no}\nrepaired:\n  - {key: knock, how: tightened a bolt, proof: ran an hour without a tick}\n")
	t.Run("a defect found again in milder words", func(t *testing.T) {
		o := became(t, mowerShop(t, milder))
		o.stands(t, "defect", "knock", "not proven", true)
		s := o.subject(t, "defect", "knock")
		for _, w := range []string{"the blade hub is cracked through", "the blade can fly off", "welded up as it was", "a little tick at idle", "tightened a bolt"} {
			if !strings.Contains(s.says(), w) {
				t.Errorf("its history lost %q", w)
			}
		}
		if s.Safety != "yes" || len(s.Systems) != 2 {
			t.Errorf("safety %s, systems %s", s.Safety, s.Systems)
		}
		o.told(t, "the blade hub is cracked through")
		o.reported(t, "safety", "the blade can fly off", "welded up as it was")
		o.damaged(t)
	})
	t.Run("the story's cards", func(t *testing.T) {
		if o := became(t, mowerShop(t, milder)); !strings.Contains(o.story, "the blade hub is cracked through") || !strings.Contains(o.story, "welded up as it was") {
			t.Error("the story rewrote history")
		}
	})
	t.Run("each open key found again as a trifle and proven", func(t *testing.T) {
		text := entryOf("2026-03-02-a", "defects:\n  - {key: one, defect: the flap is torn off, system: guards, safety: yes}\n  - {key: two, defect: the lever sticks open, system: controls, safety: yes}\nworked_around:\n  - {key: one, how: tied on with wire}\n  - {key: two, how: held back with a strap}\n") +
			entryOf("2026-03-05-b", "defects:\n  - {key: one, defect: a small scratch, system: frame, safety: no}\n  - {key: two, defect: a dull knob, system: frame, safety: no}\nrepaired:\n  - {key: one, how: painted over, proof: looks like new paint}\n  - {key: two, how: polished it, proof: shines in the sun}\n")
		o := became(t, mowerShop(t, text))
		for _, key := range []string{"one", "two"} {
			if s := o.subject(t, "defect", key); !s.Open || s.Safety != "yes" {
				t.Errorf("%s is %s with safety %s, open %v", key, s.Standing, s.Safety, s.Open)
			}
		}
		o.told(t, "the flap is torn off", "the lever sticks open")
	})
	found := "defects:\n  - {key: leak, defect: the tank leaks at the seam, system: fuel, safety: yes}\n"
	for _, proof := range []string{"no", "none", "n/a", "ok", `"-"`, "TODO", "\"\u200b\u200b \u2060\"", "dry"} {
		t.Run("the proof is "+proof, func(t *testing.T) {
			files := mowerShop(t, entryOf("2026-03-02-a", found+"repaired:\n  - {key: leak, how: soldered the seam, proof: "+proof+"}\n"))
			if strings.Contains(proof, "\u200b") && problems(t, files) == "" { // no proof at all is no problem
				became(t, files).stands(t, "defect", "leak", "not proven", true)
				return
			}
			refused(t, files, "proof")
		})
	}
	t.Run("a proof that later work overtook", func(t *testing.T) {
		o := became(t, mowerShop(t, entryOf("2026-03-02-a", found+"repaired:\n  - {key: leak, how: soldered the seam, proof: dry after two days}\n")+
			entryOf("2026-03-05-b", "parts:\n  - {part: new fuel tap, source: new, each: 5.00, system: fuel}\n")))
		o.stands(t, "defect", "leak", "out of date", true)
		o.told(t, "the tank leaks at the seam")
		for where, part := range map[string]string{"condition page": o.sections["repaired"], "sealed report": o.sealedParts["repaired"]} {
			if strings.Contains(part, "the tank leaks at the seam") {
				t.Errorf("the %s still counts it as put right: %s", where, part)
			}
		}
	})
}

func TestFlattersBySystem(t *testing.T) {
	t.Run("a system of the shop named like guards", func(t *testing.T) {
		files := mowerShop(t, "")
		files["shop.md"] = strings.Replace(files["shop.md"], "currency", "systems: [Guards]\ncurrency", 1)
		refused(t, files, "systems")
	})
	t.Run("a system of the shop that looks like guards", func(t *testing.T) {
		files := mowerShop(t, entryOf("2026-03-02-a", "defects:\n  - {key: flap, defect: the rear flap is torn off, system: gu\u0430rds, safety: no}\n")) // a Cyrillic letter
		files["shop.md"] = strings.Replace(files["shop.md"], "currency", "systems: [{name: gu\u0430rds, part_of: [frame]}]\ncurrency", 1)
		refused(t, files, "systems")
	})
	t.Run("nothing is guessed from letters in a word", func(t *testing.T) {
		o := became(t, mowerShop(t, entryOf("2026-03-02-a", "measured:\n  - {what: wiring spring length, value: 12 mm}\n")))
		if s := o.subject(t, "measurement", "wiring spring length"); len(s.Systems) != 0 {
			t.Errorf("its systems are %s", s.Systems)
		}
	})
	t.Run("evidence without a system after any work", func(t *testing.T) {
		files := mowerShop(t, entryOf("2026-03-02-a", "measured:\n  - {what: seat height, value: 12 mm}\n")+entryOf("2026-03-05-b", "worked_on: [tires]\n"))
		files["machines/m/machine.md"] = strings.Replace(files["machines/m/machine.md"], "arrived:", "limits:\n  - {what: seat height, limit: \">= 10 mm\", source: the sheet}\narrived:", 1)
		became(t, files).stands(t, "measurement", "seat height", "out of date", false)
	})
	t.Run("a change that affects the blade tip speed", func(t *testing.T) {
		o := became(t, mowerShop(t, entryOf("2026-03-02-a", "tests:\n  - {test: blade tip speed, blade: 21 in, spindle_rpm: 3100 rpm}\n")+
			entryOf("2026-03-05-b", "changed:\n  - {key: pulley, what: a smaller engine pulley, why: the old one was cracked, system: drive, safety: no, affects: [blade tip speed]}\n")))
		o.stands(t, "measurement", "blade tip speed", "out of date", true)
		o.told(t, "blade tip speed")
	})
}

func TestFlattersBySafetyLeftOut(t *testing.T) {
	defect := func(safety string) map[string]string {
		return mowerShop(t, entryOf("2026-03-02-a", "defects:\n  - {key: shaft, defect: the shaft wobbles at speed, system: drive"+safety+"}\n"))
	}
	t.Run("left out", func(t *testing.T) {
		o := became(t, defect(""))
		o.stands(t, "defect", "shaft", "wrong", true)
		if s := o.subject(t, "defect", "shaft"); s.Safety != "not said" {
			t.Errorf("safety %q", s.Safety)
		}
		o.told(t, "the shaft wobbles at speed")
		for where, text := range map[string]string{"condition page": o.condition, "sealed report": o.sealed} {
			if !strings.Contains(text, "did not say if") {
				t.Errorf("the %s does not say that the shop did not say", where)
			}
		}
		if !strings.Contains(o.gaps, "safety") {
			t.Errorf("nothing asks for it: %s", o.gaps)
		}
		o.damaged(t)
	})
	for _, word := range []string{"true", "y", "maybe"} {
		t.Run(word, func(t *testing.T) {
			files := defect(", safety: " + word)
			if problems(t, files) != "" {
				refused(t, files, "safety")
				return
			}
			if s := became(t, files).subject(t, "defect", "shaft"); s.Safety != "yes" || !s.Open {
				t.Errorf("%s was taken as %q", word, s.Safety)
			}
		})
	}
	t.Run("no in the guards", func(t *testing.T) {
		o := became(t, mowerShop(t, entryOf("2026-03-02-a", "defects:\n  - {key: flap, defect: the flap hangs by one rivet, system: guards, safety: no}\n")))
		o.stands(t, "defect", "flap", "wrong", true)
	})
	t.Run("guards, then the frame", func(t *testing.T) {
		o := became(t, mowerShop(t, entryOf("2026-03-02-a", "defects:\n  - {key: flap, defect: the flap hangs by one rivet, system: guards, safety: no}\nrepaired:\n  - {key: flap, how: a new rivet}\n")+
			entryOf("2026-03-05-b", "defects:\n  - {key: flap, defect: a dull rivet, system: frame, safety: no}\n")))
		o.stands(t, "defect", "flap", "wrong", true)
	})
}

func TestFlattersByLimitsAndLists(t *testing.T) {
	limited := func(limit, entry string) map[string]string {
		files := mowerShop(t, entryOf("2026-03-02-a", entry))
		files["machines/m/machine.md"] = strings.Replace(files["machines/m/machine.md"], "arrived:", "limits:\n  - "+limit+"\narrived:", 1)
		return files
	}
	t.Run("the shop's limit instead of the rule", func(t *testing.T) {
		o := became(t, limited(`{what: blade stopping time, limit: "<= 8 s", source: our own sheet}`, "tests:\n  - {test: blade stopping time, time: 4 s, mower: walk-behind rotary, cut: 21 in}\n"))
		o.stands(t, "measurement", "blade stopping time", "wrong", true)
		o.reported(t, "measured", "8 s", "3.0 s", "our own sheet")
	})
	t.Run("a limit that no reading matches", func(t *testing.T) {
		o := became(t, limited(`{what: compresion, limit: ">= 60 psi", source: the sheet}`, "measured:\n  - {what: compression, value: 31 psi}\n"))
		if !strings.Contains(o.gaps, "compresion") || !strings.Contains(o.gaps, "compression") {
			t.Errorf("nothing says which reading it was meant for: %s", o.gaps)
		}
		o.stands(t, "measurement", "compression", "no limit given", false)
	})
	points := func(o outcome) (n, open int) {
		for _, s := range o.record.Subjects {
			if s.Kind == "point" {
				n++
				if s.Open {
					open++
				}
			}
		}
		return n, open
	}
	plainPoints, plainOpen := points(became(t, mowerShop(t, "")))
	if plainPoints < 20 || plainOpen < 15 {
		t.Fatalf("the mower's own list has %d points, %d open", plainPoints, plainOpen)
	}
	for name, sheet := range map[string]string{
		"an empty sheet for the kind":       "sheet: walk-behind mower\nitems: []\n",
		"an empty sheet of another name":    "sheet: ours\nitems: []\n",
		"a sheet with one harmless point":   "sheet: ours\nitems:\n  - {item: cup shelf holds a cup, system: frame, safety: no}\n",
		"a sheet that makes points trifles": "sheet: ours\nitems:\n  - {item: " + flapPoint + ", system: frame, safety: no}\n",
	} {
		t.Run(name, func(t *testing.T) {
			files := mowerShop(t, "")
			files["sheets/ours.md"] = "---\n" + sheet + "---\n"
			files["machines/m/machine.md"] = strings.Replace(files["machines/m/machine.md"], "arrived:", "sheet: ours\narrived:", 1)
			o := became(t, files)
			if n, open := points(o); n < plainPoints || open < plainOpen {
				t.Errorf("the list of %d points, %d open, came down to %d, %d", plainPoints, plainOpen, n, open)
			}
			o.stands(t, "point", flapPoint, "not checked", true)
		})
	}
	t.Run("a safety point left out of the list", func(t *testing.T) {
		files := mowerShop(t, "")
		files["machines/m/machine.md"] = strings.Replace(files["machines/m/machine.md"], "arrived:", "leave_out:\n  - {item: "+flapPoint+", why: we do not look at flaps}\narrived:", 1)
		refused(t, files, "leave_out")
	})
	t.Run("a kind without a sheet", func(t *testing.T) {
		files := mowerShop(t, "")
		files["machines/m/machine.md"] = strings.Replace(files["machines/m/machine.md"], "walk-behind mower", "trench roller", 1)
		o := became(t, files)
		o.stands(t, "list", "list", "missing", true)
		o.told(t, "no list")
		if o.asks == 0 {
			t.Error("it seals without a question")
		}
	})
	t.Run("on order, never came", func(t *testing.T) {
		files := mowerShop(t, entryOf("2026-03-02-a", "parts:\n  - {part: \"blade guard, on order - never came\", source: new, each: 5.00, system: guards}\n"))
		files["machines/m/machine.md"] = strings.Replace(files["machines/m/machine.md"], "arrived:", "missing: [{part: blade guard, system: guards}]\narrived:", 1)
		o := became(t, files)
		o.stands(t, "missing part", "blade guard", "missing", true)
		o.told(t, "blade guard")
	})
}

func TestFlattersByTheMeterAndTheSeal(t *testing.T) {
	first := entryOf("2026-03-02-a", "meter: 412.6 h\ndefects:\n  - {key: leak, defect: the tank leaks at the seam, system: fuel, safety: yes}\n")
	t.Run("a meter that nobody called right", func(t *testing.T) {
		o := became(t, mowerShop(t, first))
		o.reported(t, "hours", "412.6 h", "does not say if that is right")
		o.silent(t, "the shop believes")
	})
	for name, tc := range map[string]struct{ old, new, lost string }{
		"retitled":  {"title: Evening", "title: A sunny day", "evening"},
		"redated":   {"date: 2026-03-02", "date: 2026-03-04", "march 2"},
		"reworded":  {"the tank leaks at the seam", "a smell of fuel", "the tank leaks at the seam"},
		"taken out": {"  - {key: leak, defect: the tank leaks at the seam, system: fuel, safety: yes}\n", "  - {key: other, defect: a dull lamp, system: frame, safety: no}\n", "the tank leaks at the seam"},
	} {
		t.Run("an entry "+name+" after the seal", func(t *testing.T) {
			files := mowerShop(t, first)
			folder := memoryShop(t, files)
			sealReport(t, folder, afero.NewMemMapFs(), "m", "2026-04-01")
			changed := strings.Replace(files["machines/m/2026-03-02-a.md"], tc.old, tc.new, 1)
			if err := afero.WriteFile(folder, "machines/m/2026-03-02-a.md", []byte(changed), 0o644); err != nil {
				t.Fatal(err)
			}
			paper, _, _ := sealReport(t, folder, afero.NewMemMapFs(), "m", "2026-05-01")
			sealed, _ := pageTexts(t, string(paper))
			condition, _ := pageTexts(t, madeFrom(t, folder, afero.NewMemMapFs(), generator.Options{})["machines/m/condition/index.html"])
			for where, text := range map[string]string{"new sealed report": sealed, "condition page": condition} {
				if !strings.Contains(text, tc.lost) {
					t.Errorf("the %s says nothing of %q, which the sealed one said", where, tc.lost)
				}
				if where == "new sealed report" && strings.Contains(text, "has not changed") { // of the report sealed since, it is true
					t.Errorf("the %s says that nothing has changed", where)
				}
			}
		})
	}
	// What stands beside the defects and the points is held against the seal too.
	cycle := mowerShop(t, entryOf("2026-03-02-a", `by: our boy
odometer: 42000 mi
checks:
  - {item: both brake levers are firm, result: fails, note: the front one is soft, system: brakes, safety: yes}
diagnosis:
  - {tried: turned the bars, saw: they catch in the middle, so: the head bearing is dented, system: steering}
measured:
  - {what: brake pad thickness, where: front, value: 3 mm, gauge: 2 mm, system: brakes}
defects:
  - {key: line, defect: a brake line is chafed, system: brakes, safety: yes}
changed:
  - {key: seat, what: side stand switch wired around, system: guards, safety: yes}
parts:
  - {part: front tire, source: new, each: 60.00, warranty: 90 days, system: frame}
`))
	cycle["machines/m/machine.md"] = strings.NewReplacer("walk-behind mower", "motorcycle", "arrived:", `motor: {power: 3 kW}
attachments: [{name: side stand, note: its weld is cracked}]
arrived:`).Replace(cycle["machines/m/machine.md"])
	cycle["shop.md"] = strings.Replace(cycle["shop.md"], "currency:", "terms: Thirty days to bring it back\ncurrency:", 1)
	const evening = "machines/m/2026-03-02-a.md"
	for rule, tc := range map[string]struct {
		file, old, new string
		told           []string
	}{
		"an odometer rewritten":        {evening, "42000 mi", "4200 mi", []string{"42000 mi", "4200 mi"}},
		"a diagnosis taken out":        {evening, "diagnosis:\n  - {tried: turned the bars, saw: they catch in the middle, so: the head bearing is dented, system: steering}\n", "", []string{"the head bearing is dented"}},
		"an attachment taken out":      {"machines/m/machine.md", "attachments: [{name: side stand, note: its weld is cracked}]\n", "", []string{"its weld is cracked"}},
		"a plate rewritten":            {"machines/m/machine.md", "power: 3 kW", "power: 8 kW", []string{"it was: 3 kw. it is: 8 kw."}},
		"the terms rewritten":          {"shop.md", "terms: Thirty days to bring it back", "terms: as is", []string{"thirty days to bring it back"}},
		"a change that adds":           {evening, "safety: yes}\nparts:", "safety: yes, adds: yes}\nparts:", []string{"did not say so then: side stand switch wired around"}},
		"who looked, rewritten":        {evening, "by: our boy", "by: a state inspector", []string{"it was: our boy. it is: a state inspector."}},
		"the system of a defect":       {evening, "chafed, system: brakes", "chafed, system: frame", []string{"it was: brakes. it is: frame."}},
		"the gauge of a reading":       {evening, "gauge: 2 mm", "gauge: 0.01 mm", []string{"it was: 2 mm. it is: 0.01 mm."}},
		"the warranty of a part":       {evening, ", warranty: 90 days", "", []string{"it was: 90 days."}},
		"what is said stands in marks": {evening, "a brake line is chafed", "a brake line is dusty", []string{"of “a brake line is chafed” reads otherwise now"}},
	} {
		t.Run(rule+" after the seal", func(t *testing.T) {
			folder := memoryShop(t, cycle)
			sealReport(t, folder, afero.NewMemMapFs(), "m", "2026-04-01")
			changed := strings.Replace(cycle[tc.file], tc.old, tc.new, 1)
			if changed == cycle[tc.file] {
				t.Fatalf("%s does not hold %q", tc.file, tc.old)
			}
			if err := afero.WriteFile(folder, tc.file, []byte(changed), 0o644); err != nil {
				t.Fatal(err)
			}
			paper, _, made := sealReport(t, folder, afero.NewMemMapFs(), "m", "2026-05-01")
			if n := len(made.Seal.Facts.Gone); n != 1 {
				t.Errorf("one edit, and it tells %d things: %+v", n, made.Seal.Facts.Gone)
			}
			sealed, _ := pageTexts(t, string(paper))
			condition, _ := pageTexts(t, madeFrom(t, folder, afero.NewMemMapFs(), generator.Options{})["machines/m/condition/index.html"])
			for where, text := range map[string]string{"new sealed report": sealed, "condition page": condition} {
				for _, told := range tc.told {
					if !strings.Contains(text, told) {
						t.Errorf("the %s does not say %q", where, told)
					}
				}
			}
		})
	}
	// What makes evidence out of date can be taken out without a word of the evidence. A
	// word that is no good news does not make up for it.
	for name, later := range map[string]string{
		"without a new word":   "",
		"with a non-answer":    entryOf("2026-04-02-c", "checks:\n  - {item: "+flapPoint+", result: not checked}\n"),
		"with another failure": entryOf("2026-03-01-c", "checks:\n  - {item: "+flapPoint+", result: fails, note: a bolt is loose}\n"),
	} {
		t.Run("work taken out after the seal "+name, func(t *testing.T) {
			check := entryOf("2026-03-02-a", "checks:\n  - {item: "+flapPoint+", result: works}\n")
			files := mowerShop(t, check+entryOf("2026-03-05-b", "worked_on: [guards]\n"))
			folder := memoryShop(t, files)
			sealReport(t, folder, afero.NewMemMapFs(), "m", "2026-04-01")
			for file, text := range mowerShop(t, check+entryOf("2026-03-05-b", "worked_on: [tires]\n")+later) {
				if err := afero.WriteFile(folder, file, []byte(text), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			paper, _, made := sealReport(t, folder, afero.NewMemMapFs(), "m", "2026-05-01")
			if n := len(made.Seal.Facts.Gone); n != 1 {
				t.Errorf("it tells %d things: %+v", n, made.Seal.Facts.Gone)
			}
			if sealed, _ := pageTexts(t, string(paper)); !strings.Contains(sealed, "with nothing new said of it that makes it better: "+flapPoint) {
				t.Error("the new report does not say that the point stands better by no new word")
			}
		})
	}
	t.Run("a machine whose folder is gone", func(t *testing.T) {
		folder := memoryShop(t, mowerShop(t, first))
		sealReport(t, folder, afero.NewMemMapFs(), "m", "2026-04-01")
		moved := memoryShop(t, filesOfText(t, plainShop))
		sealed, err := afero.ReadDir(folder, "handovers")
		if err != nil || len(sealed) == 0 {
			t.Fatal(sealed, err)
		}
		for _, f := range sealed {
			data, err := afero.ReadFile(folder, "handovers/"+f.Name())
			if err != nil {
				t.Fatal(err)
			}
			if err := afero.WriteFile(moved, "handovers/"+f.Name(), data, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		r, err := generator.Read(moved, generator.Options{})
		if err != nil {
			t.Fatal(err)
		}
		if len(r.Problems) == 0 {
			t.Error("a sealed report of a machine that is gone is no problem")
		}
	})
}

// themeWith is the usual theme with one file of its own.
func themeWith(t *testing.T, name string, change func(string) string) fs.FS {
	t.Helper()
	own := fstest.MapFS{}
	entries, err := fs.ReadDir(themes.Built, "jobcard")
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		data, err := fs.ReadFile(themes.Built, "jobcard/"+e.Name())
		if err != nil {
			t.Fatal(err)
		}
		if e.Name() == name {
			after := change(string(data))
			if after == string(data) {
				t.Fatalf("%s was not changed", name)
			}
			data = []byte(after)
		}
		own[e.Name()] = &fstest.MapFile{Data: data}
	}
	return own
}

func TestFlattersByTheme(t *testing.T) {
	files := mowerShop(t, entryOf("2026-03-02-a", "defects:\n  - {key: flap, defect: the flap hangs by one rivet, system: guards}\n"))
	site := func(theme fs.FS) (string, error) {
		parent := afero.NewMemMapFs()
		_, _, err := generator.Writeup(memoryShop(t, files), parent, "site", generator.Options{Theme: theme})
		if err != nil {
			return "", err
		}
		data, err := afero.ReadFile(parent, "site/machines/m/condition/index.html")
		return string(data), err
	}
	t.Run("it leaves the report out", func(t *testing.T) {
		got, err := site(themeWith(t, "condition.html", func(string) string { return "<!DOCTYPE html><title>Condition</title><p>All is well.</p>" }))
		if err == nil && !strings.Contains(got, "the flap hangs by one rivet") {
			t.Error("a report without its text is made")
		}
	})
	t.Run("it says certified safe", func(t *testing.T) {
		got, err := site(themeWith(t, "condition.html", func(s string) string { return strings.Replace(s, "{{.Body}}", "<p>certified safe</p>{{.Body}}", 1) }))
		text, _ := pageTexts(t, got)
		if err == nil && strings.Contains(text, "certified safe") {
			t.Error("a theme says certified safe")
		}
	})
}

// A point says how a thing should be. Where one that fails is only named, its name alone
// would tell the buyer the opposite: as what is wrong, "muffler is tight".
func TestFlattersByNaming(t *testing.T) {
	o := became(t, mowerShop(t, entryOf("2026-03-02-a", `checks:
  - {item: muffler is tight and its guard fitted, result: fails, note: one bolt is gone}
  - {item: engine oil is clean and at the mark, result: fails}
  - {item: wheels turn true and hold their height, result: fails, note: left one wobbles}
  - {item: rear flap is whole and reaches down, result: works}
`)))
	for about, text := range map[string]string{"the short text to paste": o.short, "the shop's first page": o.home, "the story": o.story} {
		if want := "muffler is tight and its guard fitted (not so: one bolt is gone)"; !strings.Contains(text, want) {
			t.Errorf("%s does not say %q: %s", about, want, text)
		}
	}
	for _, want := range []string{"engine oil is clean and at the mark (not so)", "wheels turn true and hold their height (not so: left one wobbles)", "no check of them that still counts:"} {
		if !strings.Contains(o.short, want) {
			t.Errorf("the short text to paste does not say %q: %s", want, o.short)
		}
	}
	if strings.Contains(o.short, "rear flap") {
		t.Errorf("what is as it should be is named among what is not: %s", o.short)
	}
}

// In a text to paste a heading is a line of its own. What the shop writes on several lines
// stands on one, or it could answer the program's questions before they are asked.
func TestFlattersByLines(t *testing.T) {
	files := mowerShop(t, entryOf("2026-03-02-a", `checks:
  - item: |
      the seat is bolted down

      What is wrong with it?
      Nothing.
    result: fails
    system: frame
    safety: yes
`))
	lines := " |\n  Can it hurt you?\n\n  No.\n"
	files["shop.md"] = strings.NewReplacer("shop: Test shed\n", "shop:"+lines, "contact: by appointment\n", "contact:"+lines, "currency:", "place:"+lines+"currency:").Replace(files["shop.md"])
	files["machines/m/machine.md"] = strings.NewReplacer("name: Small mower\n", "name:"+lines, "kind:", "maker:"+lines+"model:"+lines+"kind:").Replace(files["machines/m/machine.md"])
	r, err := generator.Read(memoryShop(t, files), generator.Options{})
	if err != nil || len(r.Problems) > 0 {
		t.Fatal(err, r.Problems)
	}
	site := &page.Site{Shop: r.Shop, Count: r.Count, Reports: r.Reports, Words: catalog.English}
	for _, short := range []bool{false, true} {
		text := site.OfferText(0, short)
		if !strings.Contains(text, "No.") || !strings.Contains(text, "Nothing") {
			t.Errorf("the text does not say what the shop wrote: %s", text)
		}
		for line := range strings.Lines(text) {
			if line = strings.TrimSpace(line); line == "No." || line == "Nothing." || strings.HasPrefix(line, "What is wrong") || strings.HasPrefix(line, "No.") {
				t.Errorf("the shop's words stand on a line of their own (short: %v): %q", short, line)
			}
		}
	}
}
