package main

import (
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
		for _, name := range themeNames() {
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

// themeNames are the built-in themes.
func themeNames() []string {
	var names []string
	entries, err := themes.Built.ReadDir(".")
	if err != nil {
		return nil // an embedded folder can always be read
	}
	for _, e := range entries {
		if e.IsDir() {
			names = append(names, e.Name())
		}
	}
	return names
}

// themeOf is a built-in theme by its name, else the folder of one.
func themeOf(name string) (theme fs.FS, done func(), err error) {
	done = func() {}
	if slices.Contains(themeNames(), name) {
		theme, err = fs.Sub(themes.Built, name)
		return theme, done, err
	}
	root, err := os.OpenRoot(name)
	if err == nil {
		done = func() { _ = root.Close() }
		if _, err = root.Lstat("style.css"); err == nil {
			return root.FS(), done, nil
		}
	}
	done()
	return nil, func() {}, wrongUsage(errors.New(words.Say("command.no-theme-folder", "name", name, "names", words.List(themeNames()))))
}

// copyTheme writes a built-in theme into a new folder, to be changed there.
func copyTheme(s streams, name, dir string) error {
	if !slices.Contains(themeNames(), name) {
		return wrongUsage(errors.New(words.Say("command.no-theme", "name", name, "names", strings.Join(themeNames(), ", "))))
	}
	if entries, err := os.ReadDir(dir); err == nil && len(entries) > 0 {
		return wrongUsage(errors.New(words.Say("command.theme-there", "dir", dir)))
	}
	theme, err := fs.Sub(themes.Built, name)
	if err != nil {
		return &outcome{fault, err}
	}
	if err := os.MkdirAll(filepath.Clean(dir), 0o755); err != nil {
		return &outcome{fault, err}
	}
	if err := os.CopyFS(dir, theme); err != nil {
		return &outcome{fault, err}
	}
	fmt.Fprintln(s.out, words.Say("command.theme-copied", "name", name, "dir", dir))
	return nil
}
