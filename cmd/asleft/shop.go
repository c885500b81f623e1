package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"asleft/generator/logbook"
	"asleft/generator/rooted"
)

// shopDir is the shop folder that a command works on: the one that --shop
// names, else the nearest folder upward that holds a shop.md.
func shopDir(c *cobra.Command) (string, error) {
	dir, err := c.Flags().GetString("shop")
	if err != nil {
		return "", wrongUsage(err)
	}
	if dir != "" {
		if _, err := os.Stat(filepath.Join(dir, "shop.md")); errors.Is(err, fs.ErrNotExist) {
			return "", wrongUsage(errors.New(words.Say("command.no-shop-there", "dir", dir)))
		}
		return filepath.Clean(dir), nil
	}
	at, err := os.Getwd()
	if err != nil {
		return "", &outcome{fault, err}
	}
	for {
		if _, err := os.Stat(filepath.Join(at, "shop.md")); err == nil {
			return at, nil
		}
		up := filepath.Dir(at)
		if up == at {
			return "", wrongUsage(errors.New(words.Say("command.no-shop")))
		}
		at = up
	}
}

// openShop opens the shop folder of a command.
func openShop(c *cobra.Command) (*rooted.FS, string, error) {
	dir, err := shopDir(c)
	if err != nil {
		return nil, "", err
	}
	folder, err := rooted.Open(dir)
	if err != nil {
		return nil, "", &outcome{fault, fmt.Errorf("%s: %w", words.Say("command.cannot-open", "dir", dir), err)}
	}
	return folder, dir, nil
}

// status is the exit status that an error of the generator stands for.
func status(err error) error {
	switch {
	case err == nil:
		return nil
	case errors.Is(err, logbook.ErrNoShop):
		return wrongUsage(errors.New(words.Say("command.no-shop")))
	}
	return &outcome{fault, err}
}
