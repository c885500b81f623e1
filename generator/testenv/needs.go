package testenv

import (
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"testing"
)

// NeedsLinks leaves a test out where nobody can make symbolic links: Windows lets
// only some users do so, and Wine 10, which runs its programs elsewhere, says that it
// made one and has made none.
func NeedsLinks(t testing.TB) {
	t.Helper()
	if runtime.GOOS != "windows" {
		return
	}
	name := filepath.Join(t.TempDir(), "link")
	err := os.Symlink("nowhere", name)
	if info, e := os.Lstat(name); err != nil || e != nil || info.Mode()&fs.ModeSymlink == 0 {
		t.Skipf("no symbolic links can be made here: %v, %v", err, e)
	}
}

// NeedsGo leaves a test out where there is no go command to ask: a test that was built
// on one system and runs on another.
func NeedsGo(t testing.TB) {
	t.Helper()
	if _, err := exec.LookPath("go"); err != nil && runtime.GOOS == "windows" {
		t.Skip("there is no go command here")
	}
}
