package main

import (
	"bufio"
	"bytes"
	"errors"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/spf13/afero"

	"asleft/generator/entry"
	"asleft/generator/testenv"
)

// A watched is an input that calls something before each read.
type watched struct {
	io.Reader
	before func()
}

func (w watched) Read(b []byte) (int, error) {
	w.before()
	return w.Reader.Read(b[:1]) // a byte at a time, so that no answer is read ahead
}

// TestAnswersAreOnTheDisk: each answer is in the draft before the next question
// waits, a story line by line too; once the entry is in the log, the draft is gone.
func TestAnswersAreOnTheDisk(t *testing.T) {
	folder, dir := shopOnDisk(t)
	draft := filepath.Join(dir, ".asleft", "drafts", "harrow.md")
	var seen []string
	answers := []string{"New knob", "18:30", "1:30", "JM"}
	in := strings.NewReader(strings.Join(answers, "\n") + "\n" + strings.Repeat("\n", 30) + "Long story.\nSecond line.\n.\n")
	ask := &asker{out: io.Discard, interactive: true, in: bufio.NewReaderSize(watched{in, func() {
		if data, err := os.ReadFile(draft); err == nil && (len(seen) == 0 || seen[len(seen)-1] != string(data)) {
			seen = append(seen, string(data))
		}
	}}, 16)}
	var said bytes.Buffer
	if err := logEntry(folder, dir, "harrow", &logFlags{entry: entry.Entry{Date: "2026-03-02"}}, streams{strings.NewReader(""), &said, &said}, ask); err != nil {
		t.Fatalf("%v\n%s", err, &said)
	}
	all := strings.Join(seen, "=====\n")
	for n, want := range []string{"title: New knob\n", "time: \"18:30\"\n", "hours: \"1:30\"\n", "by: JM\n"} {
		if len(seen) <= n || !strings.Contains(seen[n], want) {
			t.Fatalf("after answer %d the draft does not hold %q:\n%s", n+1, want, all)
		}
	}
	if !strings.Contains(all, "Long story.") {
		t.Errorf("a story that is not finished is not in the draft:\n%s", all)
	}
	if _, err := os.Stat(draft); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("the draft is still there: %v", err)
	}
}

// TestHalfADefectIsKept: of what takes several answers, those that were given are kept
// when the rest never comes.
func TestHalfADefectIsKept(t *testing.T) {
	folder, dir := shopOnDisk(t)
	draft := filepath.Join(dir, ".asleft", "drafts", "harrow.md")
	for what, answers := range map[string][]string{
		"{key: belt-frayed, defect: belt frayed, effect: it slips}": {"Looked", "18:30", "", "", "", "", "belt frayed", "it slips"},
	} {
		in := strings.NewReader(strings.Join(answers, "\n") + "\n")
		var last string
		ask := &asker{out: io.Discard, interactive: true, in: bufio.NewReaderSize(watched{in, func() {
			if data, err := os.ReadFile(draft); err == nil {
				last = string(data)
			}
		}}, 16)}
		var said bytes.Buffer
		_ = logEntry(folder, dir, "harrow", &logFlags{entry: entry.Entry{Date: "2026-03-02"}}, streams{strings.NewReader(""), &said, &said}, ask)
		if !strings.Contains(last, what) {
			t.Errorf("the draft lacks %s:\n%s", what, last)
		}
	}
}

