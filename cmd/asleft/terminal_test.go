package main

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"

	"asleft/generator/catalog"
)

// hostileNames are names of files that would command a terminal, turn a line
// around or begin a line of their own.
var hostileNames = []string{"\x1b[2J\x1b[31mred.md", "\x1b]0;title\x07.md", "a\u009b31m.md", "a\x9b31m.md", "\u202edm.krow.md", "\u2066a\u2069.md", "\u2068\u05d0.md", "\u05d0\u2069b.md", "\u2068\u2069\u05d0\u2069\u2068.md", "a\nshop.md: all is well.md", "a\rb.md", "a\x08\x08b.md", "a\x7f.md"}

// Whatever the shop's files are named and hold, no command prints what a
// terminal would act upon.
func TestNothingCommandsTheTerminal(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("Windows has no such names")
	}
	dir, out := t.TempDir(), t.TempDir()
	plainShop(t, dir, "a", "b")
	for _, name := range hostileNames {
		writeFile(t, dir, "machines/a/"+name, "---\ndate: 2026-03-02\ntitle: \"\\e[31mred\"\n\x1b[31m: x\n---\n")
		writeFile(t, dir, "machines/b/x-"+strings.TrimSuffix(name, ".md")+"/e.md", "x")
		writeFile(t, dir, "machines/"+name, "x")
		writeFile(t, dir, "machines/k-"+name+"/machine.md", "---\nname: x\narrived: 2026-01-01\n---\n")
		writeFile(t, dir, "sheets/"+name, "---\nsheet: \"\x1b[31m\"\n---\n")
		writeFile(t, dir, "handovers/"+name+".json", `{"format": "`+"\x1b[31m"+`"}`)
	}
	report := filepath.Join(out, "\x1b[31mreport\u202e.json")
	if err := os.WriteFile(report, []byte(`{"facts":{"record":{"machine":{"key":"a","name":"\u001b[31mred\u202e"}},"sealed":"2026-03-02"}}`), 0o600); err != nil {
		t.Fatal(err)
	}
	said := 0
	for _, args := range [][]string{
		{"inspect"}, {"inspect", "--json"}, {"tally"}, {"tally", "--json"}, {"tally", "--csv"}, {"tally", "\x1b[31m"},
		{"writeup", "--out", filepath.Join(out, "site")}, {"writeup", "--json", "--out", filepath.Join(out, "site")}, {"writeup", "--theme", "\x1b[31m\u202e"},
		{"log", "\x1b[31m", "--title", "x"}, {"log", "a", "--title", "\x1b[31mx", "--part", "\x1b[31m"}, {"log", "a", "--title", "x", "--photos", "\x1b[31m.jpg"}, {"open", "\x1b[31m"}, {"handover", "\x1b[31m", "--buyer-copy", out}, {"handover", "a", "--yes", "--buyer-copy", out},
		{"vouch", report}, {"vouch", "--json", report}, {"vouch", "\x1b[31m"}, {"\x1b[31m"}, {"open", "new", "--name", "\x1b[31mred"}, {"open", "n2", "--kind", "\x9b31m\u2028x", "--name", "x"}, {"listing", "\x1b[31m"}, {"listing", "a"}, {"manual", "\x1b[31m"}, {"help", "\x1b[31m"}, {"help", "fields", "\x1b[31m"}, {"fields", "\x1b[31m"},
		{"desk", "--theme", "\x1b[31m\u202e"}, {"desk", "--port", "\x1b[31m"}, {"writeup", "--out", "\x1b[31m/\u202e/x"}, {"inspect", "\x1b[31m\x9b"}, {"tally", "--\x1b[31m"}, {"log", "a", "--edit", "--text-file", "\x1b[31m"}, {"log", "a", "--defect", "\x1b[31mred; \u2028", "--title", "t"}, {"completion", "\x1b[31m"}, {"__complete", "log", "\x1b[31m"}, {"__complete", "log", ""}, {"handover", "a", "--key", "\x1b[31m"},
		{"inspect", "--shop", "\x1b[31m\u202enowhere"}, {"open", "--shop", "\x1b[31m", "x"}, {"--\x1b[31m"}, {"theme", "copy", "\x1b[31m", out},
	} {
		var answer, printed bytes.Buffer
		run(append([]string{"--shop", dir}, args...), streams{strings.NewReader(""), &answer, &printed})
		if slices.Contains(args, "--json") && !json.Valid(answer.Bytes()) {
			t.Errorf("%q prints no JSON", args)
		}
		printed.Write(answer.Bytes())
		said += printed.Len()
		if !catalog.Balanced(printed.String()) {
			t.Errorf("%q prints an isolate without its end, or an end too many: %q", args, printed.String())
		}
		for i, r := range printed.String() {
			if r != '\n' && r != '\t' && r != 0x2068 && r != 0x2069 && printable(string(r)) != string(r) {
				t.Errorf("%q prints %U: %q", args, r, around(printed.String(), i))
				break
			}
		}
		if strings.Contains(printed.String(), "\nshop.md: all is well") {
			t.Errorf("%q prints a line that is a file's name", args)
		}
	}
	if said < 5000 {
		t.Errorf("only %d bytes were printed", said)
	}
}

// TestCleanedWriter: characters that come in parts come out whole, and what is no
// character is told from what is.
func TestCleanedWriter(t *testing.T) {
	for in, want := range map[string]string{
		"plain\n\tline\n": "plain\n\tline\n", "a\x1b[31mb": "a?[31mb", "\u05d0": "\u05d0", "\u202ea": "?a", "a\u2028b": "a?b",
		"a\x9bb": "a\ufffdb", "caf\xc3": "caf\ufffd", "a\rb\x00": "a?b?", "\u2068\u05d0\u2069": "\u2068\u05d0\u2069", "\U0001f527": "\U0001f527",
	} {
		for size := 1; size <= len(in); size++ {
			if strings.Contains(in, "\u2068") && size < len(in) {
				continue // an isolate counts in what is written at a time
			}
			var out bytes.Buffer
			c := &cleaned{w: &out}
			for part := range slices.Chunk([]byte(in), size) {
				if n, err := c.Write(part); n != len(part) || err != nil {
					t.Fatalf("%q: wrote %d, %v", in, n, err)
				}
			}
			c.flush()
			if out.String() != want {
				t.Errorf("%q, %d bytes at a time: got %q, want %q", in, size, out.String(), want)
			}
		}
	}
}

// TestEveryCommandPrintsCleaned has no command write past the cleaned writers.
func TestEveryCommandPrintsCleaned(t *testing.T) {
	var out, wrong bytes.Buffer
	root := newRoot(clean(streams{strings.NewReader(""), &out, &wrong}))
	for _, c := range append(root.Commands(), root) {
		for name, w := range map[string]any{"out": c.OutOrStdout(), "err": c.ErrOrStderr()} {
			if _, ok := w.(*cleaned); !ok {
				t.Errorf("%s writes its %s to a %T", c.Name(), name, w)
			}
		}
	}
	files, err := filepath.Glob("*.go")
	if err != nil || len(files) == 0 {
		t.Fatal(err)
	}
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		data = bytes.ReplaceAll(data, []byte("os.Stdout.Stat()"), nil) // what it is may be asked
		if file != "main.go" && !strings.HasSuffix(file, "_test.go") && (bytes.Contains(data, []byte("os.Stdout")) || bytes.Contains(data, []byte("os.Stderr"))) {
			t.Errorf("%s writes past the cleaned writers", file)
		}
	}
}

func around(s string, at int) string { return s[max(0, at-60):min(len(s), at+30)] }
