package main

import (
	"fmt"
	"os"
	"path/filepath"
)

// A repository is a shop folder under git twice over: in the usual place with
// the site ignored, and in a second one with the site committed too.
type repository struct{ shop, both string }

// keep puts a shop folder that has its site in it under git.
func keep(shop, both string) (*repository, error) {
	if err := os.RemoveAll(both); err != nil {
		return nil, err
	}
	r := &repository{shop, both}
	if err := os.WriteFile(filepath.Join(shop, ".gitignore"), []byte("/site/\n/.site-*\n"), 0o644); err != nil {
		return nil, err
	}
	if _, err := r.git("init", "-q"); err != nil {
		return nil, err
	}
	if _, err := r.gitOfBoth("init", "-q"); err != nil {
		return nil, err
	}
	// What the first one holds, the second need not store again.
	shared := filepath.Join(shop, ".git", "objects") + "\n"
	return r, os.WriteFile(filepath.Join(both, "objects", "info", "alternates"), []byte(shared), 0o644)
}

// commit puts all of the folder into both, so that their status is clean.
func (r *repository) commit() error {
	for _, step := range []struct {
		git  func(...string) (run, error)
		args []string
	}{
		{r.git, []string{"add", "-A"}},
		{r.git, []string{"commit", "-q", "--allow-empty", "-m", "bench"}},
		{r.git, []string{"status", "--porcelain"}}, // the first one refreshes the index
		{r.gitOfBoth, []string{"add", "-A"}},
		{r.gitOfBoth, []string{"add", "-A", "-f", "site"}},
		{r.gitOfBoth, []string{"commit", "-q", "--allow-empty", "-m", "bench"}},
		{r.gitOfBoth, []string{"status", "--porcelain"}},
	} {
		if _, err := step.git(step.args...); err != nil {
			return err
		}
	}
	return nil
}

func (r *repository) status() (run, error)       { return clean(r.git("status", "--porcelain")) }
func (r *repository) statusOfBoth() (run, error) { return clean(r.gitOfBoth("status", "--porcelain")) }

func clean(r run, err error) (run, error) {
	if err == nil && r.out != "" {
		err = fmt.Errorf("git status is not clean: %s", tail(r.out))
	}
	return r, err
}

func (r *repository) git(args ...string) (run, error) {
	return start(r.shop, "git", append([]string{"-c", "user.name=bench", "-c", "user.email=bench@invalid", "-c", "core.autocrlf=false", "-c", "gc.auto=0", "-c", "core.compression=0"}, args...)...)
}

func (r *repository) gitOfBoth(args ...string) (run, error) {
	return r.git(append([]string{"--git-dir", r.both, "--work-tree", r.shop}, args...)...)
}
