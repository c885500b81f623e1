package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path"
	"path/filepath"

	"github.com/spf13/afero"
	"github.com/spf13/cobra"

	"asleft/generator/handover"
	"asleft/generator/rooted"
)

// settingsDir is where a user's programs keep their settings.
func settingsDir() (string, error) {
	dir, err := os.UserConfigDir()
	if err != nil {
		return "", &outcome{fault, fmt.Errorf("%s: %w", words.Say("command.no-settings"), err)}
	}
	return dir, nil
}

// anySettings opens that folder, and makes it where it can be made: one that cannot holds
// no key and remembers nothing.
func anySettings() (afero.Fs, error) {
	if settings, err := openSettings(true); err == nil {
		return settings, nil
	}
	return openSettings(false)
}

// closeSettings lets go of that folder: Windows moves and removes none that is held.
func closeSettings(settings afero.Fs) {
	if open, is := settings.(io.Closer); is {
		_ = open.Close() // what was written there is written
	}
}

// keepSetting writes a file that nobody else reads into a folder of our own there.
func keepSetting(settings afero.Fs, name, text string) error {
	if err := settings.MkdirAll(path.Dir(name), 0o700); err != nil {
		return err
	}
	return afero.WriteFile(settings, name, []byte(text), 0o600)
}

// openSettings opens that folder, and makes it if asked. A folder that is not
// there holds no key.
func openSettings(create bool) (afero.Fs, error) {
	dir, err := settingsDir()
	if err != nil {
		return nil, err
	}
	if create {
		if err := os.MkdirAll(dir, 0o700); err != nil {
			return nil, &outcome{fault, fmt.Errorf("%s: %w", words.Say("command.no-settings"), err)}
		}
	} else if _, err := os.Stat(dir); errors.Is(err, os.ErrNotExist) {
		return noSettings(), nil
	}
	settings, err := rooted.Open(dir)
	if err != nil {
		return nil, &outcome{fault, fmt.Errorf("%s: %w", words.Say("command.no-settings"), err)}
	}
	return settings, nil
}

// noSettings are those of a user who has none.
func noSettings() afero.Fs { return afero.NewReadOnlyFs(afero.NewMemMapFs()) }

// leadsInto tells whether a path on this computer leads into a folder.
func leadsInto(dir, name string) bool {
	for _, p := range []*string{&dir, &name} {
		if real, err := filepath.EvalSymlinks(*p); err == nil {
			*p = real
		}
	}
	rel, err := filepath.Rel(dir, name)
	return err == nil && filepath.IsLocal(rel)
}

// makeKey makes the shop's key.
func makeKey(c *cobra.Command, s streams, asJSON bool) error {
	folder, _, err := openShop(c)
	if err != nil {
		return err
	}
	defer folder.Close()
	settings, err := openSettings(true)
	if err != nil {
		return err
	}
	private, err := handover.MakeKey(folder, settings)
	switch {
	case errors.Is(err, handover.ErrAtWork):
		return &outcome{fault, fmt.Errorf("%s (%w)", words.Say("command.handover-at-work"), err)}
	case errors.Is(err, handover.ErrHasKey):
		return wrongUsage(errors.New(words.Say("command.has-key", "file", handover.KeyFile)))
	case err != nil:
		return &outcome{fault, err}
	}
	dir, err := settingsDir()
	if err != nil {
		return err
	}
	private = filepath.Join(dir, filepath.FromSlash(private))
	if leadsInto(folder.Dir(), private) {
		fmt.Fprintln(s.err, words.Say("command.key-inside"))
	}
	if asJSON {
		return writeJSON(s.out, map[string]string{"private": private, "public": handover.KeyFile})
	}
	fmt.Fprintln(s.out, words.Say("command.key-made", "private", private, "public", handover.KeyFile))
	return nil
}
