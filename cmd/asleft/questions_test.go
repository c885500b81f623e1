package main

import (
	"bufio"
	"bytes"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"asleft/generator/entry"
	"asleft/generator/logbook"
	"asleft/generator/rooted"
	"asleft/generator/testenv"
)

// shopOnDisk is a shop with one machine that has an open defect, a limit, an
// hour meter and a sheet of two points.
func shopOnDisk(t *testing.T) (*rooted.FS, string) {
	t.Helper()
	dir := t.TempDir()
	for name, text := range map[string]string{
		"shop.md":                               "---\nshop: Test shop\ncurrency: USD\ntimezone: America/New_York\nsystems: [finish]\n---\n",
		"sheets/toy.md":                         "---\nsheet: toy engine\nitems:\n  - {item: flywheel turns freely, system: engine, safety: yes, how: By hand.}\n  - {item: paint is whole, system: finish}\n---\n",
		"machines/harrow/machine.md":            "---\nname: Harrow\nkind: toy engine\narrived: 2026-03-01\nlimits:\n  - {what: compression, where: cylinder 1, limit: \">= 60 psi\"}\n---\n",
		"machines/harrow/2026-03-01-arrived.md": "---\ndate: 2026-03-01\ntitle: Arrived\nby: JM\nmeter: 5 h\ndefects:\n  - {key: knob, defect: knob gone, system: controls, safety: no}\n  - {key: hose, defect: hose cracked, system: fuel, safety: yes}\n---\n",
	} {
		file := filepath.Join(dir, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	folder, err := rooted.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = folder.Close() })
	return folder, dir
}

// somebody answers these lines.
func somebody(lines ...string) (*asker, *bytes.Buffer) {
	var out bytes.Buffer
	in := strings.NewReader(strings.Join(lines, "\n") + "\n")
	return &asker{in: bufio.NewReader(in), out: &out, interactive: true}, &out
}

func read(t *testing.T, dir, name string) string {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(dir, filepath.FromSlash(name)))
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

func TestLogAsks(t *testing.T) {
	folder, dir := shopOnDisk(t)
	ask, out := somebody(
		"New knob, at last",  // what was done
		"half past", "18:30", // when, wrong and right
		"a while", "1:30", // hours, wrong and right
		"",                                             // who: the one before
		"5.5",                                          // meter
		"0:20",                                         // ran
		"7", "1", "new knob", "ok", "held an hour", "", // a number that is none, then the defect; a proof that says nothing
		"Fuel cap leaks", "smells", "99", "fuel", "", "maybe", "y", // a defect, with no answer but yes or no
		"Chain guard bent", "", "guards", "", // in the guards nobody is asked
		"1", "62 furlongs", "62 psi", "2 psi", // a reading that there is a limit for
		"flywheel wobble", "rim", "2 mm", "", "1", "", // one that nobody knows the system of
		"y", "w", "spun it", "x", "fb", "flakes", "d", "n/a", "it has no guards", "q", // the sheet
		"9", "1", "plug", "new", "", "ignition", "y", // a part that wears out
		"2", "engine oil", "0.6 qt", "1", "25 h", // service
		"3", "bigger jet", "hills", "for the hills here", "fuel", "n", "", // a change, with a reason
		"4", "2", // taken apart
		"5", "1", "1", // the hose went with its part
		"6", "nonsense", "smokes", "7", "compression", // a bench test: no such thing, a number that is none, then its name
		"left one", "far", "[47 psi, 48 psi]", "9", "4", "2 psi", "", // its readings
		"7", "spun it", "no spark", "the coil", // a step of the search
		"", // nothing more
		"", // photos
		"It was the knob.", "", "Two lines.", ".",
	)
	var said bytes.Buffer
	s := streams{strings.NewReader(""), &said, &said}
	if err := logEntry(folder, dir, "harrow", &logFlags{entry: entry.Entry{Date: "2026-03-02"}}, s, ask); err != nil {
		t.Fatalf("%v\n%s%s", err, out, &said)
	}
	const want = `---
date: 2026-03-02
title: "New knob, at last"
time: "18:30"
by: JM
hours: "1:30"
meter: 5.5 h
ran: "0:20"
checks:
  - {item: machine stops at its switch or lever, result: works, note: spun it}
  - {item: working part stops soon after switching off, result: fails, note: flakes, as_found: yes}
  - {item: all guards and covers are in place, result: does not apply, note: it has no guards}
diagnosis:
  - {tried: spun it, saw: no spark, so: the coil}
measured:
  - {what: compression, where: cylinder 1, value: 62 psi, gauge: 2 psi, system: engine}
  - {what: flywheel wobble, where: rim, value: 2 mm, system: engine}
tests:
  - {test: compression, where: left one, dry: [47 psi, 48 psi], gauge: 2 psi}
parts:
  - {part: plug, source: new, system: ignition, consumable: yes}
defects:
  - {key: fuel-cap-leaks, defect: Fuel cap leaks, effect: smells, system: fuel, safety: yes}
  - {key: chain-guard-bent, defect: Chain guard bent, system: guards, safety: yes}
repaired:
  - {key: knob, how: new knob, proof: held an hour}
gone:
  - {key: hose, with: bigger jet}
changed:
  - {key: bigger-jet, what: bigger jet, why: for the hills here, system: fuel, safety: no}
worked_on:
  - fuel
service:
  - {what: engine oil, amount: 0.6 qt, system: engine, every: 25 h}
---

It was the knob.

Two lines.
`
	if diff := cmp.Diff(want, read(t, dir, "machines/harrow/2026-03-02-new-knob-at-last.md")); diff != "" {
		t.Errorf("(-want, +got):\n%s\n%s", diff, out)
	}
	for _, told := range []string{"a while is not a length of time", "62 furlongs was read", "write a number from 1 to 2", "half past is not a time of day", "say how it was seen", "say it in three words", "Stand clear", "no bench test goes by", "how much oil is gone", "Ground the plug leads", "Compression is low here", "far\" was read"} {
		if !strings.Contains(out.String(), told) {
			t.Errorf("nobody was told %q:\n%s", told, out)
		}
	}
}

