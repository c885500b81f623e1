package main

import (
	"maps"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"asleft/generator/logbook"
	"asleft/generator/rooted"
)

// kills is how often each command is ended at a random moment.
const kills = 50

// built is the program, built as for a user.
func built(t *testing.T) string {
	t.Helper()
	program := filepath.Join(t.TempDir(), "asleft.exe")
	if out, err := exec.Command("go", "build", "-o", program, ".").CombinedOutput(); err != nil {
		t.Fatalf("building: %v\n%s", err, out)
	}
	return program
}

// killShop is a shop with so many machines that a run takes a while.
func killShop(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	writeFile(t, dir, "shop.md", "---\nshop: Plain\ncurrency: USD\nweb: https://shop.example/\n---\nWords.\n")
	for _, key := range []string{"a", "b", "c", "d", "e", "f", "g", "h"} {
		writeFile(t, dir, "machines/"+key+"/machine.md", "---\nname: Machine "+key+"\narrived: 2026-01-01\n---\nWords.\n")
	}
	return dir
}

func writeFile(t *testing.T, dir, name, text string) {
	t.Helper()
	file := filepath.Join(dir, name)
	if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(file, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
}

// filesOf are the files of a folder; hidden ones too where asked.
func filesOf(t *testing.T, dir string, hidden bool) map[string]string {
	t.Helper()
	files := map[string]string{}
	err := filepath.WalkDir(dir, func(p string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() || !hidden && strings.HasPrefix(d.Name(), ".") {
			return err
		}
		data, err := os.ReadFile(p)
		files[filepath.ToSlash(strings.TrimPrefix(p, dir+string(os.PathSeparator)))] = string(data)
		return err
	})
	if err != nil && !os.IsNotExist(err) {
		t.Fatal(err)
	}
	return files
}

// asleft runs the program to its end.
func asleft(t *testing.T, program string, args ...string) {
	t.Helper()
	if out, err := exec.Command(program, args...).CombinedOutput(); err != nil {
		t.Fatalf("asleft %s: %v\n%s", strings.Join(args, " "), err, out)
	}
}

// killed starts the program and ends it, with a signal that it cannot see, some
// time later; it tells whether it was still running.
func killed(t *testing.T, program string, after time.Duration, args ...string) bool {
	t.Helper()
	cmd := exec.Command(program, args...)
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	time.Sleep(after)
	_ = cmd.Process.Kill() // it may be done
	return cmd.Wait() != nil
}

// took is how long the program takes, from which the moments are drawn.
func took(t *testing.T, program string, args ...string) time.Duration {
	t.Helper()
	began := time.Now()
	asleft(t, program, args...)
	return time.Since(began)
}

// A writeup that is killed leaves the old site or the new one, and the next
// writeup needs no help and leaves nothing behind.
func TestKilledWriteup(t *testing.T) {
	t.Parallel()
	program, dir := built(t), killShop(t)
	place := t.TempDir()
	args := []string{"--shop", dir, "writeup", "--out", filepath.Join(place, "site")}
	sites := map[string]map[string]string{}
	var logs map[string]string
	say := func(words string) {
		writeFile(t, dir, "machines/a/2026-03-02-a.md", "---\ndate: 2026-03-02\ntitle: "+words+"\n---\nWords.\n")
		logs = filesOf(t, dir, true)
	}
	for _, words := range []string{"one", "two"} {
		say(words)
		asleft(t, program, args...)
		sites[words] = filesOf(t, place, true)
	}
	full, running := took(t, program, args...)+20*time.Millisecond, 0
	for i := range kills {
		say([]string{"one", "two"}[i%2])
		if killed(t, program, rand.N(full), args...) {
			running++
		}
		now := filesOf(t, filepath.Join(place, "site"), true)
		if !sameBelow(now, sites["one"]) && !sameBelow(now, sites["two"]) {
			t.Fatalf("kill %d: the site is neither the old nor the new one", i)
		}
		if !maps.Equal(filesOf(t, dir, true), logs) {
			t.Fatalf("kill %d: the logs were changed", i)
		}
		asleft(t, program, args...)
		if got := filesOf(t, place, true); !maps.Equal(got, sites[[]string{"one", "two"}[i%2]]) {
			t.Fatalf("kill %d: the next run did not put all right: %d files", i, len(got))
		}
	}
	if running < kills/10 {
		t.Errorf("only %d of %d runs were killed before their end", running, kills)
	}
}

// sameBelow holds a site against a tree in which it is the folder site.
func sameBelow(site, whole map[string]string) bool {
	below := map[string]string{}
	for name, data := range site {
		below["site/"+name] = data
	}
	return maps.Equal(below, whole)
}

// A log that is killed has written the whole entry or none; every entry from
// before is as it was, and the next one is written without help.
func TestKilledLog(t *testing.T) {
	t.Parallel()
	program, dir := built(t), killShop(t)
	args := []string{"--shop", dir, "log", "a", "--date", "2026-03-02", "--title", "An evening", "--hours", "1", "--text", strings.Repeat("Many words of an evening.\n", 2000)}
	full, running := took(t, program, args...)+5*time.Millisecond, 0
	whole := filesOf(t, dir, false)["machines/a/2026-03-02-an-evening.md"]
	if len(whole) < 40_000 {
		t.Fatalf("the entry has %d bytes", len(whole))
	}
	before := filesOf(t, dir, false)
	for i := range kills {
		if killed(t, program, rand.N(full), args...) {
			running++
		}
		now := filesOf(t, dir, false)
		for name, data := range before {
			if now[name] != data {
				t.Fatalf("kill %d: %s was changed", i, name)
			}
			delete(now, name)
		}
		for name, data := range now {
			if data != whole {
				t.Fatalf("kill %d: %s holds %d bytes of %d", i, name, len(data), len(whole))
			}
		}
		before = filesOf(t, dir, false)
	}
	asleft(t, program, args...)
	checkLogs(t, dir, len(before)+1)
	if all, seen := filesOf(t, dir, true), filesOf(t, dir, false); len(all) != len(seen) {
		t.Errorf("killed runs left %d hidden files", len(all)-len(seen))
	}
	if running < kills/10 {
		t.Errorf("only %d of %d runs were killed before their end", running, kills)
	}
}

// checkLogs wants a shop of that many files without a problem in it.
func checkLogs(t *testing.T, dir string, files int) {
	t.Helper()
	folder, err := rooted.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer folder.Close()
	_, problems, err := logbook.Read(folder, logbook.Options{})
	for _, p := range problems {
		if !strings.Contains(p.Says, "24 hours") {
			t.Errorf("%s", p)
		}
	}
	if got := len(filesOf(t, dir, false)); err != nil || got != files {
		t.Errorf("%d files, want %d (%v)", got, files, err)
	}
}
