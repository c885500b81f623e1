// Asleft turns a shop's build logs into a site: a page for each machine, its
// totals, and a condition report that cannot flatter.
//
// Usage: asleft COMMAND [--shop DIR]. Run asleft help for the commands.
//
// Exit status: 0 fine; 1 the logs have problems; 2 wrong usage; 3 the fault of
// the machine that it runs on (disk, permission, port).
package main

import (
	"io"
	"os"
	"runtime/debug"
)

func main() {
	if os.Getenv("GOGC") == "" {
		debug.SetGCPercent(garbagePercent)
	}
	os.Exit(run(os.Args[1:], streams{os.Stdin, os.Stdout, os.Stderr}))
}

// garbagePercent is how much garbage may gather, beside what is in use, before the
// collector runs. Most of what a run makes is thrown away at once, so looking for it
// half as often takes a sixth off a run that makes everything. Whoever sets GOGC knows
// better.
const garbagePercent = 200

// streams are where a command reads and writes.
type streams struct {
	in       io.Reader
	out, err io.Writer
}
