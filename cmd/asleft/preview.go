package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"net"
	"os"
	"os/signal"
	"path/filepath"
	"strconv"
	"sync"
	"syscall"

	"github.com/spf13/cobra"
	"golang.org/x/sync/errgroup"

	"asleft/generator/desk/access"
	"asleft/generator/desk/preview"
	"asleft/themes"
)

// usualPort is tried first, so that the address stays the same from one evening
// to the next.
const usualPort = 7340

// previewFlags are what the command line says.
type previewFlags struct {
	port  int
	given bool // the port was named
	theme string
	bench bool
	// network is the interface for phones; empty for all that are real.
	network string
}

func newPreview(s streams) *cobra.Command {
	var flags previewFlags
	c := &cobra.Command{
		Use:     "preview",
		Short:   words.Say("help.preview"),
		Long:    words.Say("help.preview.long"),
		Example: words.Say("help.preview.example"),
		Args:    none,
		RunE: func(c *cobra.Command, _ []string) error {
			flags.given = c.Flags().Changed("port")
			return runPreview(c, s, flags)
		},
	}
	c.Flags().IntVar(&flags.port, "port", usualPort, words.Say("help.flag.port"))
	c.Flags().StringVar(&flags.theme, "theme", "", words.Say("help.flag.theme"))
	c.Flags().BoolVar(&flags.bench, "bench", false, words.Say("help.flag.bench"))
	c.Flags().StringVar(&flags.network, "network", "", words.Say("help.flag.network"))
	return c
}

func runPreview(c *cobra.Command, s streams, flags previewFlags) error {
	folder, _, err := openShop(c)
	if err != nil {
		return err
	}
	defer folder.Close()
	if flags.port < 0 || flags.port > 65534 {
		return wrongUsage(errors.New(words.Say("command.preview-no-port", "port", flags.port)))
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
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	p := preview.New(folder, o)
	out := &sharedWriter{w: s.out}
	listener, err := listen("127.0.0.1", flags)
	if err != nil {
		return err
	}
	tell := &teller{w: out}
	all := []func(context.Context) error{
		func(ctx context.Context) error { p.Follow(ctx, dirs, "site"); return nil },
		func(ctx context.Context) error { p.Tell(ctx, tell.problems); return nil },
		func(ctx context.Context) error { return access.Serve(ctx, p.Handler(names(listener)...), listener) },
	}
	fmt.Fprintln(out, words.Say("command.preview-at", "address", "http://"+listener.Addr().String()+"/"))
	if flags.bench {
		bench, err := openBench(folder, p, out, flags)
		if err != nil {
			return errors.Join(err, listener.Close())
		}
		all = append(all, bench.serve)
	}
	if err := together(ctx, all...); err != nil {
		return &outcome{fault, err}
	}
	fmt.Fprintln(out, words.Say("command.preview-stopped"))
	return nil
}

// together runs all of them until one fails or the context is done, and waits
// for the last. The error is the first one's.
func together(ctx context.Context, all ...func(context.Context) error) error {
	group, ctx := errgroup.WithContext(ctx)
	for _, run := range all {
		group.Go(func() error { return run(ctx) })
	}
	return group.Wait()
}

// listen listens at an address. A port that was not asked for by number gives
// way to any free one.
func listen(host string, flags previewFlags) (net.Listener, error) {
	l, err := net.Listen("tcp", net.JoinHostPort(host, strconv.Itoa(flags.port)))
	if err == nil || flags.given && !errors.Is(err, syscall.EADDRINUSE) {
		return l, faulty(err)
	}
	if flags.given {
		return nil, &outcome{fault, errors.New(words.Say("command.preview-port", "port", flags.port))}
	}
	l, err = net.Listen("tcp", net.JoinHostPort(host, "0"))
	return l, faulty(err)
}

func faulty(err error) error {
	if err == nil {
		return nil
	}
	return &outcome{fault, err}
}

// names are what a browser may call the listener by.
func names(l net.Listener) []string {
	_, port, _ := net.SplitHostPort(l.Addr().String()) // the system's own form
	all := []string{"127.0.0.1:" + port, "localhost:" + port}
	if port == "80" {
		all = append(all, "127.0.0.1", "localhost")
	}
	return all
}

// A teller tells on the terminal what there is to mend, and when it is mended.
type teller struct {
	w    io.Writer
	told bool
}

func (t *teller) problems(found []preview.Problem) {
	if len(found) == 0 {
		if t.told {
			fmt.Fprintln(t.w, words.Say("command.preview-mended"))
		}
		t.told = false
		return
	}
	t.told = true
	for _, p := range found {
		text := p.Says
		if p.Place != "" {
			text = p.Place + ": " + p.Says
		}
		fmt.Fprintln(t.w, printable(text))
		if p.Mend != "" {
			fmt.Fprintln(t.w, printable("    "+p.Mend))
		}
	}
	fmt.Fprintln(t.w, words.Count("preview.problems", len(found)))
}

// A sharedWriter is written to by several at once, a line at a time.
type sharedWriter struct {
	mu sync.Mutex
	w  io.Writer
}

func (s *sharedWriter) Write(b []byte) (int, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.w.Write(b)
}
