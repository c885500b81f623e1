package main

import (
	"cmp"
	"context"
	"crypto/hmac"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"net"
	"os"
	"os/exec"
	"os/signal"
	"path"
	"path/filepath"
	"runtime"
	"syscall"
	"time"

	"github.com/spf13/afero"
	"github.com/spf13/cobra"

	"asleft/generator/desk"
	"asleft/generator/desk/access"
	"asleft/generator/desk/preview"
	"asleft/generator/rooted"
	"asleft/themes"
)

// Where a desk that is open says where, and the lock that says that it is.
const (
	deskFile = ".asleft/desk.json"
	deskLock = ".asleft/desk.lock"
)

// deskFlags are what the command line says.
type deskFlags struct {
	port  int
	given bool // the port was named
	theme string
	// phones are let in from the start; network is the one that they are in.
	phones  bool
	network string
	stay    bool // no browser is opened
	// opens takes the address of the desk where a browser waits for it; nil: one is opened.
	opens func(address string)
}

// An openDesk is where the desk of a shop is open, and what its tickets are made with.
// The secret stays the same, so that a browser that was let in once stays in. Proof shows
// that both were made by this user: a secret that came with the folder may be known to
// others, and at an address from elsewhere something may stand that only looks like the desk.
type openDesk struct {
	Address, Secret, Proof string
	key                    []byte // of deskKey
}

// deskKeyFile is the file of the user's settings with the key of deskKey.
const deskKeyFile = "asleft/desk-key"

// deskKey is this user's own key, by which it is known who was let in here. Where none can
// be kept it is another each time, and everybody is let in anew.
func deskKey() []byte {
	fresh := []byte(desk.NewSecret())
	settings, err := anySettings()
	if err != nil {
		return fresh
	}
	defer closeSettings(settings)
	if kept, err := afero.ReadFile(settings, deskKeyFile); err == nil && len(kept) == len(fresh) {
		return kept // one that is shorter is of a run that was cut off
	}
	_ = keepSetting(settings, deskKeyFile, string(fresh))
	return fresh
}

// provenBy is the proof of where a desk is and of its secret.
func (at openDesk) provenBy(key []byte) string {
	proof := desk.Proof(key, "desk "+at.Address+" "+at.Secret)
	return hex.EncodeToString(proof[:])
}

func newDesk(s streams) *cobra.Command {
	flags := deskFlags{port: usualPort}
	c := &cobra.Command{
		Use:     "desk",
		Short:   words.Say("help.desk"),
		Long:    words.Say("help.desk.long"),
		Example: words.Say("help.desk.example"),
		Args:    none,
		RunE: func(c *cobra.Command, _ []string) error {
			flags.given, flags.phones = c.Flags().Changed("port"), c.Flags().Changed("network")
			folder, err := openDeskFolder(c)
			if err != nil {
				return err
			}
			defer folder.Close()
			return runDesk(s, folder, flags)
		},
	}
	c.Flags().IntVar(&flags.port, "port", usualPort, words.Say("help.flag.port"))
	c.Flags().StringVar(&flags.network, "network", "", words.Say("help.flag.desk-network"))
	c.Flags().StringVar(&flags.theme, "theme", "", words.Say("help.flag.theme"))
	c.Flags().BoolVar(&flags.stay, "no-browser", false, words.Say("help.flag.no-browser"))
	return c
}

func runDesk(s streams, folder *rooted.FS, flags deskFlags) error {
	if flags.port < 0 || flags.port > 65534 {
		return wrongUsage(errors.New(words.Say("command.desk-no-port", "port", flags.port)))
	}
	o := preview.Options{Today: today, Words: words}
	dirs := []string{folder.Dir()}
	if flags.theme != "" {
		theme, done, err := themeOf(flags.theme)
		if err != nil {
			return err
		}
		defer done()
		o.Theme, o.ThemeDir = theme, flags.theme
		if dir, err := filepath.Abs(flags.theme); err == nil && themes.Named(flags.theme) == nil {
			dirs = append(dirs, dir)
		}
	}
	listener, at, release, err := claimDesk(folder, flags)
	if err != nil {
		return err
	}
	if listener == nil {
		return showDesk(s, at, flags) // it is open already: one more tab of it
	}
	defer func() { _ = release() }() // the system lets go of it in any case
	settings, err := anySettings()
	if err != nil {
		return errors.Join(err, listener.Close())
	}
	p := preview.New(folder, o)
	out := &sharedWriter{w: s.out}
	phones := &phones{flags: flags, out: out}
	d := desk.New(folder, desk.Options{
		Reading: p.Reading, Site: p.Pages(), Words: words, Secret: at.Secret, Refresh: p.Build, Settings: settings, Program: version(),
		Theme: o.Theme, ThemeDir: o.ThemeDir, Phones: phones, Dir: folder.Dir(), Ring: keyRing{},
	})
	defer d.StopPublishing()
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	rememberShop(folder.Dir())
	if err := showDesk(s, at, flags); err != nil {
		return err
	}
	all := []func(context.Context) error{
		func(ctx context.Context) error { p.Follow(ctx, dirs, "site"); return nil },
		func(ctx context.Context) error { return access.Serve(ctx, d.Handler(names(listener)...), listener) },
	}
	phones.begin(ctx, folder, p.Reading, d, at.key)
	if flags.phones {
		if err := phones.Open(flags.network); err != nil {
			return errors.Join(err, listener.Close())
		}
	}
	all = append(all, phones.serve)
	if err := together(ctx, all...); err != nil {
		return &outcome{fault, err}
	}
	fmt.Fprintln(out, words.Say("command.desk-stopped"))
	return nil
}