// TestOpenGoesOn: the answers to the questions of open are kept one by one, offered the
// next time, and gone once the machine is there.
func TestOpenGoesOn(t *testing.T) {
	folder, dir := shopOnDisk(t)
	file := filepath.Join(dir, ".asleft", "opening", "saw.json")
	var said bytes.Buffer
	begin := func(ask *asker) error {
		o := &opening{folder: folder, dir: dir, key: "saw", ask: ask, machine: entry.Machine{Arrived: "2026-03-02"}}
		return o.run(streams{strings.NewReader(""), &said, &said})
	}
	ask, _ := somebody("Old saw", "chainsaw", "a barn")
	ask.in = bufio.NewReaderSize(watched{ask.in, func() {
		if data, err := os.ReadFile(file); err == nil && strings.Contains(string(data), "chainsaw") {
			panic("the terminal is closed")
		}
	}}, 16)
	func() {
		defer func() { _ = recover() }()
		_ = begin(ask)
	}()
	if _, err := os.Stat(filepath.Join(dir, "machines", "saw")); err == nil {
		t.Fatal("it was opened")
	}
	ask, out := somebody("", "a barn", "12.50", "7")
	if err := begin(ask); err != nil || !strings.Contains(out.String(), "| Old saw") || !strings.Contains(out.String(), "| chainsaw") {
		t.Errorf("the answers are not offered: %v\n%s", err, out)
	}
	machine := read(t, dir, "machines/saw/machine.md")
	for _, line := range []string{"name: Old saw\n", "kind: chainsaw\n", "bought: {from: a barn, paid: 12.50}\n"} {
		if !strings.Contains(machine, line) {
			t.Errorf("machine.md lacks %q:\n%s", line, machine)
		}
	}
	if _, err := os.Stat(file); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("the answers are still there: %v", err)
	}
}

// TestOpenKilledAnywhere: whichever call that changes the disk is the last of a killed
// run of open, the next run has the answers that were given, and ends with both files,
// the meter's reading in the second.
func TestOpenKilledAnywhere(t *testing.T) {
	answers := []string{"Old saw", "chainsaw", "a barn", "12.50", "7"}
	between := 0
	for n := 1; ; n++ {
		folder, dir := shopOnDisk(t)
		begin := func(folder afero.Fs, answers ...string) error {
			ask, out := somebody(answers...)
			o := &opening{folder: folder, dir: dir, key: "saw", ask: ask, machine: entry.Machine{Arrived: "2026-03-02"}}
			return o.run(streams{strings.NewReader(""), out, out})
		}
		plan := &testenv.Plan{Nth: n, Kill: true, Changes: true}
		_ = begin(plan.Over(folder), answers...)
		if !plan.Tripped {
			break
		}
		files, _ := (&opening{folder: folder, key: "saw"}).begun()
		was := (&opening{folder: folder, key: "saw"}).answered()
		left := answers
		for _, a := range []string{was.Name, was.Kind, was.From, was.Paid, was.Meter} {
			if a != "" {
				left = left[1:]
			}
		}
		if was.Name != "" {
			left = append([]string{""}, left...) // yes, go on with these
		}
		whole := len(files) == 2
		if len(files) == 1 {
			between++
		}
		if err := begin(folder, left...); (err != nil) != whole {
			t.Errorf("killed at change %d (%s of %s), %d files there: %v", n, plan.Failed, plan.On, len(files), err)
		}
		if machine := read(t, dir, "machines/saw/machine.md"); !strings.Contains(machine, "bought: {from: a barn, paid: 12.50}\n") {
			t.Errorf("killed at change %d: %s", n, machine)
		}
		entries, _ := afero.Glob(folder, "machines/saw/2026*.md")
		if len(entries) != 1 || !strings.Contains(read(t, dir, entries[0]), "meter: 7 h\n") {
			t.Errorf("killed at change %d: the entries are %v", n, entries)
		}
	}
	if between == 0 {
		t.Error("no run was killed between the two files")
	}
}

// TestWhatCannotBeSavedIsKept: the machine's folder goes away before the entry is
// written, as on a drive that is pulled out.
func TestWhatCannotBeSavedIsKept(t *testing.T) {
	folder, dir := shopOnDisk(t)
	ask, _ := somebody("New knob", "18:30")
	ask.in = bufio.NewReaderSize(watched{ask.in, func() {
		_ = os.RemoveAll(filepath.Join(dir, "machines", "harrow"))
	}}, 16)
	var said bytes.Buffer
	err := logEntry(folder, dir, "harrow", &logFlags{entry: entry.Entry{Date: "2026-03-02"}}, streams{strings.NewReader(""), &said, &said}, ask)
	if err == nil {
		t.Fatal("it was written into a folder that is gone")
	}
	data, e := os.ReadFile(filepath.Join(dir, ".asleft", "drafts", "harrow.md"))
	if e != nil || !strings.Contains(string(data), "title: New knob") || !strings.Contains(said.String(), "is kept in "+filepath.Join(dir, ".asleft")) {
		t.Errorf("%v\n%s\n%s", e, data, &said)
	}
}

