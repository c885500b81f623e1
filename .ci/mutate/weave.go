package main

import (
	"bytes"
	"slices"
	"strconv"
	"strings"
)

// All mutants of a package are woven into its files at once, each behind its
// number, so that the tests are built one time and not once for each mutant. Until
// a mutant is asked for by its number, the code does what it did.

// asked is the variable of the environment that asks for a mutant by its number.
const asked = "ASLEFT_MUTANT"

// An edit puts a text in the place of some bytes of a file. A # in the text stands
// for the mutant's number.
type edit struct {
	at, cut int
	text    string
	closes  bool // it ends what an edit before it began
}

// weave is a file with these mutants in it, in the order in which they were found,
// the outer before the inner.
func weave(src []byte, all []mutant) []byte {
	type numbered struct {
		edit
		n int
	}
	var edits []numbered
	for _, m := range all {
		for _, e := range m.edits {
			edits = append(edits, numbered{e, m.number})
		}
	}
	// At one place what is inner ends first, then what is outer begins first.
	slices.SortStableFunc(edits, func(a, b numbered) int {
		switch {
		case a.at != b.at:
			return a.at - b.at
		case a.closes != b.closes && a.closes:
			return -1
		case a.closes != b.closes:
			return 1
		case a.closes:
			return b.n - a.n
		}
		return a.n - b.n
	})
	var out bytes.Buffer
	done := 0
	for _, e := range edits {
		out.Write(src[done:e.at])
		out.WriteString(strings.ReplaceAll(e.text, "#", strconv.Itoa(e.n)))
		done = e.at + e.cut
	}
	out.Write(src[done:])
	return out.Bytes()
}

// helpers are the functions that stand for what may change.
var helpers = map[string]string{
	"&&": "mutantAnd", "||": "mutantOr", "<": "mutantLess", "<=": "mutantLessEqual", ">": "mutantGreater", ">=": "mutantGreaterEqual",
	"min": "mutantMin", "max": "mutantMax",
}

// helperFile is the file with the helpers, for a package of that name.
func helperFile(name string) []byte {
	return []byte("package " + name + `

import (
	"cmp"
	"os"
	"slices"
	"strconv"
)

var mutantNow = func() int { n, _ := strconv.Atoi(os.Getenv("` + asked + `")); return n }()

func mutantOn(n int) bool { return mutantNow == n }

func mutantAnd(n int, a bool, b func() bool) bool {
	if mutantOn(n) {
		return a || b()
	}
	return a && b()
}

func mutantOr(n int, a bool, b func() bool) bool {
	if mutantOn(n) {
		return a && b()
	}
	return a || b()
}

func mutantLess[T cmp.Ordered](n int, a, b T) bool { return a < b || mutantOn(n) && a == b }

func mutantLessEqual[T cmp.Ordered](n int, a, b T) bool { return a < b || !mutantOn(n) && a == b }

func mutantGreater[T cmp.Ordered](n int, a, b T) bool { return a > b || mutantOn(n) && a == b }

func mutantGreaterEqual[T cmp.Ordered](n int, a, b T) bool { return a > b || !mutantOn(n) && a == b }

func mutantMin[T cmp.Ordered](n int, all ...T) T {
	if mutantOn(n) {
		return slices.Max(all)
	}
	return slices.Min(all)
}

func mutantMax[T cmp.Ordered](n int, all ...T) T {
	if mutantOn(n) {
		return slices.Min(all)
	}
	return slices.Max(all)
}
`)
}