// claimDesk listens for the desk of a shop and notes where. There is no listener where the
// desk is open already; at tells where.
func claimDesk(folder *rooted.FS, flags deskFlags) (l net.Listener, at openDesk, release func() error, err error) {
	if err := folder.MkdirAll(path.Dir(deskLock), 0o755); err != nil {
		return nil, at, nil, &outcome{fault, err}
	}
	at = readDesk(folder, deskKey())
	release, err = folder.Lock(deskLock)
	if errors.Is(err, rooted.ErrLocked) && at.Address != "" {
		return nil, at, nil, nil
	}
	if err != nil {
		return nil, at, nil, &outcome{fault, err}
	}
	if l, err = listen("127.0.0.1", flags); err != nil {
		return nil, at, nil, errors.Join(err, release())
	}
	if at.Secret == "" {
		at.Secret = desk.NewSecret()
	}
	at.Address = "http://" + l.Addr().String()
	at.Proof = at.provenBy(at.key)
	data, err := json.Marshal(at)
	if err == nil {
		_ = folder.Remove(deskFile) // one that others can read would stay one
		err = afero.WriteFile(folder, deskFile, data, 0o600)
	}
	if err != nil {
		return nil, at, nil, &outcome{fault, errors.Join(err, l.Close(), release())}
	}
	return l, at, release, nil
}

// openDeskFolder is the shop's folder, or one in which the desk is to begin a shop: the
// one that --shop names, or this one.
func openDeskFolder(c *cobra.Command) (*rooted.FS, error) {
	folder, _, err := openShop(c)
	if err == nil {
		return folder, nil
	}
	dir, e := c.Flags().GetString("shop")
	if e != nil {
		return nil, wrongUsage(e)
	}
	dir = cmp.Or(dir, ".")
	if info, e := os.Stat(dir); e != nil || !info.IsDir() {
		return nil, err // what openShop said of it
	}
	if folder, e = rooted.Open(dir); e != nil {
		return nil, &outcome{fault, fmt.Errorf("%s: %w", words.Say("command.cannot-open", "dir", dir), e)}
	}
	return folder, nil
}

// readDesk is where the desk was opened last by who has this key; nothing but the key where
// that is not known.
func readDesk(folder afero.Fs, key []byte) openDesk {
	at := openDesk{key: key}
	data, err := rooted.ReadFile(folder, deskFile, rooted.MostText)
	if err != nil || json.Unmarshal(data, &at) != nil || !hmac.Equal([]byte(at.Proof), []byte(at.provenBy(key))) {
		return openDesk{key: key}
	}
	return at
}

// showDesk says where the desk is, and opens a browser on it.
func showDesk(s streams, at openDesk, flags deskFlags) error {
	address := at.Address + "/desk/in?ticket=" + desk.Ticket(at.Secret, time.Now())
	if flags.opens != nil {
		flags.opens(address)
		flags.stay = true
	}
	return openBrowser(s, address, flags.stay)
}

// openBrowser says an address, and has a browser show it.
func openBrowser(s streams, address string, stay bool) error {
	fmt.Fprintln(s.out, words.Say("command.desk-at", "address", address))
	if !stay {
		browse(address)
	}
	return nil
}

// browse asks the system to open an address. It is not waited for, and where nothing
// opens, the address stands on the terminal.
func browse(address string) {
	name, args := "xdg-open", []string{address}
	switch runtime.GOOS {
	case "darwin":
		name = "open"
	case "windows":
		// Not by cmd's start: that cuts an address at its &.
		name, args = "rundll32", []string{"url.dll,FileProtocolHandler", address}
	}
	c := exec.Command(name, args...)
	if c.Start() == nil {
		go func() { _ = c.Wait() }()
	}
}
