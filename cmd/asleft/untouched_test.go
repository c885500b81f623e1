package main

import (
	"bytes"
	"crypto/sha256"
	"errors"
	"fmt"
	"image"
	"image/jpeg"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
)

// Looking at a shop, or making its site elsewhere, changes nothing in its
// folder: no name, no content, no mode, no time. The desk has a test of its own
// for the same.
func TestTheShopFolderIsLeftAlone(t *testing.T) {
	shop, elsewhere := t.TempDir(), t.TempDir()
	if err := os.CopyFS(shop, os.DirFS("../../content-example")); err != nil {
		t.Fatal(err)
	}
	sealed, err := filepath.Glob(filepath.Join(shop, "handovers", "*-*.json"))
	if err != nil || len(sealed) == 0 {
		t.Fatalf("the example has no sealed report: %v", err)
	}
	var picture bytes.Buffer // in place of each photo: what is looked at here is not its pixels
	if err := jpeg.Encode(&picture, image.NewGray(image.Rect(0, 0, 8, 6)), nil); err != nil {
		t.Fatal(err)
	}
	past := time.Date(2026, 3, 2, 4, 5, 6, 0, time.UTC)
	err = filepath.WalkDir(shop, func(path string, _ fs.DirEntry, err error) error {
		if filepath.Ext(path) == ".jpg" {
			err = errors.Join(err, os.WriteFile(path, picture.Bytes(), 0o644))
		}
		return errors.Join(err, os.Chtimes(path, past, past))
	})
	if err != nil {
		t.Fatal(err)
	}
	before := allOf(t, shop)
	if len(before) < 40 {
		t.Fatalf("only %d files and folders in the example", len(before))
	}
	for _, args := range [][]string{
		{"inspect"}, {"inspect", "--json"}, {"tally"}, {"tally", "--json"}, {"tally", "--csv"}, {"tally", "harrow"},
		{"writeup", "--out", filepath.Join(elsewhere, "site")}, {"writeup", "--json", "--out", filepath.Join(elsewhere, "site")},
		{"vouch", sealed[0]}, {"vouch", "0000000000"},
	} {
		var said bytes.Buffer
		status := run(append(args, "--shop", shop), streams{strings.NewReader(""), &said, &said})
		if want := args[len(args)-1] == "0000000000"; (status != fine) != want {
			t.Errorf("asleft %s: exit status %d\n%s", strings.Join(args, " "), status, said.String())
		}
		if after := allOf(t, shop); !slices.Equal(after, before) {
			t.Fatalf("asleft %s changed the shop's folder:\n%s\nit was:\n%s", strings.Join(args, " "), strings.Join(without(after, before), "\n"), strings.Join(without(before, after), "\n"))
		}
	}

	// A site that stands in the shop's folder, as it does when nothing else is
	// said, changes nothing but itself and hidden files beside it.
	if status := run([]string{"writeup", "--shop", shop}, streams{strings.NewReader(""), &bytes.Buffer{}, &bytes.Buffer{}}); status != fine {
		t.Fatalf("writeup: exit status %d", status)
	}
	after := slices.DeleteFunc(allOf(t, shop), func(line string) bool {
		return strings.HasPrefix(line, "site") || strings.HasPrefix(line, ".site") || strings.HasPrefix(line, ". ")
	})
	if before = slices.DeleteFunc(before, func(line string) bool { return strings.HasPrefix(line, ". ") }); !slices.Equal(after, before) {
		t.Errorf("writeup changed the logs:\n%s", strings.Join(without(after, before), "\n"))
	}
}

// allOf is a line for each file and folder below dir, with all that can be seen
// of it.
func allOf(t *testing.T, dir string) []string {
	t.Helper()
	var all []string
	err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		info, err := d.Info()
		if err != nil {
			return err
		}
		var data []byte
		if info.Mode().IsRegular() {
			if data, err = os.ReadFile(path); err != nil {
				return err
			}
		}
		name, err := filepath.Rel(dir, path)
		all = append(all, fmt.Sprintf("%s %v %v %d bytes %x", name, info.Mode(), info.ModTime().UTC(), len(data), sha256.Sum256(data)))
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// without are the lines of a that b lacks.
func without(a, b []string) []string {
	return slices.DeleteFunc(slices.Clone(a), func(line string) bool { return slices.Contains(b, line) })
}
