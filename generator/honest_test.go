package generator_test

import (
	"strings"
	"testing"
)

// Each way in which an honest log was once accused, from the raw files to every
// place where a buyer looks.

// saying is the mower's shop with more lines in its machine.md.
func saying(t *testing.T, lines, text string) map[string]string {
	t.Helper()
	files := mowerShop(t, text)
	files["machines/m/machine.md"] = strings.Replace(files["machines/m/machine.md"], "arrived:", lines+"\narrived:", 1)
	return files
}

// notLacking wants no absence of a kind told of a subject.
func (o outcome) notLacking(t *testing.T, kind, words, of string) {
	t.Helper()
	if s := o.subject(t, kind, words); s.Absent != nil && s.Absent.Of == of {
		t.Errorf("the %s %q is told to lack a %s since %q: %s", kind, words, of, s.Absent.Since, s.Told)
	}
}

func TestAccusesOfPointsThatDoNotApply(t *testing.T) {
	const drive = "wheel drive stops when its lever is let go"
	t.Run("a point that does not apply", func(t *testing.T) {
		o := became(t, mowerShop(t, entryOf("2026-03-02-a", "checks:\n  - {item: "+drive+", result: does not apply, note: it is pushed by hand}\n")))
		o.stands(t, "point", drive, "does not apply", false)
		o.reported(t, "not-checked", "it is pushed by hand")
		o.notLacking(t, "point", drive, "check")
		for where, text := range map[string]string{"front sheet": o.front, "sealed front sheet": o.sealedFront} {
			if !strings.Contains(text, "it is pushed by hand") {
				t.Errorf("the %s does not name a safety point that does not apply, with the shop's reason", where)
			}
		}
	})
	t.Run("without a reason", func(t *testing.T) {
		refused(t, mowerShop(t, entryOf("2026-03-02-a", "checks:\n  - {item: "+drive+", result: does not apply}\n")), "note")
	})
	t.Run("after a failure without the change that took it away", func(t *testing.T) {
		files := mowerShop(t, entryOf("2026-03-02-a", "checks:\n  - {item: "+drive+", result: fails}\n")+
			entryOf("2026-03-05-b", "checks:\n  - {item: "+drive+", result: does not apply, note: it is pushed by hand}\n"))
		if problems(t, files) != "" {
			refused(t, files, "by")
			return
		}
		became(t, files).stands(t, "point", drive, "wrong", true)
	})
	t.Run("a point left out", func(t *testing.T) {
		const rope = "rope pulls freely and winds back"
		o := became(t, saying(t, "leave_out:\n  - {item: "+rope+", why: it starts by a key}", ""))
		o.reported(t, "not-checked", "it starts by a key")
		for _, s := range o.record.Subjects {
			if s.Kind == "point" && s.Name == rope && s.Standing == "not checked" {
				t.Error("it is told as not checked")
			}
		}
	})
	t.Run("what the machine does not have", func(t *testing.T) {
		files := mowerShop(t, "")
		files["sheets/ours.md"] = "---\nsheet: ours\nitems:\n  - {item: lamp shines on the lawn, system: electrical, safety: yes, only_if: lamp}\n---\n"
		for has, want := range map[string]bool{"has: {lamp: no}\n": false, "has: {lamp: yes}\n": true, "": true} {
			with := saying(t, has+"sheet: ours", "")
			with["sheets/ours.md"] = files["sheets/ours.md"]
			o, there := became(t, with), false
			for _, s := range o.record.Subjects {
				there = there || s.Kind == "point" && s.Name == "lamp shines on the lawn" && s.Open
			}
			if there != want {
				t.Errorf("with %q the point is open: %v", has, there)
			}
		}
	})
}

