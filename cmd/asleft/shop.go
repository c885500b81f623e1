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
			return "", noShop(dir, "command.no-shop-there")
		}
		return filepath.Clean(dir), nil
	}
	at, err := os.Getwd()
	if err != nil {
		return "", &outcome{fault, err}
	}
	for here := at; ; {
		if _, err := os.Stat(filepath.Join(at, "shop.md")); err == nil {
			return at, nil
		}
		up := filepath.Dir(at)
		if up == at {
			return "", noShop(here, "command.no-shop")
		}
		at = up
	}
}

// noShop says that a folder is no shop's, and where its shop.md goes by another
// name, as editors and phones give them, which.
func noShop(dir, key string) error {
	entries, _ := os.ReadDir(dir) // one that cannot be read holds nothing to name
	for _, e := range entries {
		switch strings.ToLower(e.Name()) {
		case "shop.md", "shop.md.txt", "shop.txt", "shop.markdown", "shop":
			if e.Type().IsRegular() {
				return wrongUsage(errors.New(words.Say("command.shop-nearly", "dir", dir, "file", e.Name())))
			}
		}
	}
	return wrongUsage(errors.New(words.Say(key, "dir", dir)))
}

// machineOf is a machine's number in the shop, -1 with the error.
func machineOf(shop *logbook.Shop, key string) (int, error) {
	n := slices.IndexFunc(shop.Machines, func(m *logbook.Machine) bool { return m.Key == key })
	if n < 0 {
		return n, noMachine(shop, "command.no-machine", key)
	}
	return n, nil
}

// noMachine says that the shop has no machine of that key, and which it has.
func noMachine(shop *logbook.Shop, sentence, key string) error {
	var keys []string
	for _, m := range shop.Machines {
		keys = append(keys, m.Key)
	}
	if keys == nil {
		sentence = "command.no-machines"
	}
	return wrongUsage(errors.New(words.Say(sentence, "key", key, "keys", words.List(keys))))
}

// exactly wants so many arguments, and says what they are.
func exactly(n int, sentence string, pairs ...any) cobra.PositionalArgs {
	return func(_ *cobra.Command, args []string) error {
		if len(args) != n {
			return errors.New(words.Say(sentence, pairs...))
		}
		return nil
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