// TestDraftOnAFullDisk: where the shop's disk takes no more, the whole entry is kept
// in the user's own folder, and where that takes nothing either, it is printed.
func TestDraftOnAFullDisk(t *testing.T) {
	for _, elsewhere := range []bool{true, false} {
		folder, dir := shopOnDisk(t)
		cache := t.TempDir()
		if !elsewhere {
			cache = filepath.Join(cache, "file")
			if err := os.WriteFile(cache, nil, 0o600); err != nil {
				t.Fatal(err)
			}
		}
		for _, name := range []string{"XDG_CACHE_HOME", "HOME", "LocalAppData", "TMPDIR"} {
			t.Setenv(name, cache)
		}
		full := false
		disk := testenv.Plan{Answer: func(op, name string) error {
			if full && op == "open" {
				return &os.PathError{Op: op, Path: name, Err: syscall.ENOSPC}
			}
			return nil
		}}
		ask, _ := somebody("New knob", "18:30", "1:30", "JM")
		asked := 0
		ask.in = bufio.NewReaderSize(watched{ask.in, func() {
			if asked++; asked > 12 { // the title and half of the time
				full = true
			}
		}}, 16)
		var said bytes.Buffer
		err := logEntry(disk.Over(folder), dir, "harrow", &logFlags{entry: entry.Entry{Date: "2026-03-02"}}, streams{strings.NewReader(""), &said, &said}, ask)
		if !errors.Is(err, syscall.ENOSPC) {
			t.Fatalf("got %v\n%s", err, &said)
		}
		kept := said.String()
		if elsewhere {
			found, err := filepath.Glob(filepath.Join(cache, "*", "drafts", "harrow.md"))
			if more, _ := filepath.Glob(filepath.Join(cache, "*", "*", "*", "drafts", "harrow.md")); len(found) == 0 {
				found = more // where a system has its caches deeper
			}
			if err != nil || len(found) != 1 || !strings.Contains(kept, "is kept in "+found[0]) {
				t.Fatalf("%v, %v\n%s", found, err, kept)
			}
			data, err := os.ReadFile(found[0])
			if err != nil {
				t.Fatal(err)
			}
			kept = string(data)
		}
		for _, want := range []string{"title: New knob\n", "time: \"18:30\"\n", "hours: \"1:30\"\n", "by: JM\n"} {
			if !strings.Contains(kept, want) {
				t.Errorf("elsewhere %v: %q is lost:\n%s", elsewhere, want, kept)
			}
		}
	}
}

// TestDraftIsOffered: written as it is, thrown away, or left.
func TestDraftIsOffered(t *testing.T) {
	for answer, want := range map[string]struct{ draft, entry bool }{"w": {false, true}, "d": {false, false}, "": {true, false}} {
		folder, dir := shopOnDisk(t)
		writeFile(t, dir, ".asleft/drafts/harrow.md", "---\ndate: 2026-03-02\ntitle: Begun\n---\n")
		writeFile(t, dir, ".asleft/drafts/other.md", "---\ndate: 2026-03-02\ntitle: Other\n---\n")
		ask, out := somebody(answer)
		var said bytes.Buffer
		_ = logEntry(folder, dir, "harrow", &logFlags{}, streams{strings.NewReader(""), &said, &said}, ask)
		if !strings.Contains(said.String(), "| title: Begun") || strings.Contains(said.String(), "Other") {
			t.Errorf("%q: it was not shown:\n%s%s", answer, &said, out)
		}
		for file, there := range map[string]bool{".asleft/drafts/harrow.md": want.draft, "machines/harrow/2026-03-02-begun.md": want.entry, ".asleft/drafts/other.md": true} {
			if _, err := os.Stat(filepath.Join(dir, file)); (err == nil) != there {
				t.Errorf("%q: %s: %v", answer, file, err)
			}
		}
	}
}