func TestAccusesOfWhatWasMeasured(t *testing.T) {
	t.Run("not checked beside the test that measured it", func(t *testing.T) {
		o := became(t, mowerShop(t, entryOf("2026-03-02-a", "tests:\n  - {test: blade stopping time, time: 2.1 s, mower: walk-behind rotary, cut: 21 in}\n")))
		o.stands(t, "point", stopPoint, "in order", false)
		o.stands(t, "measurement", "blade stopping time", "in order", false)
		o.notLacking(t, "point", stopPoint, "check")
		o.silent(t, "nobody checked")
	})
	t.Run("measured again under another name", func(t *testing.T) {
		o := became(t, saying(t, "limits:\n  - {what: compression, where: cylinder 1, limit: \">= 60 psi\", source: the sheet}",
			entryOf("2026-03-02-a", "tests:\n  - {test: compression, where: cylinder 1, dry: 75 psi}\n")+
				entryOf("2026-03-05-b", "worked_on: [engine]\n")+
				entryOf("2026-03-09-c", "measured:\n  - {what: Compression, where: cylinder 1, value: 80 psi}\n")))
		o.stands(t, "measurement", "compression", "in order", false)
		o.notLacking(t, "measurement", "compression", "reading")
		o.silent(t, "not measured again")
		o.reported(t, "measured", "75 psi", "80 psi")
	})
}

func TestAccusesOfWork(t *testing.T) {
	const smoke, oil = "warm engine does not smoke", "engine oil is clean and at the mark"
	checked := entryOf("2026-03-02-a", "checks:\n  - {item: "+smoke+", result: works}\n  - {item: "+flapPoint+", result: works}\n")
	t.Run("an oil change", func(t *testing.T) {
		o := became(t, mowerShop(t, checked+entryOf("2026-03-05-b", "service:\n  - {what: engine oil, amount: 20 fl oz, grade: SAE 30, system: engine, every: 25 h, answers: ["+oil+"]}\n")))
		o.stands(t, "point", smoke, "in order", false)
		o.silent(t, "was worked on")
	})
	t.Run("a spark plug", func(t *testing.T) {
		o := became(t, mowerShop(t, checked+entryOf("2026-03-05-b", "parts:\n  - {part: spark plug, source: new, each: 3.00, system: engine, consumable: yes}\n")))
		o.stands(t, "point", smoke, "in order", false)
	})
	t.Run("a cup holder on the handle", func(t *testing.T) {
		o := became(t, mowerShop(t, checked+entryOf("2026-03-05-b", "parts:\n  - {part: cup holder, source: new, each: 3.00, system: frame}\n")))
		o.stands(t, "point", smoke, "in order", false)
		o.stands(t, "point", flapPoint, "in order", false)
	})
	t.Run("a cup holder somewhere", func(t *testing.T) {
		o := became(t, mowerShop(t, checked+entryOf("2026-04-03-b", "parts:\n  - {part: cup holder, source: new, each: 3.00}\n")))
		o.stands(t, "point", flapPoint, "out of date", true)
		for where, text := range map[string]string{"condition page": o.condition, "sealed report": o.sealed} {
			if !strings.Contains(text, "the log does not say where") || !strings.Contains(text, "cup holder") {
				t.Errorf("the %s does not say why", where)
			}
		}
		if !strings.Contains(o.gaps, "cup holder") {
			t.Errorf("nothing asks for its system: %s", o.gaps)
		}
		o.silent(t, "was worked on", "was worked at")
	})
	t.Run("a guard fitted is told by its name", func(t *testing.T) {
		o := became(t, mowerShop(t, checked+entryOf("2026-09-26-b", "parts:\n  - {part: chute guard, source: new, each: 3.00, system: guards}\n")))
		s := o.subject(t, "point", flapPoint)
		if s.Standing != "out of date" || s.Touched == nil || !strings.Contains(strings.ToLower(s.Touched.By), "chute guard") || s.Absent == nil || s.Absent.Of != "check" || s.Absent.Since != "2026-09-26" {
			t.Errorf("it is told as %+v", s)
		}
		if !strings.Contains(o.condition, "no check in the log since") {
			t.Error("the page does not say that no check is in the log since")
		}
	})
}

