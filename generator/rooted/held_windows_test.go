package rooted_test

import (
	"errors"
	"path/filepath"
	"testing"
	"time"

	"github.com/spf13/afero"
	"golang.org/x/sys/windows"

	"asleft/generator/rooted"
)

// hold opens a file as another program does, and lets others only read it.
func hold(t *testing.T, name string) (letGo func()) {
	t.Helper()
	path, err := windows.UTF16PtrFromString(name)
	must(t, err)
	handle, err := windows.CreateFile(path, windows.GENERIC_READ, windows.FILE_SHARE_READ, nil, windows.OPEN_EXISTING, 0, 0)
	must(t, err)
	return func() { must(t, windows.CloseHandle(handle)) }
}

func TestHeldFilesAreWaitedFor(t *testing.T) {
	f, shop, _ := open(t)
	must(t, afero.WriteFile(f, "new.txt", nil, 0o600))
	for what, do := range map[string]func(name string) error{
		"rename over": func(name string) error { return f.Rename("new.txt", name) },
		"rename":      func(name string) error { return f.Rename(name, "away.txt") },
		"remove":      f.Remove,
		"remove all":  f.RemoveAll,
		"write":       func(name string) error { return afero.WriteFile(f, name, []byte("mine"), 0o600) },
	} {
		t.Run(what, func(t *testing.T) {
			t.Parallel()
			name := "held by " + what
			must(t, afero.WriteFile(f, name, []byte("old"), 0o600))
			letGo := hold(t, filepath.Join(shop, name))
			began := time.Now()
			if err := do(name); !errors.Is(err, rooted.ErrHeld) || time.Since(began) < time.Second {
				t.Errorf("after %v: %v", time.Since(began), err)
			}
			if data, err := afero.ReadFile(f, name); err != nil || string(data) != "old" {
				t.Errorf("it holds %q, %v", data, err)
			}
			time.AfterFunc(300*time.Millisecond, letGo)
			must(t, do(name))
		})
	}
}

func TestReadOnlyFilesAreToldOf(t *testing.T) {
	f, _, _ := open(t)
	must(t, afero.WriteFile(f, "new.txt", nil, 0o600))
	must(t, f.Chmod("inside.txt", 0o400))
	began := time.Now()
	if err := f.Rename("new.txt", "inside.txt"); !errors.Is(err, rooted.ErrReadOnly) || time.Since(began) > time.Second {
		t.Errorf("after %v: %v", time.Since(began), err)
	}
	must(t, f.Chmod("inside.txt", 0o600))
	must(t, f.Rename("new.txt", "inside.txt"))
}

// A lock whose file somebody else has open for himself is a lock that another has.
func TestLockHeldByAStranger(t *testing.T) {
	f, shop, _ := open(t)
	must(t, afero.WriteFile(f, "busy", nil, 0o600))
	path, err := windows.UTF16PtrFromString(filepath.Join(shop, "busy"))
	must(t, err)
	handle, err := windows.CreateFile(path, windows.GENERIC_READ, 0, nil, windows.OPEN_EXISTING, 0, 0)
	must(t, err)
	if _, err := f.Lock("busy"); !errors.Is(err, rooted.ErrLocked) {
		t.Errorf("got %v", err)
	}
	must(t, windows.CloseHandle(handle))
	release, err := f.Lock("busy")
	must(t, err)
	must(t, release())
}
