// Yardstick runs asleft and the programs that it is held against in turns, and
// prints one table of ratios. It is started by .ci/bench, which puts asleft,
// asleft-fill and the photographs into the scratch folder first.
//
// As "yardstick goldmark SHOP" it is one of the yardsticks itself: plain
// goldmark, on one core, rendering the bodies of all entries and machines.
package main

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

func main() {
	if len(os.Args) == 3 && os.Args[1] == "goldmark" {
		exit(renderAll(os.Args[2]))
	}
	b := &bench{self: os.Args[0]}
	var rows string
	flag.StringVar(&b.dir, "dir", "", "the scratch folder with asleft, asleft-fill and photographs/")
	flag.IntVar(&b.runs, "runs", 0, "how many alternating runs a row (default 5, 3 with --short)")
	flag.BoolVar(&b.short, "short", false, "small sizes; fail where a ratio is out of its band")
	flag.StringVar(&b.photoSize, "photo-size", "", "the photos of the shop with nothing changed (default 4032x3024, 1008x756 with --short)")
	flag.StringVar(&rows, "rows", "", "only these rows: "+strings.Join(rowNames(), ", "))
	flag.Parse()
	if b.runs == 0 {
		b.runs = map[bool]int{true: 3, false: 5}[b.short]
	}
	if b.photoSize == "" {
		b.photoSize = map[bool]string{true: "1008x756", false: "4032x3024"}[b.short]
	}
	results, err := b.measure(strings.FieldsFunc(rows, func(r rune) bool { return r == ',' }))
	if err != nil {
		exit(err)
	}
	if err := b.print(os.Stdout, thisMachine(), results); err != nil {
		exit(err)
	}
	exit(b.judge(results))
}

func exit(err error) {
	if err != nil {
		fmt.Fprintln(os.Stderr, "bench:", err)
		os.Exit(1)
	}
	os.Exit(0)
}

// A bench is one run of this program.
type bench struct {
	dir, self, photoSize string
	runs                 int
	short                bool
	notes                []string
	filled               map[string]filled
}

// pick is the size for the full form or the short one.
func (b *bench) pick(full, short int) int {
	if b.short {
		return short
	}
	return full
}

func (b *bench) path(parts ...string) string {
	return filepath.Join(append([]string{b.dir}, parts...)...)
}

func (b *bench) note(format string, args ...any) {
	b.notes = append(b.notes, fmt.Sprintf(format, args...))
}

func (b *bench) measure(only []string) ([]result, error) {
	b.filled = map[string]filled{}
	for _, name := range only {
		if !slices.Contains(rowNames(), name) {
			return nil, fmt.Errorf("%q is no row; the rows are %s", name, strings.Join(rowNames(), ", "))
		}
	}
	var results []result
	for _, r := range rows {
		if len(only) > 0 && !slices.Contains(only, r.name) {
			continue
		}
		fmt.Fprintf(os.Stderr, "bench: %s\n", r.name)
		got, err := r.measure(b)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", r.name, err)
		}
		results = append(results, got...)
	}
	return results, nil
}
