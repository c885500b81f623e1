package main

import (
	"bytes"
	"os"
	"path"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// A printed block of the README stands in by four spaces and more; before is the
// paragraph above it.
type printed struct {
	heading, before string
	lines           []string
}

// blocks are the README's own, in order, each without what it stands in by.
func blocks(t *testing.T) (all []printed) {
	t.Helper()
	data, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	heading, before, margin := "", "", 0
	for line := range strings.Lines(string(data)) {
		line = strings.TrimRight(line, "\n")
		text := strings.TrimLeft(line, " ")
		indent := len(line) - len(text)
		switch {
		case text == "":
			margin = 0
		case indent >= 4:
			if margin == 0 {
				margin = indent
				all = append(all, printed{heading: heading, before: before})
			}
			if indent < margin {
				t.Fatalf("a block that begins further in than it goes on: %q", line)
			}
			b := &all[len(all)-1]
			b.lines = append(b.lines, line[margin:])
		default:
			before, margin = text, 0
			if strings.HasPrefix(text, "#") {
				heading = strings.TrimLeft(text, "# ")
			}
		}
	}
	return all
}

var fileName = regexp.MustCompile("`([a-z0-9/.-]+\\.md)`")

// typed types a block as it is printed: one of fields is the file that the text above it
// names last, any other is commands.
func (p printed) typed(t *testing.T, shop string) {
	t.Helper()
	if p.lines[0] == "---" {
		names := fileName.FindAllStringSubmatch(p.before, -1)
		if len(names) == 0 {
			t.Fatalf("nothing names the file of this block: %q", p.before)
		}
		writeFile(t, shop, names[len(names)-1][1], strings.Join(p.lines, "\n")+"\n")
		return
	}
	for _, line := range p.lines {
		args := strings.Fields(line)
		if args[0] != "asleft" {
			t.Fatalf("a line that is no command of ours: %q", line)
		}
		var out, wrong bytes.Buffer
		if status := run(args[1:], streams{strings.NewReader(""), &out, &wrong}); status != fine {
			t.Errorf("%s: exit %d\n%s%s", line, status, out.String(), wrong.String())
		}
	}
}

// What the README prints for a newcomer is typed into an empty folder as it is
// printed, in its order.
func TestTheReadmesTenMinutes(t *testing.T) {
	all := blocks(t)
	t.Chdir(t.TempDir())
	files, commands := 0, 0
	for _, b := range all {
		if !strings.HasPrefix(b.heading, "Ten minutes") {
			continue
		}
		b.typed(t, ".")
		if b.lines[0] == "---" {
			files++
		} else {
			commands++
		}
	}
	if files < 3 || commands < 2 {
		t.Errorf("%d files and %d commands: the walk-through was not found", files, commands)
	}
	front, err := os.ReadFile("site/index.html")
	if err != nil || !bytes.Contains(front, []byte("Harrow tiller")) {
		t.Errorf("the first page: %v\n%s", err, front)
	}
	story, err := os.ReadFile("site/machines/harrow/index.html")
	if err != nil || !bytes.Contains(story, []byte("It was not pretty.")) {
		t.Errorf("the machine's page: %v", err)
	}
}

// Every other block of the README is one that a test knows: what makes the example
// is run as it is printed, and each command of the list is there with its flags.
func TestTheReadmesOtherBlocks(t *testing.T) {
	all := blocks(t)
	seen := map[string]bool{}
	for _, b := range all {
		seen[b.heading] = true
		switch {
		case strings.HasPrefix(b.heading, "Ten minutes"): // typed above
		case b.heading == "The commands":
			listed(t, b.lines)
		case b.heading == "Two commands" && slices.Equal(b.lines, []string{"go test ./..."}): // this very test
		case b.heading == "Two commands":
			args, ours := strings.CutPrefix(b.lines[0], "go run ./cmd/asleft ")
			if !ours || len(b.lines) > 1 {
				t.Errorf("no test types %q", b.lines)
				continue
			}
			makeExample(t, strings.Fields(args))
		default:
			t.Errorf("no test types the block below %q: %q", b.heading, b.lines)
		}
	}
	for _, heading := range []string{"Two commands", "The commands"} {
		if !seen[heading] {
			t.Errorf("no block below %q", heading)
		}
	}
}

// makeExample makes the site of a copy of the example.
func makeExample(t *testing.T, args []string) {
	t.Helper()
	dir := t.TempDir()
	if err := os.CopyFS(path.Join(dir, "content-example"), os.DirFS("../../content-example")); err != nil {
		t.Fatal(err)
	}
	t.Chdir(dir)
	var out, wrong bytes.Buffer
	if status := run(args, streams{strings.NewReader(""), &out, &wrong}); status != fine {
		t.Errorf("asleft %q: exit %d\n%s", args, status, wrong.String())
	}
	if _, err := os.Stat("site/index.html"); err != nil {
		t.Error(err)
	}
}

var flagInText = regexp.MustCompile(`--([a-z-]+)`)

// listed wants each command of a list to be one, with the flags that its line names.
func listed(t *testing.T, lines []string) {
	t.Helper()
	root := newRoot(streams{strings.NewReader(""), &bytes.Buffer{}, &bytes.Buffer{}})
	for _, line := range lines {
		name := strings.Fields(line)
		if name[0] != "asleft" {
			t.Errorf("no command: %q", line)
			continue
		}
		if name[1] == "help" {
			name = name[1:]
		}
		c, _, err := root.Find(name[1:2])
		if err != nil || c == root {
			t.Errorf("asleft has no command %q: %v", name[1], err)
			continue
		}
		for _, f := range flagInText.FindAllStringSubmatch(line, -1) {
			if c.Flags().Lookup(f[1]) == nil {
				t.Errorf("asleft %s has no --%s", name[1], f[1])
			}
		}
	}
}
