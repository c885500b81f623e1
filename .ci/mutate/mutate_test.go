package main

import (
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"
)

// changes are the changes to one function body, without the function's name.
func changes(t *testing.T, body string) []string {
	t.Helper()
	var all []string
	for _, m := range found(t, body) {
		all = append(all, strings.TrimPrefix(m.change, "f: "))
	}
	return all
}

func found(t *testing.T, body string) []mutant {
	t.Helper()
	all, err := mutants("p/a.go", []byte(wrap(body)))
	if err != nil {
		t.Fatal(err)
	}
	return all
}

func wrap(body string) string { return "package p\n\nfunc f() {\n\t" + body + "\n}\n" }

func TestOperators(t *testing.T) {
	for _, tc := range []struct {
		name, body string
		want       []string
	}{
		{"equality", "_ = a == b", []string{"a == b -> a != b"}},
		{"inequality", "_ = a != b", []string{"a != b -> a == b"}},
		{"less", "_ = a < b", []string{"a < b -> a <= b"}},
		{"less or equal", "_ = a <= b", []string{"a <= b -> a < b"}},
		{"greater", "_ = a > b", []string{"a > b -> a >= b"}},
		{"greater or equal", "_ = a >= b", []string{"a >= b -> a > b"}},
		{"and", "_ = a && b", []string{"a && b -> a || b"}},
		{"or", "_ = a || b", []string{"a || b -> a && b"}},
		{"one of three", "_ = a && b && c", []string{"a && b && c -> a && b || c", "a && b -> a || b"}},
		{"arithmetic is left alone", "_ = a + b", nil},
		{"not", "_ = !a", []string{"!a -> a"}},
		{"a minus is left alone", "_ = -a", nil},
		{"an if", "if a() {\n\t}", []string{"if a() -> true", "if a() -> false"}},
		{"an if with a statement before it", "if a := b(); a {\n\t}", []string{"if a -> true", "if a -> false"}},
		{"a for", "for a() {\n\t}", []string{"for a() -> true", "for a() -> false"}},
		{"a for without a condition", "for {\n\t}", nil},
		{"a range", "for range a {\n\t}", nil},
		{"a case", "switch {\n\tcase a():\n\t}", []string{"case a() -> true", "case a() -> false"}},
		{"each of two in a case", "switch {\n\tcase a, b:\n\t}", []string{"case a -> true", "case a -> false", "case b -> true", "case b -> false"}},
		{"a default", "switch {\n\tdefault:\n\t}", nil},
		{"a case of a value", "switch a {\n\tcase b:\n\t}", nil},
		{"a bool returned", "return true", []string{"true -> false"}},
		{"a bool declared", "a := false", []string{"false -> true"}},
		{"a bool assigned", "a = false", []string{"a = false taken out", "false -> true"}},
		{"continue", "for {\n\t\tcontinue\n\t}", []string{"continue taken out"}},
		{"break in a case", "switch a {\n\tcase b:\n\t\tbreak\n\t}", []string{"break taken out"}},
		{"fallthrough is left alone", "switch a {\n\tcase b:\n\t\tfallthrough\n\tcase c:\n\t}", nil},
		{"a call", "a.b(c)", []string{"a.b(c) taken out"}},
		{"a call in a select", "select {\n\tcase <-a:\n\t\tb()\n\t}", []string{"b() taken out"}},
		{"an append", "a = append(a, b)", []string{"a = append(a, b) taken out"}},
		{"an assignment", "a = b", []string{"a = b taken out"}},
		{"a sum", "a += b", []string{"a += b taken out"}},
		{"a declaration is left alone", "a := b", nil},
		{"an assignment before a condition is left alone", "for a = b; ; a = c {\n\t}", nil},
		{"min", "_ = min(a, b)", []string{"min(a, b) -> max(a, b)"}},
		{"max", "_ = max(a, b)", []string{"max(a, b) -> min(a, b)"}},
		{"a min of somebody's own is left alone", "_ = a.min(b)", nil},
		{"what stands on two lines is told on one", "_ = a ==\n\t\tb", []string{"a == b -> a != b"}},
	} {
		t.Run(tc.name, func(t *testing.T) {
			got := changes(t, tc.body)
			got = slices.DeleteFunc(got, func(c string) bool { return strings.HasPrefix(c, "_ = ") }) // that of the test's own frame
			if !slices.Equal(got, tc.want) {
				t.Errorf("the changes are %q, want %q", got, tc.want)
			}
		})
	}
}

