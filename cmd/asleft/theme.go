package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
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
	if entries, err := os.ReadDir(dir); err == nil && len(entries) > 0 {
		return wrongUsage(errors.New(words.Say("command.theme-there", "dir", dir)))
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