func TestAccusesOfFaultsThatWereMended(t *testing.T) {
	t.Run("fails beside repaired and proven", func(t *testing.T) {
		const idle = "runs smoothly from idle to full speed"
		o := became(t, mowerShop(t, entryOf("2026-03-02-a", "checks:\n  - {item: "+idle+", result: fails}\ndefects:\n  - {key: surge, defect: it surges at idle, system: engine, safety: no, point: "+idle+"}\n")+
			entryOf("2026-03-05-b", "repaired:\n  - {key: surge, how: cleaned the idle jet, proof: an hour without a surge}\n")))
		o.stands(t, "defect", "surge", "in order", false)
		o.stands(t, "point", idle, "out of date", false)
	})
	t.Run("a failure that was written down as a fault afterwards", func(t *testing.T) {
		const idle = "runs smoothly from idle to full speed"
		o := became(t, mowerShop(t, entryOf("2026-03-02-a", "checks:\n  - {item: "+idle+", result: fails}\n")+
			entryOf("2026-03-05-b", "defects:\n  - {key: surge, defect: it surges at idle, system: engine, safety: no, point: "+idle+"}\nrepaired:\n  - {key: surge, how: cleaned the idle jet, proof: an hour without a surge}\n")))
		o.stands(t, "point", idle, "wrong", false)
	})
	t.Run("a missing knob", func(t *testing.T) {
		o := became(t, saying(t, "missing:\n  - {part: throttle knob, system: controls, safety: no}", ""))
		o.stands(t, "missing part", "throttle knob", "missing", false)
		o.reported(t, "wrong", "throttle knob")
	})
	t.Run("a missing knob that was replaced", func(t *testing.T) {
		o := became(t, saying(t, "missing: [throttle knob]", entryOf("2026-03-02-a", "parts:\n  - {part: black knob from the drawer, source: on hand, each: 1.00, system: controls, replaces: throttle knob}\n")))
		o.stands(t, "missing part", "throttle knob", "in order", false)
		o.reported(t, "changed", "throttle knob")
		o.notLacking(t, "missing part", "throttle knob", "replacement")
	})
	t.Run("a stronger guard", func(t *testing.T) {
		guard := entryOf("2026-03-02-a", "changed:\n  - {key: flap, what: a rear flap of belt rubber, why: the old one was torn, system: guards, adds: yes}\n")
		o := became(t, mowerShop(t, guard))
		o.stands(t, "change", "flap", "changed", true)
		o = became(t, mowerShop(t, guard+entryOf("2026-03-05-b", "checks:\n  - {item: "+flapPoint+", result: works}\n")))
		o.stands(t, "change", "flap", "changed", false)
		for where, text := range o.looks() {
			if where != "listing" && !strings.Contains(text, "a rear flap of belt rubber") {
				t.Errorf("the %s does not name it", where)
			}
		}
	})
	t.Run("a change that was put back", func(t *testing.T) {
		o := became(t, mowerShop(t, entryOf("2026-03-02-a", "changed:\n  - {key: plate, what: a steel plate on the deck, why: there was a hole, system: implement, safety: yes}\n")+
			entryOf("2026-03-05-b", "put_back:\n  - {key: plate, how: welded the hole shut and took it off}\n")))
		o.stands(t, "change", "plate", "in order", false)
	})
	t.Run("a fault of an engine that was replaced", func(t *testing.T) {
		o := became(t, mowerShop(t, entryOf("2026-03-02-a", "defects:\n  - {key: knock, defect: the rod knocks when hot, system: engine, safety: no}\n")+
			entryOf("2026-03-05-b", "parts:\n  - {part: whole engine from a donor, source: used, each: 40.00, system: engine}\ngone:\n  - {key: knock, with: whole engine from a donor}\n")))
		o.stands(t, "defect", "knock", "in order", false)
		o.reported(t, "repaired", "the rod knocks when hot", "whole engine from a donor")
		o.silent(t, "nobody has proven", "not proven")
	})
	t.Run("a fault of the guards that left with its part", func(t *testing.T) {
		o := became(t, mowerShop(t, entryOf("2026-03-02-a", "defects:\n  - {key: flap, defect: the flap is torn off, system: guards}\n")+
			entryOf("2026-03-05-b", "parts:\n  - {part: whole rear guard from a donor, source: used, each: 4.00, system: guards}\ngone:\n  - {key: flap, with: whole rear guard from a donor}\n")))
		o.stands(t, "defect", "flap", "not proven", true)
	})
}

