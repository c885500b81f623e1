package main

import (
	"bytes"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"asleft/generator/catalog"
)

// hostileArgs are what nobody means behind an option or a command.
var hostileArgs = map[string]string{
	"nothing": "", "a blank": "  ", "escapes": "\x1b[2J\x1b[31mred\x07", "C1": "\u009b31m", "no UTF-8": "a\xffb", "a text that turns": "\u202egnp.exe", "line ends": "a\nshop.md: all is well\r", "separators": "a\u2028b\u0085c",
	"a climb": "../../../../etc/passwd", "an absolute path": "/nowhere/at/all", "a share": `\\server\x`, "a device": "con", "a drive": "C:x", "an option": "--shop=/", "a hyphen": "-", "two hyphens": "--", "an equals sign": "=x",
	"a shell": "$(touch ZQX); `touch ZQX` | touch ZQX", "HTML": "<script>alert(1)</script>", "YAML": "x: {y: [*a, !!z]}\n---\n", "a format": "%s%n%d%!v(BADINDEX)", "less than nothing": "-99999999999999999999", "no number": "NaN", "a long one": strings.Repeat("x", 70000), "a deep one": strings.Repeat("a/", 3000),
}

// lasts are the commands that go on until somebody ends them.
var lasts = map[string]bool{"desk": true}

// TestHostileFlags gives each of them to every option of every command that takes a
// value, and to every command as its argument: it ends soon, with a status of ours, in
// words that a terminal can be given; no file is changed, and none is made but where
// the option says so.
func TestHostileFlags(t *testing.T) {
	top := t.TempDir()
	shop := filepath.Join(top, "shop")
	plainShop(t, shop, "harrow", "pump")
	writeFile(t, shop, "machines/pump/2026-03-02-a.md", "---\ndate: 2026-03-02\ntitle: T\n---\n")
	t.Setenv("XDG_CONFIG_HOME", filepath.Join(top, "settings"))
	t.Setenv("APPDATA", filepath.Join(top, "settings"))
	t.Setenv("EDITOR", "false")
	t.Setenv("VISUAL", "false")
	t.Chdir(top)
	before := map[string]string{}
	for _, name := range filesBelow(t, shop) {
		data, err := os.ReadFile(filepath.Join(shop, name))
		if err != nil {
			t.Fatal(err)
		}
		before[name] = string(data)
	}
	tried, held := map[string]int{}, map[string]int{}
	try := func(area string, args ...string) {
		tried[area]++
		var out, wrong bytes.Buffer
		began := time.Now()
		status := run(args, streams{strings.NewReader(""), &out, &wrong})
		flaw := flawIn(status, out.String()+wrong.String(), time.Since(began))
		for name, want := range before {
			if data, err := os.ReadFile(filepath.Join(shop, name)); err != nil || string(data) != want {
				flaw = name + " was changed"
				writeFile(t, shop, name, want)
			}
		}
		here, err := filepath.Glob(filepath.Join(top, "*")) // where a shell would be
		if err != nil {
			t.Fatal(err)
		}
		if name := shellWasRun(here); name != "" {
			flaw = "a shell was run: " + name
		}
		if flaw != "" {
			t.Errorf("asleft %.120q: exit %d: %s", args, status, flaw)
			return
		}
		held[area]++
	}
	var each func(c *cobra.Command, path []string)
	each = func(c *cobra.Command, path []string) {
		for _, sub := range c.Commands() {
			each(sub, append(slices.Clone(path), sub.Name()))
		}
		if !c.Runnable() || len(path) == 0 || path[0] == "completion" {
			return
		}
		needs := []string{}
		switch path[0] {
		case "log", "listing":
			needs = []string{"harrow"}
		case "open":
			needs = []string{"fresh"}
		case "handover":
			needs = []string{"harrow", "--yes"}
		case "vouch":
			needs = []string{"0123456789"}
		}
		// The first name is that of a machine from then on, in what every command says.
		for _, name := range append([]string{"line ends"}, slices.Sorted(maps.Keys(hostileArgs))...) {
			value := hostileArgs[name]
			if !lasts[path[0]] {
				try("arguments of commands", append(append(slices.Clone(path), value), "--shop", shop)...)
			}
			c.Flags().VisitAll(func(f *pflag.Flag) {
				if f.NoOptDefVal != "" || f.Name == "shop" || lasts[path[0]] && (f.Name != "port" || strings.TrimSpace(value) == "") {
					return
				}
				try("values of options", slices.Concat(path, needs, []string{"--" + f.Name + "=" + value, "--shop", shop})...)
			})
			if !lasts[path[0]] && path[0] != "manual" && path[0] != "help" && path[0] != "theme" && !strings.HasPrefix(value, "/") {
				try("folders of a shop", slices.Concat(path, needs, []string{"--shop=" + value})...)
			}
		}
	}
	each(newRoot(streams{strings.NewReader(""), &bytes.Buffer{}, &bytes.Buffer{}}), nil)
	if name := shellWasRun(filesBelow(t, top)); name != "" { // in a folder that one of them made
		t.Errorf("a shell was run: %s", name)
	}
	all := 0
	for area, n := range tried {
		t.Logf("%s: %d tried, %d held", area, n, held[area])
		all += n
	}
	if all < 800 {
		t.Errorf("only %d were tried", all)
	}
}

// shellWasRun is a file that only a shell can have made, by what it was given to run.
func shellWasRun(files []string) string {
	for _, name := range files {
		if strings.Contains(name, "ZQX") && !strings.Contains(name, "touch") {
			return name
		}
	}
	return ""
}

// flawIn is what is wrong with how a command ended; empty if nothing is.
func flawIn(status int, said string, took time.Duration) string {
	switch {
	case status < fine || status > fault:
		return "no status of ours"
	case took > time.Minute:
		return fmt.Sprintf("it took %s", took)
	case strings.Contains(said, "goroutine ") || strings.Contains(said, "runtime error"):
		return "it panicked: " + said
	case !catalog.Balanced(said):
		return fmt.Sprintf("an isolate has no end: %.300q", said)
	case strings.Contains(said, "\nshop.md: all is well"):
		return "a line is what was typed"
	}
	for _, r := range said {
		if r != '\n' && r != '\t' && r != 0x2068 && r != 0x2069 && printable(string(r)) != string(r) {
			return fmt.Sprintf("it prints %U: %.300q", r, said)
		}
	}
	return ""
}

// filesBelow are the names of the files in a folder, at any depth.
func filesBelow(t *testing.T, dir string) []string {
	t.Helper()
	var all []string
	err := filepath.WalkDir(dir, func(p string, d os.DirEntry, err error) error {
		if err == nil && !d.IsDir() {
			name, _ := filepath.Rel(dir, p)
			all = append(all, name)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return all
}