// TestWoven: with its mutants woven in, a program does what it did, and with each
// of them what a program with that one change does. The go command is the witness.
func TestWoven(t *testing.T) {
	const program = `package main

import "fmt"

type day string

var table = map[string]bool{"a": true, "b": false}

func three(a, b, c bool) bool {
	return a && !b ||
		c && (a == b)
}

func main() {
	sum := 0
	for i := 0; i < 3; i++ {
		if i == 1 && table["a"] {
			sum += 10
			continue
		}
		sum += max(i, 2) + min(1, i)
	}
	switch {
	case sum <= 14, day("a") > day("b"):
		fmt.Print("low ")
	case !table["b"]:
		fmt.Print("high ")
	}
	for n := range 8 {
		fmt.Print(three(n&1 != 0, n&2 != 0, n >= 4), " ")
	}
	if sum > 100 {
		panic("much")
	}
	fmt.Println(sum)
}
`
	dir := t.TempDir()
	put := func(name string, data []byte) {
		t.Helper()
		if err := os.WriteFile(filepath.Join(dir, name), data, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	command := func(env string, args ...string) string {
		t.Helper()
		ctx, cancel := context.WithTimeout(t.Context(), 30*time.Second)
		defer cancel()
		cmd := exec.CommandContext(ctx, args[0], args[1:]...)
		cmd.Dir, cmd.Env = dir, append(os.Environ(), asked+"="+env)
		out, err := cmd.CombinedOutput()
		if err != nil {
			return "failed: " + string(out)
		}
		return string(out)
	}
	put("go.mod", []byte("module woven\n\ngo 1.26\n"))
	put("main.go", []byte(program))
	before := command("0", "go", "run", ".")
	all, err := mutants("main.go", []byte(program))
	if err != nil {
		t.Fatal(err)
	}
	for i := range all {
		all[i].number = i + 1
	}
	put("main.go", weave([]byte(program), all))
	put("helpers.go", helperFile("main"))
	if out := command("0", "go", "build", "-o", "woven", "."); strings.Contains(out, "failed") {
		t.Fatal(out)
	}
	if got := command("0", "./woven"); got != before || got == "" {
		t.Errorf("without a mutant it prints %q, before %q", got, before)
	}
	// What each change does, worked out by hand on the program above.
	for change, want := range map[string]string{
		"main: i < 3 -> i <= 3":                              "high false true false false true true false true 19\n",
		"main: i == 1 -> i != 1":                             "high false true false false true true false true 23\n",
		`main: i == 1 && table["a"] -> i == 1 || table["a"]`: "high false true false false true true false true 30\n",
		"main: continue taken out":                           "high false true false false true true false true 18\n",
		"the package: true -> false":                         "low false true false false true true false true 8\n",
		"main: max(i, 2) -> min(i, 2)":                       "low false true false false true true false true 13\n",
		"main: sum <= 14 -> sum < 14":                        before,
		"three: !b -> b":                                     "high false false false true true false false true 15\n",
		"three: a == b -> a != b":                            "high false true false false false true true false 15\n",
	} {
		n := slices.IndexFunc(all, func(m mutant) bool { return m.change == change })
		if n < 0 {
			t.Errorf("there is no change %q", change)
			continue
		}
		if got := command(strconv.Itoa(n+1), "./woven"); got != want {
			t.Errorf("%s: it prints %q, want %q", change, got, want)
		}
	}
}

func TestWhereAMutantIs(t *testing.T) {
	for _, tc := range []struct {
		src, function string
		line          int
	}{
		{"package p\n\nvar a = b == c // why\n", "the package", 3},
		{"package p\n\nfunc g() {\n\n\t_ = b == c // why\n}\n", "g", 5},
		{"package p\n\nfunc (x *y) h() {\n\t_ = b == c // why\n}\n", "h", 4},
	} {
		all, err := mutants("p/a.go", []byte(tc.src))
		if err != nil {
			t.Fatal(err)
		}
		m := all[len(all)-1]
		if m.file != "p/a.go" || m.line != tc.line || m.change != tc.function+": b == c -> b != c" || !strings.HasSuffix(m.source, "= b == c // why") || m.source[0] == '\t' {
			t.Errorf("found %+v", m)
		}
	}
	if _, err := mutants("p/a.go", []byte("package p\nfunc {")); err == nil {
		t.Error("what is no Go has no error")
	}
}

func TestSpread(t *testing.T) {
	all := make([]mutant, 10)
	for i := range all {
		all[i].line = i
	}
	for _, tc := range []struct {
		n    int
		want []int
	}{
		{0, []int{0, 1, 2, 3, 4, 5, 6, 7, 8, 9}}, {10, []int{0, 1, 2, 3, 4, 5, 6, 7, 8, 9}}, {11, []int{0, 1, 2, 3, 4, 5, 6, 7, 8, 9}},
		{1, []int{0}}, {3, []int{0, 3, 6}},
	} {
		var lines []int
		for _, m := range spread(all, tc.n) {
			lines = append(lines, m.line)
		}
		if !slices.Equal(lines, tc.want) {
			t.Errorf("%d of ten are %v, want %v", tc.n, lines, tc.want)
		}
	}
}

func TestEquivalent(t *testing.T) {
	m := mutant{name: name{"p/a.go", "if a {", "f: if a -> true"}}
	other := mutant{name: name{"p/a.go", "if a {", "f: if a -> false"}}
	same, err := equivalent("# comment\n\np/a.go\tif a {\tf: if a -> true\tnobody sees it\n")
	if err != nil || !same[m.name] || len(same) != 1 {
		t.Fatalf("%v, %v", same, err)
	}
	for _, tc := range []struct {
		name string
		all  []mutant
		want int
	}{
		{"one", []mutant{m, other}, 0}, {"none", []mutant{other}, 1}, {"two", []mutant{m, m}, 1},
		{"a file that was not read", []mutant{{name: name{file: "q/b.go"}}}, 0},
	} {
		if says := doubtful(same, tc.all); len(says) != tc.want {
			t.Errorf("%s: doubts are %q", tc.name, says)
		}
	}
	for _, bad := range []string{"p/a.go\tif a {\tf: if a -> true", "p/a.go\tif a {\tf: if a -> true\t "} {
		if _, err := equivalent(bad); err == nil || !strings.HasPrefix(err.Error(), "1: ") {
			t.Errorf("%q gives %v", bad, err)
		}
	}
}

func TestTotals(t *testing.T) {
	if none := (&totals{}); none.percent() != 100 || none.err(100) != nil {
		t.Error("no mutants at all")
	}
	plain, same := mutant{name: name{"p/a.go", "if a {", "f: if a -> true"}, line: 3}, mutant{name: name{change: "f: b"}}
	all := totals{same: map[name]bool{same.name: true}}
	for m, fates := range map[*mutant][]fate{&plain: {killed, killed, killed, survived}, &same: {survived}} {
		for _, f := range fates {
			all.count(*m, f)
		}
	}
	var out strings.Builder
	all.print(&out)
	want := "p/a.go:3\n\tf: if a -> true\n\tif a {\n4 mutants: 3 killed, 1 survived; besides 1 that change nothing\n75.0 % killed\n"
	if out.String() != want {
		t.Errorf("it prints\n%swant\n%s", out.String(), want)
	}
	if all.err(75) != nil {
		t.Error(all.err(75))
	}
	if all.err(75.1) == nil {
		t.Error("too few is no error")
	}
	if all.count(same, killed); all.err(0) == nil {
		t.Error("one that is said to change nothing and is killed is no error")
	}
}

// The tests that notice most are run first, and the others only if they pass; what a
// test drew by chance is not kept.
func TestFirst(t *testing.T) {
	for _, tc := range []struct {
		p     goPackage
		calls []string
	}{
		{goPackage{}, []string{"-test.failfast -test.timeout 1m0s"}},
		{goPackage{rapid: true}, []string{"-test.failfast -test.timeout 1m0s -rapid.nofailfile"}},
		{goPackage{first: "TestGood"}, []string{"-test.failfast -test.timeout 1m0s -test.run TestGood", "-test.failfast -test.timeout 1m0s"}},
		{goPackage{first: "TestBad"}, []string{"-test.failfast -test.timeout 1m0s -test.run TestBad"}},
	} {
		tc.p.dir = t.TempDir()
		bin := filepath.Join(tc.p.dir, "tests")
		if err := os.WriteFile(bin, []byte("#!/bin/sh\necho \"$*\" >>calls\ncase \"$*\" in *TestBad*) exit 1; esac\n"), 0o700); err != nil {
			t.Fatal(err)
		}
		_, err := tc.p.test(bin, 7)
		calls, _ := os.ReadFile(filepath.Join(tc.p.dir, "calls"))
		if got := strings.Split(strings.TrimSpace(string(calls)), "\n"); !slices.Equal(got, tc.calls) || (err != nil) != (tc.p.first == "TestBad") {
			t.Errorf("%+v: %q, %v", tc.p, got, err)
		}
	}
}