func TestAccusesOfNumbersNobodyWrote(t *testing.T) {
	t.Run("hours that nobody wrote", func(t *testing.T) {
		o := became(t, mowerShop(t, entryOf("2026-03-02-a", "worked_on: [engine]\n")))
		o.reported(t, "hours", "the log does not say how long")
		o.silent(t, "0 min", "0:00")
	})
	t.Run("parts without a price", func(t *testing.T) {
		o := became(t, mowerShop(t, entryOf("2026-03-02-a", "parts:\n  - {part: rear flap, source: new, each: 169.00, system: guards}\n  - {part: rivet, source: on hand, system: guards}\n  - {part: washer, source: on hand, system: guards}\n")))
		o.reported(t, "hours", "$169.00 for 1 of 3 parts")
	})
	t.Run("no work after a new fuel pump", func(t *testing.T) {
		o := became(t, mowerShop(t, entryOf("2026-03-02-a", "ran: \"1:00\"\n")+
			entryOf("2026-03-05-b", "parts:\n  - {part: fuel pump, source: new, each: 20.00, system: fuel}\n")+
			entryOf("2026-03-09-c", "ran: \"0:30\"\n")))
		o.silent(t, "shows no work on it")
		o.reported(t, "hours", "30 min")
	})
	t.Run("as is on a machine that is kept", func(t *testing.T) {
		files := mowerShop(t, "")
		files["machines/m/machine.md"] = strings.Replace(files["machines/m/machine.md"], "stage: for sale\nasking: 90.00", "stage: keeping", 1)
		condition := tellAll(t, files)["m"].condition
		for _, never := range []string{"as is", "signature"} {
			if strings.Contains(condition, never) {
				t.Errorf("the page of a machine that is kept says %q", never)
			}
		}
	})
	t.Run("as is where no terms were written", func(t *testing.T) {
		o := became(t, mowerShop(t, ""))
		o.silent(t, "sold as is")
	})
}

// A shop that answers every point, after all the work, is told nothing open.
func TestAnHonestMachineHasNothingOpen(t *testing.T) {
	checks := "checks:\n"
	for _, i := range oracleSheets(t)["walk-behind mower"].list("items") {
		if len(i.texts("answered_by")) == 0 || i.text("item") != stopPoint {
			checks += "  - {item: " + yamlText(i.text("item")) + ", result: works}\n"
		}
	}
	o := became(t, saying(t, "meter_true: \"yes\"", entryOf("2026-03-02-a", "meter: 40 h\ndefects:\n  - {key: flap, defect: the flap is torn off, system: guards}\n")+
		entryOf("2026-03-05-b", "repaired:\n  - {key: flap, how: a new flap with six rivets, proof: pulled at it with both hands}\n")+
		entryOf("2026-03-09-c", checks+"tests:\n  - {test: blade stopping time, time: 2.1 s, mower: walk-behind rotary, cut: 21 in}\n")))
	if bad := bad(o.record); len(bad) > 0 || o.asks > 0 {
		t.Errorf("a seal asks %d questions, and these are open or wrong: %v", o.asks, bad)
	}
	if strings.Contains(o.data, "DamagedCondition") {
		t.Error("the structured data call it damaged")
	}
}