// The input ends early: what was said so far is written, nothing is asked for
// ever.
func TestLogAsksNobody(t *testing.T) {
	folder, dir := shopOnDisk(t)
	ask, _ := somebody("Only this")
	var said bytes.Buffer
	s := streams{strings.NewReader(""), &said, &said}
	if err := logEntry(folder, dir, "harrow", &logFlags{entry: entry.Entry{Date: "2026-03-02"}}, s, ask); err != nil {
		t.Fatal(err)
	}
	if got := read(t, dir, "machines/harrow/2026-03-02-only-this.md"); got != "---\ndate: 2026-03-02\ntitle: Only this\n---\n" {
		t.Errorf("got:\n%s", got)
	}
	ask, _ = somebody()
	var o *outcome
	if err := logEntry(folder, dir, "harrow", &logFlags{}, s, ask); !errors.As(err, &o) || o.status != usage {
		t.Errorf("got %v, want wrong usage", err)
	}
	if files, err := os.ReadDir(filepath.Join(dir, "machines", "harrow")); err != nil || len(files) != 3 {
		t.Errorf("%d files, %v", len(files), err)
	}
}

func TestOpenAsks(t *testing.T) {
	folder, dir := shopOnDisk(t)
	ask, out := somebody("Old saw", "chainsow", "chainsaw", "a barn, somewhere", "much", "12.50", "7 psi", "7")
	var said bytes.Buffer
	o := &opening{folder: folder, dir: dir, key: "saw", ask: ask, machine: entry.Machine{Arrived: "2026-03-02"}}
	if err := o.run(streams{strings.NewReader(""), &said, &said}); err != nil {
		t.Fatalf("%v\n%s%s", err, out, &said)
	}
	machine := read(t, dir, "machines/saw/machine.md")
	for _, line := range []string{"name: Old saw\n", "kind: chainsaw\n", "bought: {from: \"a barn, somewhere\", paid: 12.50}\n"} {
		if !strings.Contains(machine, line) {
			t.Errorf("machine.md lacks %q:\n%s", line, machine)
		}
	}
	if arrived := read(t, dir, "machines/saw/2026-03-02-arrived.md"); !strings.Contains(arrived, "meter: 7 h\n") || !strings.Contains(arrived, "result: }") {
		t.Errorf("arrived:\n%s", arrived)
	}
	for _, told := range []string{"write that: chainsaw", "much is not an amount", "  1  air compressor"} {
		if !strings.Contains(out.String(), told) {
			t.Errorf("nobody was told %q:\n%s", told, out)
		}
	}
}