// TestDraftTellsWhatIsWrong: a draft of what a phone sent, say.
func TestDraftTellsWhatIsWrong(t *testing.T) {
	folder, dir := shopOnDisk(t)
	writeFile(t, dir, ".asleft/drafts/harrow.md", "---\ndate: 2026-03-02\ntitle: Begun\nran: often\n---\n")
	ask, _ := somebody("")
	var said bytes.Buffer
	_ = logEntry(folder, dir, "harrow", &logFlags{}, streams{strings.NewReader(""), &said, &said}, ask)
	if !strings.Contains(said.String(), "ran: often is not a length of time") || !strings.Contains(said.String(), "| ran: often") {
		t.Errorf("it says\n%s", &said)
	}
}

// TestWindowThatStaysOpen: an editor that only opens a window is waited for, and what
// is saved in the window meanwhile is what gets written.
func TestWindowThatStaysOpen(t *testing.T) {
	folder, dir := shopOnDisk(t)
	testenv.Program(t, "sed")
	script := filepath.Join(t.TempDir(), "window.sh")
	if err := os.WriteFile(script, []byte("(sleep 0.3; sed -i 's/^title:/title: Window/' \"$1\") >/dev/null 2>&1 &\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	t.Setenv("VISUAL", "sh '"+script+"'")
	ask, out := somebody("", "", "")
	ask.in = bufio.NewReaderSize(watched{ask.in, func() { time.Sleep(600 * time.Millisecond) }}, 16)
	var said bytes.Buffer
	if err := logEntry(folder, dir, "harrow", &logFlags{edit: true, entry: entry.Entry{Date: "2026-03-02"}}, streams{strings.NewReader(""), &said, &said}, ask); err != nil {
		t.Fatalf("%v\n%s%s", err, out, &said)
	}
	if got := read(t, dir, "machines/harrow/2026-03-02-window.md"); !strings.Contains(got, "title: Window") {
		t.Errorf("got:\n%s\n%s", got, out)
	}
}

// TestInterruptedOnATerminal: Ctrl-C and a terminal that is closed, for real.
func TestInterruptedOnATerminal(t *testing.T) {
	tmux := testenv.Program(t, "tmux")
	program, err := exec.LookPath("asleft") // the test binary under that name
	if err != nil {
		t.Fatal(err)
	}
	for name, end := range map[string][]string{"Ctrl-C": {"send-keys", "C-c"}, "closed": {"kill-session"}} {
		_, dir := shopOnDisk(t)
		socket := filepath.Join(t.TempDir(), "tmux")
		run := func(args ...string) string {
			out, _ := exec.Command(tmux, append([]string{"-S", socket, "-f", os.DevNull}, args...)...).CombinedOutput()
			return string(out)
		}
		run("new-session", "-d", "-x", "120", "-y", "40", "-c", dir, program+" log harrow --date 2026-03-02; sleep 60")
		defer run("kill-server")
		until := func(what string, is func() bool) {
			for end := time.Now().Add(30 * time.Second); !is(); time.Sleep(50 * time.Millisecond) {
				if time.Now().After(end) {
					t.Fatalf("%s: never %s:\n%s", name, what, run("capture-pane", "-p"))
				}
			}
		}
		shows := func(text string) func() bool {
			return func() bool { return strings.Contains(run("capture-pane", "-p"), text) }
		}
		until("asked", shows(words.Say("command.ask-title")))
		run("send-keys", "-l", "Begun here")
		run("send-keys", "Enter")
		until("asked for the time", shows(words.Say("command.ask-time")))
		run(end...)
		if name == "Ctrl-C" {
			until("told", shows("is kept in"))
		}
		until("kept", func() bool {
			data, err := os.ReadFile(filepath.Join(dir, ".asleft", "drafts", "harrow.md"))
			return err == nil && strings.Contains(string(data), "title: Begun here")
		})
	}
}
