package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"

	"github.com/rogpeppe/go-internal/testscript"
)

// What scripts would ask of a shell, which not every system has. A pattern stands for
// the files that it fits, as in a shell, and has to fit one.

// fitting are the files that patterns stand for, as seen from the script's folder.
func fitting(ts *testscript.TestScript, patterns []string) []string {
	var all []string
	for _, p := range patterns {
		found, err := filepath.Glob(ts.MkAbs(p))
		ts.Check(err)
		if len(found) == 0 {
			ts.Fatalf("nothing fits %s", p)
		}
		for _, f := range found {
			rel, err := filepath.Rel(ts.MkAbs("."), f)
			ts.Check(err)
			all = append(all, filepath.ToSlash(rel))
		}
	}
	return all
}

// spread PROGRAM ARGUMENT... runs a program, with patterns among its arguments.
func spread(ts *testscript.TestScript, neg bool, args []string) {
	var all []string
	for _, a := range args[1:] {
		if strings.Contains(a, "*") {
			all = append(all, fitting(ts, []string{a})...)
		} else {
			all = append(all, a)
		}
	}
	if err := ts.Exec(args[0], all...); (err != nil) != neg {
		ts.Fatalf("%s %s: %v", args[0], strings.Join(all, " "), err)
	}
}

// listNames, names PATTERN... lists files, and what is in folders, hidden or not.
func listNames(ts *testscript.TestScript, _ bool, args []string) {
	for _, name := range fitting(ts, args) {
		infos, err := os.ReadDir(ts.MkAbs(name))
		if err != nil {
			fmt.Fprintln(ts.Stdout(), name)
		}
		for _, i := range infos {
			fmt.Fprintln(ts.Stdout(), i.Name())
		}
	}
}

// show PATTERN... is what files hold.
func show(ts *testscript.TestScript, _ bool, args []string) {
	for _, name := range fitting(ts, args) {
		fmt.Fprintln(ts.Stdout(), ts.ReadFile(name))
	}
}

// clear PATTERN... removes files, and folders with all in them.
func clearAway(ts *testscript.TestScript, _ bool, args []string) {
	for _, name := range fitting(ts, args) {
		ts.Check(os.RemoveAll(ts.MkAbs(name)))
	}
}

// change EXPRESSION NEW PATTERN... replaces text in files, each line by itself; \n in
// what is new begins a line.
func change(ts *testscript.TestScript, _ bool, args []string) {
	old, fresh := regexp.MustCompile("(?m)"+args[0]), strings.ReplaceAll(args[1], `\n`, "\n")
	for _, name := range fitting(ts, args[2:]) {
		text := ts.ReadFile(name)
		if !old.MatchString(text) {
			ts.Fatalf("%s does not hold %s", name, args[0])
		}
		ts.Check(os.WriteFile(ts.MkAbs(name), []byte(old.ReplaceAllString(text, fresh)), 0o644)) //nolint:gosec // an invented shop
	}
}

// copied FROM... TO copies files, and folders with all in them, to a new name or into
// a folder.
func copied(ts *testscript.TestScript, _ bool, args []string) {
	to := ts.MkAbs(args[len(args)-1])
	for _, name := range fitting(ts, args[:len(args)-1]) {
		at := to
		if info, err := os.Stat(to); err == nil && info.IsDir() {
			at = filepath.Join(to, filepath.Base(name))
		} else if err != nil && !errors.Is(err, fs.ErrNotExist) {
			ts.Check(err)
		}
		if info, err := os.Stat(ts.MkAbs(name)); err == nil && info.IsDir() {
			ts.Check(os.CopyFS(at, os.DirFS(ts.MkAbs(name))))
			continue
		}
		ts.Check(os.WriteFile(at, []byte(ts.ReadFile(name)), 0o644)) //nolint:gosec // an invented shop
	}
}

// code NAME DIGITS FILES [spaced] sets a variable to the first digits of the code that a
// sealed report's file is named by.
func code(ts *testscript.TestScript, _ bool, args []string) {
	name := fitting(ts, args[2:3])[0]
	digits := name[strings.LastIndex(name, "-")+1:]
	n, err := strconv.Atoi(args[1])
	ts.Check(err)
	digits = digits[:n]
	if len(args) > 3 {
		digits = strings.TrimSpace(regexp.MustCompile("....").ReplaceAllString(digits, "$0 ")) // as it is printed
	}
	ts.Setenv(args[0], digits)
}
