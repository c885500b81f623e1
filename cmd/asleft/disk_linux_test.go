package main

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"golang.org/x/sys/unix"

	"asleft/generator/testenv"
)

// mountSmall makes a folder a small disk of its own, in memory. Only root may.
func mountSmall(t *testing.T, dir, options string) {
	t.Helper()
	if err := unix.Mount("tmpfs", dir, "tmpfs", 0, options); err != nil {
		testenv.Without(t, "a small disk to mount ("+err.Error()+")")
	}
	t.Cleanup(func() {
		if err := unix.Unmount(dir, unix.MNT_DETACH); err != nil { // detached: see whenFree
			t.Error(err)
		}
	})
}

// whenFree tries again while a disk is busy. A test that starts a program beside this
// one forks the whole process, and until its child has become that program, the child
// holds every file that was open here at that moment.
func whenFree(t *testing.T, do func() error) {
	t.Helper()
	err := do()
	for wait := time.Millisecond; errors.Is(err, unix.EBUSY) && wait < 10*time.Second; wait *= 2 {
		time.Sleep(wait)
		err = do()
	}
	if err != nil {
		t.Fatal(err)
	}
}

// writing are commands that write, each with the folders that it writes to.
func (y *yard) writing() map[string]struct{ args, into []string } {
	return map[string]struct{ args, into []string }{
		"writeup":  {[]string{"writeup", "--out", y.path("public/site")}, []string{thePublic}},
		"log":      {[]string{"log", "a", "--date", "2026-03-02", "--title", "An evening", "--text", strings.Repeat("Words. ", 4000), "--photos", y.path(theCamera)}, []string{"shop/machines/a", "shop/machines/a/photos"}},
		"handover": {[]string{"handover", "a", "--yes", "--tell-buyer", "--buyer-copy", y.path(theBuyer)}, []string{"shop/handovers", theBuyer}},
	}
}

// ready is a yard in which a site was made and a report sealed before the
// mechanic wrote on, so that all the commands have something new to write.
func ready(t *testing.T, program, top string) *yard {
	t.Helper()
	y := newYard(t, program, top)
	for _, command := range []string{"writeup", "handover"} {
		y.works(y.writing()[command].args...)
	}
	y.say("two")
	y.write("camera/IMG_0001.jpg", picture(t, 10))
	return y
}

// refused wants the program to end as one that the computer stands in the way
// of, to say what to do, and to leave nothing half done.
func (y *yard) refused(e ended, key string, before stock) {
	y.t.Helper()
	if e.code != fault || !strings.Contains(e.cried, words.Say(key)) || strings.Contains(e.cried, "goroutine ") {
		y.t.Fatalf("exit %d, want %d and %s\n%s%s", e.code, fault, key, e.said, e.cried)
	}
	now := y.stock(".")
	for name, data := range before {
		if now[name] != data {
			y.t.Fatalf("%s was changed", name)
		}
		delete(now, name)
	}
	for name, data := range now { // a photo that there was room for stays, and the next run finds it
		if data != picture(y.t, 10) && name != "shop/machines/a/photos/" {
			y.t.Errorf("%s was left, with %d bytes", name, len(data))
		}
	}
}

// TestFullDisk has a disk run full at ever later moments of a command.
func TestFullDisk(t *testing.T) {
	t.Parallel()
	program := built(t)
	for name, full := range map[string]struct{ command, disk string }{
		"writeup, all on one disk":            {"writeup", "."},
		"writeup, the site's disk":            {"writeup", thePublic},
		"log":                                 {"log", "."},
		"handover, all on one disk":           {"handover", "."},
		"handover, the disk of buyer's files": {"handover", theBuyer},
	} {
		t.Run(name, func(t *testing.T) {
			top := t.TempDir()
			disk := filepath.Join(top, full.disk)
			if err := os.MkdirAll(disk, 0o755); err != nil {
				t.Fatal(err)
			}
			mountSmall(t, disk, "size=2m")
			y := ready(t, program, top)
			args := y.writing()[full.command].args
			before, refusals := y.stock("."), 0
			for room := 0; ; room += 4 << 10 {
				fill(t, filepath.Join(disk, "fill"), room)
				e := y.ends(args...)
				if err := os.Remove(filepath.Join(disk, "fill")); err != nil {
					t.Fatal(err)
				}
				if e.code == fine {
					break
				}
				refusals++
				y.refused(e, "command.disk-full", before)
			}
			if refusals < 3 {
				t.Errorf("it wrote as soon as there was room for anything, so too little was tried")
			}
			y.finished(full.command)
		})
	}
}

