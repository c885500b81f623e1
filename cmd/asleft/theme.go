package main

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"asleft/themes"
)

func newTheme(s streams) *cobra.Command {
	c := &cobra.Command{Use: "theme", Short: words.Say("help.theme"), Long: words.Say("help.theme.long"), Args: oneOfThose}
	c.RunE = func(*cobra.Command, []string) error {
		for _, name := range themes.Names() {
			fmt.Fprintln(s.out, name)
		}
		return nil
	}
	c.AddCommand(&cobra.Command{
		Use:     "copy NAME DIR",
		Short:   words.Say("help.theme-copy"),
		Long:    words.Say("help.theme-copy.long"),
		Example: words.Say("help.theme-copy.example"),
		Args:    exactly(2, "command.name-theme"),
		RunE: func(_ *cobra.Command, args []string) error {
			return copyTheme(s, args[0], args[1])
		},
	})
	return c
}

// themeOf is a built-in theme by its name, else the folder of one.
func themeOf(name string) (theme fs.FS, done func(), err error) {
	done = func() {}
	if theme = themes.Named(name); theme != nil {
		return theme, done, nil
	}
	root, err := os.OpenRoot(name)
	if err == nil {
		done = func() { _ = root.Close() }
		if _, err = root.Lstat("style.css"); err == nil {
			return root.FS(), done, nil
		}
	}
	done()
	return nil, func() {}, wrongUsage(errors.New(words.Say("command.no-theme-folder", "name", name, "names", words.List(themes.Names()))))
}

// copyTheme writes a built-in theme into a new folder, to be changed there.
func copyTheme(s streams, name, dir string) error {
	theme := themes.Named(name)
	if theme == nil {
		return wrongUsage(errors.New(words.Say("command.no-theme", "name", name, "names", strings.Join(themes.Names(), ", "))))
	}
	files, err := fs.Glob(theme, "*") // a theme has no folders
	if err != nil {
		return &outcome{fault, err}
	}
	if !unfinished(theme, files, dir) {
		return wrongUsage(errors.New(words.Say("command.theme-there", "dir", dir)))
	}
	if err := os.MkdirAll(filepath.Clean(dir), 0o755); err != nil {
		return &outcome{fault, err}
	}
	for _, file := range files {
		if err := copyWhole(theme, file, dir); err != nil {
			return &outcome{fault, err}
		}
	}
	fmt.Fprintln(s.out, words.Say("command.theme-copied", "name", name, "dir", dir))
	return nil
}

// partEnd is behind the name of a file of a theme that is not whole yet.
const partEnd = ".part"

// unfinished tells whether a folder is not there, is empty, or holds nothing but what
// a run that was killed has copied of that theme.
func unfinished(theme fs.FS, files []string, dir string) bool {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return true // it is not there; or writing to it will say what is wrong
	}
	whole := 0
	for _, e := range entries {
		name := strings.TrimSuffix(e.Name(), partEnd)
		if !e.Type().IsRegular() || !slices.Contains(files, name) {
			return false
		}
		if name != e.Name() {
			continue
		}
		want, err := fs.ReadFile(theme, name)
		got, wrong := os.ReadFile(filepath.Join(dir, name))
		if err != nil || wrong != nil || !bytes.Equal(want, got) {
			return false
		}
		whole++
	}
	return whole < len(files)
}

// copyWhole copies a file of a theme, so that it is there whole or not at all.
func copyWhole(theme fs.FS, file, dir string) error {
	data, err := fs.ReadFile(theme, file)
	if err != nil {
		return fmt.Errorf("the built-in theme: %w", err)
	}
	to := filepath.Join(dir, file)
	if err := os.WriteFile(to+partEnd, data, 0o666); err != nil { //nolint:gosec // the user's umask says who may read it, as with any file
		return errors.Join(err, os.Remove(to+partEnd))
	}
	return os.Rename(to+partEnd, to)
}
