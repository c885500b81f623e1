package main

import (
	"fmt"
	"os"
	"path/filepath"
)

// A repository is a shop folder under git, with the site in it ignored.
type repository struct{ shop string }

// keep puts a shop folder that has its site in it under git.
func keep(shop string) (*repository, error) {
	r := &repository{shop}
	if err := os.WriteFile(filepath.Join(shop, ".gitignore"), []byte("/site/\n/.site-*\n"), 0o644); err != nil {
		return nil, err
	}
	_, err := r.git("init", "-q")
	return r, err
}

// commit puts all of the folder into it, so that its status is clean.
func (r *repository) commit() error {
	for _, args := range [][]string{
		{"add", "-A"},
		{"commit", "-q", "--allow-empty", "-m", "bench"},
		{"status", "--porcelain"}, // the first one refreshes the index
	} {
		if _, err := r.git(args...); err != nil {
			return err
		}
	}
	return nil
}

// status is git status, which has to find nothing changed.
func (r *repository) status() (run, error) {
	seen, err := r.git("status", "--porcelain")
	if err == nil && seen.out != "" {
		err = fmt.Errorf("git status is not clean: %s", tail(seen.out))
	}
	return seen, err
}

func (r *repository) git(args ...string) (run, error) {
	return start(r.shop, "git", append([]string{"-c", "user.name=bench", "-c", "user.email=bench@invalid", "-c", "core.autocrlf=false", "-c", "gc.auto=0", "-c", "core.compression=0"}, args...)...)
}
