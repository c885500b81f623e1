package benchtest

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"github.com/yuin/goldmark"
)

// BenchmarkJudge10000 judges ten thousand tests, of all kinds in turn.
func BenchmarkJudge10000(b *testing.B) {
	all := examplesOf(b)
	for b.Loop() {
		for n := range 10_000 {
			x := all[n%len(all)]
			if _, problems := x.judge(x.test.Inputs); len(problems) > 0 {
				b.Fatal(problems)
			}
		}
	}
}

// BenchmarkMarkdown10000 renders the Markdown of one page for each of ten
// thousand machines, to hold the other benchmark against: a page is the story
// of a machine of the example shop, from its first entry to its last.
func BenchmarkMarkdown10000(b *testing.B) {
	stories := storiesOf(b)
	md, out := goldmark.New(), &bytes.Buffer{}
	for b.Loop() {
		for n := range 10_000 {
			for _, body := range stories[n%len(stories)] {
				out.Reset()
				if err := md.Convert(body, out); err != nil {
					b.Fatal(err)
				}
			}
		}
	}
}

// storiesOf are the bodies of the example shop's entries, machine by machine.
func storiesOf(b *testing.B) [][][]byte {
	b.Helper()
	machines, err := filepath.Glob("../../content-example/machines/*")
	if err != nil || len(machines) == 0 {
		b.Fatalf("no machines in the example shop: %v", err)
	}
	var stories [][][]byte
	for _, machine := range machines {
		files, err := filepath.Glob(filepath.Join(machine, "*.md"))
		if err != nil || len(files) == 0 {
			b.Fatalf("no entries in %s: %v", machine, err)
		}
		var story [][]byte
		for _, file := range files {
			text, err := os.ReadFile(file)
			if err != nil {
				b.Fatal(err)
			}
			if _, body, ok := bytes.Cut(text, []byte("\n---\n")); ok {
				story = append(story, body)
			}
		}
		stories = append(stories, story)
	}
	return stories
}