// With --edit and somebody there, a file with a problem can be opened again at
// its line, as often as it takes.
func TestEditReopensAtTheLine(t *testing.T) {
	folder, dir := shopOnDisk(t)
	script := filepath.Join(t.TempDir(), "editor.sh")
	args := script + ".args"
	text := "echo \"$*\" >> '" + args + "'\ncase $1 in\n+5) sed -i 's/bad/1.5/' \"$2\" ;;\n*) sed -i -e 's/^title:/title: Edited/' -e 's/^hours:/hours: bad/' \"$1\" ;;\nesac\n"
	if err := os.WriteFile(script, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	testenv.Program(t, "sed") // plays the editor
	t.Setenv("VISUAL", "sh '"+script+"'")
	ask, out := somebody("y")
	var said bytes.Buffer
	err := logEntry(folder, dir, "harrow", &logFlags{edit: true, entry: entry.Entry{Date: "2026-03-02", Title: "", By: "JM"}}, streams{strings.NewReader(""), &said, &said}, ask)
	if err != nil {
		t.Fatalf("%v\n%s%s", err, out, &said)
	}
	if got := read(t, dir, "machines/harrow/2026-03-02-edited.md"); got != "---\ndate: 2026-03-02\ntitle: Edited\nby: JM\nhours: 1.5\n---\n" {
		t.Errorf("got:\n%s", got)
	}
	if !strings.Contains(said.String(), "machines/harrow/2026-03-02-edited.md:5: hours: bad") {
		t.Errorf("told:\n%s", &said)
	}
}

func TestAtLine(t *testing.T) {
	for editor, want := range map[string]string{
		"vi": "+7 f", "nano -w": "+7 f", "/usr/bin/vim": "+7 f", "code --wait": "--goto f:7", "hx": "f:7", "notepad.exe": "f",
	} {
		if got := strings.Join(atLine(editor, "f", 7), " "); got != want {
			t.Errorf("%s: got %q, want %q", editor, got, want)
		}
	}
}

// A real terminal, driven by tmux: the program asks because somebody is there.
func TestOnATerminal(t *testing.T) {
	tmux := testenv.Program(t, "tmux")
	program, err := exec.LookPath("asleft") // the test binary under that name
	if err != nil {
		t.Fatal(err)
	}
	_, dir := shopOnDisk(t)
	socket := filepath.Join(t.TempDir(), "tmux")
	run := func(args ...string) string {
		out, err := exec.Command(tmux, append([]string{"-S", socket, "-f", os.DevNull}, args...)...).CombinedOutput()
		if err != nil {
			t.Fatalf("tmux %v: %v: %s", args, err, out)
		}
		return string(out)
	}
	run("new-session", "-d", "-x", "120", "-y", "40", "-c", dir, program+" open saw; sleep 60")
	defer func() { _ = exec.Command(tmux, "-S", socket, "kill-server").Run() }()
	until := func(text string) {
		for end := time.Now().Add(30 * time.Second); !strings.Contains(run("capture-pane", "-p"), text); time.Sleep(50 * time.Millisecond) {
			if time.Now().After(end) {
				t.Fatalf("never saw %q:\n%s", text, run("capture-pane", "-p"))
			}
		}
	}
	for _, step := range [][2]string{
		{"What do you call it", "Old saw"}, {"What kind is it", "chainsaw"}, {"Where did it come from", "a barn"},
		{"What was paid", "12.50"}, {"Hour meter", "none"},
	} {
		until(step[0])
		run("send-keys", "-l", step[1])
		run("send-keys", "Enter")
	}
	until("Wrote machines/saw/machine.md")
	if got := read(t, dir, "machines/saw/machine.md"); !strings.Contains(got, "name: Old saw\nkind: chainsaw\n") {
		t.Errorf("machine.md:\n%s", got)
	}
}

// The systems are listed once: fifteen lines after each slip push what was asked off a
// phone's screen.
func TestSystemsAreListedOnce(t *testing.T) {
	folder, _ := shopOnDisk(t)
	shop, _, err := logbook.Read(folder, logbook.Options{})
	if err != nil {
		t.Fatal(err)
	}
	ask, out := somebody("", "99", "engine")
	l := &logging{shop: shop, ask: ask}
	if got := l.askSystem(); got != "engine" || strings.Count(out.String(), " 1  engine") != 1 {
		t.Errorf("took %q; said:\n%s", got, out)
	}
}
