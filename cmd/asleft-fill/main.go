// Asleft-fill makes a believable shop folder of any size from a seed, for
// benchmarks, for tests and for trying things out. Everything in it is
// invented. The same flags give the same bytes.
//
// Usage: asleft-fill --out DIR [--machines 200] [--entries 2000] [--photos 50]
// [--seed 1] [--photo-size 4032x3024]
//
// The parts: a plan says who worked on what and when (plan.go); each machine's log
// is then told on its own (log.go, evening.go) from the trade's words (trade.go)
// and a grammar for the stories (story.go), and the program's own package entry
// writes it; photos are drawn by scene.go. A machine depends on the seed, the plan
// and its own number only, so they are made on all cores.
//
// Exit status: 0 fine; 2 wrong usage; 3 the disk's fault.
package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
)

func main() {
	os.Exit(run(os.Args[1:], os.Stdout, os.Stderr))
}

// Exit statuses, as asleft has them.
const (
	fine  = 0
	usage = 2
	fault = 3
)

const help = `asleft-fill makes a believable shop folder for benchmarks and tests.
Everything in it is invented. The same flags give the same bytes.

  go run ./cmd/asleft-fill --out DIR --machines 200 --entries 2000 --photos 50

`

func run(args []string, out, wrong io.Writer) int {
	size, dir, err := readFlags(args, wrong)
	switch {
	case errors.Is(err, flag.ErrHelp):
		return fine
	case err != nil:
		fmt.Fprintln(wrong, "asleft-fill:", err)
		return usage
	}
	made, err := fill(dir, size)
	switch {
	case errors.Is(err, errSize), errors.Is(err, errFull):
		fmt.Fprintln(wrong, "asleft-fill:", err)
		return usage
	case err != nil:
		fmt.Fprintln(wrong, "asleft-fill:", err)
		return fault
	}
	fmt.Fprintf(out, "%s: %d machines, %d entries, %d photos; %d bytes of text, %d bytes of bodies, %d bytes of photos\n",
		dir, size.Machines, size.Entries, size.Photos, made.text, made.bodies, made.photos)
	return fine
}

func readFlags(args []string, wrong io.Writer) (size Size, dir string, err error) {
	flags := flag.NewFlagSet("asleft-fill", flag.ContinueOnError)
	flags.SetOutput(wrong)
	flags.Usage = func() {
		fmt.Fprint(wrong, help)
		flags.PrintDefaults()
	}
	flags.StringVar(&dir, "out", "", "the `folder` to make; it must be empty or not there")
	flags.IntVar(&size.Machines, "machines", 200, "how many machines")
	flags.IntVar(&size.Entries, "entries", 2000, "how many log entries over all machines")
	flags.IntVar(&size.Photos, "photos", 50, "how many photos over all entries")
	flags.Uint64Var(&size.Seed, "seed", 1, "the seed of all that is chance")
	sides := flags.String("photo-size", "4032x3024", "`width x height` of a photo in pixels, as the camera stores it")
	if err := flags.Parse(args); err != nil {
		return size, dir, err
	}
	if n, _ := fmt.Sscanf(*sides, "%dx%d", &size.Width, &size.Height); n != 2 {
		return size, dir, fmt.Errorf("--photo-size %q: a width and a height like 4032x3024 were expected", *sides)
	}
	if flags.NArg() > 0 {
		return size, dir, fmt.Errorf("%q was not expected; every value has its flag", flags.Arg(0))
	}
	if dir == "" {
		return size, dir, errors.New("--out is missing: name the folder to make")
	}
	return size, dir, nil
}
