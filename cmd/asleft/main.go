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
)

func main() {
	os.Exit(run(os.Args[1:], streams{os.Stdin, os.Stdout, os.Stderr}))
}

// streams are where a command reads and writes.
type streams struct {
	in       io.Reader
	out, err io.Writer
}