// finished wants the work of a command to be there, whole, and nothing else.
func (y *yard) finished(command string) {
	y.t.Helper()
	switch command {
	case "writeup":
		said := y.works("writeup", "--out", y.path("public/again"))
		y.same(y.stock("public/site"), y.stock("public/again"), "the site after "+said)
	case "log":
		if n := len(y.stock("shop/machines/a")); n != 7 { // machine.md, two entries, photos/ and three in it
			y.t.Errorf("%d files in the machine's folder: %v", n, y.stock("shop/machines/a"))
		}
	case "handover":
		if n := len(y.vouched(command).Links); n != 2 || len(y.stock(theBuyer)) != 4 {
			y.t.Errorf("%d sealed reports, and for the buyer %d files", n, len(y.stock(theBuyer)))
		}
	}
	y.noLeftovers(command)
}

// fill writes a file as large as fits and then makes some room again.
func fill(t *testing.T, file string, room int) {
	t.Helper()
	f, err := os.Create(file)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	size := int64(0)
	for page := make([]byte, 4<<10); err == nil; {
		var n int
		n, err = f.Write(page)
		size += int64(n)
	}
	if !errors.Is(err, syscall.ENOSPC) {
		t.Fatal(err)
	}
	if err := f.Truncate(max(0, size-int64(room))); err != nil {
		t.Fatal(err)
	}
}

// TestReadOnlyDisk has the whole yard on a disk that can only be read.
func TestReadOnlyDisk(t *testing.T) {
	t.Parallel()
	program, top := built(t), t.TempDir()
	mountSmall(t, top, "size=2m")
	y := ready(t, program, top)
	before := y.stock(".")
	remount := func(flags uintptr) {
		whenFree(t, func() error { return unix.Mount("", top, "", unix.MS_REMOUNT|flags, "") })
	}
	remount(unix.MS_RDONLY)
	for _, w := range y.writing() {
		y.refused(y.ends(w.args...), "command.disk-read-only", before)
	}
	remount(0)
	for name, w := range y.writing() {
		y.works(w.args...)
		if name != "writeup" { // what log and handover write is news to the site
			y.finished(name)
		}
	}
}

// TestShutFolder shuts each folder that a command writes to. Root goes through
// every door, so root's test sends somebody else.
func TestShutFolder(t *testing.T) {
	t.Parallel()
	program := built(t)
	for command, w := range (&yard{}).writing() {
		for _, dir := range w.into {
			t.Run(command+" "+filepath.Base(dir), func(t *testing.T) {
				y := ready(t, program, t.TempDir())
				y.asNobody()
				before := y.stock(".")
				if err := os.Chmod(y.path(dir), 0o555); err != nil {
					t.Fatal(err)
				}
				args := y.writing()[command].args
				y.refused(y.ends(args...), "command.no-permission", before)
				if err := os.Chmod(y.path(dir), 0o755); err != nil {
					t.Fatal(err)
				}
				y.works(args...)
				y.finished(command)
			})
		}
	}
}

// asNobody gives the yard to another user and has that one run the program, if
// the test is root's.
func (y *yard) asNobody() {
	y.t.Helper()
	if os.Getuid() != 0 {
		return
	}
	const nobody = 65534
	y.as = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: nobody, Gid: nobody}}
	for _, dir := range []string{filepath.Dir(y.top), filepath.Dir(filepath.Dir(y.program))} {
		if err := os.Chmod(dir, 0o755); err != nil { //nolint:gosec // the test's own folder
			y.t.Fatal(err)
		}
	}
	err := filepath.WalkDir(y.top, func(p string, _ os.DirEntry, err error) error {
		return errors.Join(err, os.Lchown(p, nobody, nobody))
	})
	if err != nil {
		y.t.Fatal(err)
	}
}
