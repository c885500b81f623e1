package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"

	"asleft/generator/testenv"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"asleft": main})
}

// TestCommands runs the scripts of testdata/script: each is a shop, the
// commands that a person would give, and what has to come of them.
func TestCommands(t *testing.T) {
	scripts, err := filepath.Glob("testdata/script/*.txtar")
	if err != nil || len(scripts) == 0 {
		t.Fatalf("no scripts: %v", err)
	}
	testscript.Run(t, testscript.Params{
		Dir: "testdata/script",
		Setup: func(e *testscript.Env) error {
			e.Setenv("HOME", e.WorkDir)
			if runtime.GOOS == "windows" {
				e.Setenv("USERPROFILE", e.WorkDir)
				e.Setenv("APPDATA", filepath.Join(e.WorkDir, ".config"))
				e.Setenv("LOCALAPPDATA", filepath.Join(e.WorkDir, ".cache"))
			}
			return nil
		},
		Condition: func(cond string) (bool, error) { return cond == "tmpfs" && canMount(t), nil },
		Cmds: map[string]func(ts *testscript.TestScript, neg bool, args []string){
			"mount": mount,
			"same":  same,
			// in shell_test.go
			"spread": spread, "names": listNames, "show": show, "clear": clearAway, "change": change, "copied": copied, "code": code,
			// of log_*.txtar, in photos_test.go
			"photo": photoFile, "heic": heicFile, "touch": touch, "halve": halve, "only-asleft": onlyAsleft,
		},
	})
}

// canMount tells whether a small file system of its own can be made here, as
// the full-disk script needs. Where every check is compulsory, it has to.
func canMount(t *testing.T) bool {
	t.Helper()
	dir := t.TempDir()
	if err := exec.Command("mount", "-t", "tmpfs", "-o", "size=64k", "tmpfs", dir).Run(); err != nil {
		if testenv.All() {
			t.Fatalf("a tmpfs cannot be mounted here, and every check is compulsory: %v", err)
		}
		return false
	}
	if err := exec.Command("umount", dir).Run(); err != nil {
		t.Errorf("unmounting: %v", err)
	}
	return true
}

// mount DIR SIZE makes a small file system at DIR for the rest of the script.
func mount(ts *testscript.TestScript, _ bool, args []string) {
	dir := ts.MkAbs(args[0])
	ts.Check(os.MkdirAll(dir, 0o755))
	ts.Check(exec.Command("mount", "-t", "tmpfs", "-o", "size="+args[1], "tmpfs", dir).Run())
	ts.Defer(func() { _ = exec.Command("umount", dir).Run() })
}

// same A B holds two folders against each other, file by file.
func same(ts *testscript.TestScript, neg bool, args []string) {
	a, b := tree(ts, ts.MkAbs(args[0])), tree(ts, ts.MkAbs(args[1]))
	if len(a) == 0 {
		ts.Fatalf("%s holds no files", args[0])
	}
	equal := len(a) == len(b)
	for name, data := range a {
		if b[name] != data {
			equal = false
			if !neg {
				ts.Logf("%s differs", name)
			}
		}
	}
	if equal == neg {
		ts.Fatalf("%s and %s: the same is %v", args[0], args[1], equal)
	}
}

func tree(ts *testscript.TestScript, dir string) map[string]string {
	files := map[string]string{}
	ts.Check(filepath.WalkDir(dir, func(path string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := os.ReadFile(path)
		name, _ := filepath.Rel(dir, path)
		files[name] = string(data)
		return err
	}))
	return files
}
