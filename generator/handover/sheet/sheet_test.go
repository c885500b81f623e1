package sheet

import (
	"bytes"
	"fmt"
	"image"
	"image/jpeg"
	"slices"
	"strings"
	"testing"
	"time"
	"unicode"
	"unicode/utf8"

	"pgregory.net/rapid"
)

func begun(t testing.TB, paper Paper) *Sheet {
	t.Helper()
	s, err := New(paper, About{Title: "A sheet", Lang: "en", Created: time.Date(2026, 3, 2, 0, 0, 0, 0, time.UTC)})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func plainFoot(page, of int) (string, string) { return fmt.Sprintf("page %d of %d", page, of), "code" }

// A line is never longer than the width, and no sign is lost.
func TestWrap(t *testing.T) {
	s := begun(t, Letter)
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringOf(rapid.RuneFrom([]rune("abcW ij.-±Ωžя \t\n"))).Draw(t, "text")
		width := rapid.Float64Range(40, 400).Draw(t, "width")
		taken := rapid.Float64Range(0, 39).Draw(t, "taken")
		lines := s.wrapAfter(taken, bold, 10, width, text)
		for i, line := range lines {
			before := 0.0
			if i == 0 {
				before = taken
			}
			if long := s.long(bold, 10, line); before+long > width+0.001 {
				t.Fatalf("line %d is %.2f long, of %.2f: %q", i, before+long, width, line)
			}
		}
		squeezed := func(text string) string { return strings.Join(strings.Fields(text), "") }
		if got, want := squeezed(strings.Join(lines, " ")), squeezed(text); got != want {
			t.Fatalf("got %q, want %q", got, want)
		}
	})
}

func TestLongWordsAreBroken(t *testing.T) {
	s := begun(t, Letter)
	word := strings.Repeat("e\u0323", 200) // a letter with a mark that no single sign stands for... or does
	for _, text := range []string{strings.Repeat("w", 300), word, "a " + strings.Repeat("w", 300) + " b"} {
		for _, line := range s.wrap(regular, 10, 100, text) {
			if r, _ := utf8.DecodeRuneInString(line); unicode.Is(unicode.Mn, r) {
				t.Errorf("a mark is parted from its letter: %q", line)
			}
			if s.long(regular, 10, line) > 100 {
				t.Errorf("too long: %q", line)
			}
		}
	}
	if lines := s.wrap(regular, 10, 0.5, "ab"); len(lines) != 2 {
		t.Errorf("a width of less than a sign: %q", lines)
	}
}

func TestMissingSigns(t *testing.T) {
	s := begun(t, Letter)
	if got := s.clean(regular, "½ Ω ± µ Ž ł € я\u200b\ufe0f"); got != "½ Ω ± µ Ž ł € я" || s.Missing() {
		t.Errorf("got %q, missing %v", got, s.Missing())
	}
	if got := s.clean(bold, "a水😀b"); got != "a\ufffd\ufffdb" || !s.Missing() {
		t.Errorf("got %q, missing %v", got, s.Missing())
	}
}

// TestFlow deals many pieces out and checks every page.
func TestFlow(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, err := New(rapid.SampledFrom([]Paper{Letter, A4}).Draw(t, "paper"), About{})
		if err != nil {
			t.Fatal(err)
		}
		for range rapid.IntRange(1, 120).Draw(t, "pieces") {
			words := strings.Repeat("word ", rapid.IntRange(1, 400).Draw(t, "words"))
			switch rapid.IntRange(0, 3).Draw(t, "kind") {
			case 0:
				s.Heading("A heading")
			case 1:
				s.Statement(Statement{Text: words, Initials: "initials"})
			default:
				s.Statement(Statement{Lead: "Safety:", Text: words})
			}
		}
		s.Note("the end")
		kept := 0
		for n, page := range s.flow() {
			y := top
			for i, p := range page {
				if p.y < y-0.001 || p.y+p.height > s.paper.Height-bottom+0.001 {
					t.Fatalf("page %d: a piece from %.1f to %.1f, after %.1f", n+1, p.y, p.y+p.height, y)
				}
				y = p.y + p.height
				if p.withNext && i == len(page)-1 {
					t.Fatalf("page %d ends with a heading", n+1)
				}
				kept += len(p.draw)
			}
			if len(page) == 0 {
				t.Fatalf("page %d is empty", n+1)
			}
		}
		all := 0
		for _, p := range s.pieces {
			all += len(p.draw)
		}
		if kept != all {
			t.Fatalf("%d things to draw, %d drawn", all, kept)
		}
	})
}

func TestOneTextLongerThanAPage(t *testing.T) {
	s := begun(t, A4)
	s.Statement(Statement{Text: strings.Repeat("word ", 3000)})
	pages := s.flow()
	if len(pages) < 2 {
		t.Fatalf("%d pages", len(pages))
	}
	total := 0
	for _, page := range pages {
		for _, p := range page {
			for _, d := range p.draw {
				if w, ok := d.(words); ok {
					total += len(strings.Fields(w.text))
					if w.y < 0 || w.y > p.height {
						t.Fatalf("a line at %.1f of %.1f", w.y, p.height)
					}
				}
			}
		}
	}
	if total != 3000 {
		t.Errorf("%d words of 3000", total)
	}
}

// set is a sheet with one of everything.
func set(t testing.TB) []byte {
	t.Helper()
	var pic bytes.Buffer
	if err := jpeg.Encode(&pic, image.NewGray(image.Rect(0, 0, 60, 90)), nil); err != nil {
		t.Fatal(err)
	}
	s := begun(t, Letter)
	s.About.AttachedName, s.About.AttachedType, s.About.Attached = "a.json", "application/json", []byte(`{"a":"stream\n<< /Type /EmbeddedFile "}`)
	s.Head("Shop", "Title", "Machine", []Fact{{"Kind", "pump"}, {"A label that is very long", "a value that is longer still and wraps"}, {"Year", "1974"}}, &Code{"https://shop.example/", "page"}, pic.Bytes())
	s.Boxed("One", "Two")
	s.Bar(true)
	s.Heading("First")
	s.Statement(Statement{Text: "A statement", Heavy: true, Initials: "initials", Photos: []Photo{{pic.Bytes(), []string{"What it shows"}}}})
	s.Bar(false)
	s.Small("Small")
	s.Columns([]string{"a", "b", "c"})
	s.Lines("Buyer", "Date", "Number")
	data, err := s.PDF(plainFoot)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

func TestSameCallsSameBytes(t *testing.T) {
	if !bytes.Equal(set(t), set(t)) {
		t.Error("the same calls give other bytes")
	}
}

func TestAttachment(t *testing.T) {
	got, ok := Attachment(set(t))
	if !ok || string(got) != `{"a":"stream\n<< /Type /EmbeddedFile "}` {
		t.Errorf("got %q, %v", got, ok)
	}
	for _, none := range []string{"", "%PDF-1.7", "<< /Type /EmbeddedFile >>", "<< /Type /EmbeddedFile /Length 99 >>\nstream\nshort", "<< /Type /EmbeddedFile /Length 99999999999999999999 >>\nstream\n"} {
		if got, ok := Attachment([]byte(none)); ok {
			t.Errorf("%q holds %q", none, got)
		}
	}
}

func TestBadThings(t *testing.T) {
	for name, add := range map[string]func(*Sheet){
		"a photo that is none": func(s *Sheet) { s.Statement(Statement{Text: "a", Photos: []Photo{{[]byte("x"), nil}}}) },
		"a code too long":      func(s *Sheet) { s.Head("", "a", "", nil, &Code{strings.Repeat("x", 5000), ""}, nil) },
	} {
		s := begun(t, Letter)
		add(s)
		if _, err := s.PDF(plainFoot); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
	if _, err := completed([]byte("%PDF-1.7"), About{}); err == nil {
		t.Error("something that is no PDF was completed")
	}
}

// Every page carries its foot, and what the first page says comes first.
func TestFootOnEveryPage(t *testing.T) {
	s := begun(t, Letter)
	for range 200 {
		s.Note("A line.")
	}
	var feet []string
	if _, err := s.PDF(func(page, of int) (string, string) {
		feet = append(feet, fmt.Sprintf("%d of %d", page, of))
		return "left", "right"
	}); err != nil {
		t.Fatal(err)
	}
	var want []string
	for n := range feet {
		want = append(want, fmt.Sprintf("%d of %d", n+1, len(feet)))
	}
	if len(feet) < 3 || !slices.Equal(feet, want) {
		t.Errorf("got %v, want %v", feet, want)
	}
}

// pageOf is the page on which a piece with that text stands.
func pageOf(s *Sheet, text string) int {
	for n, page := range s.flow() {
		for _, p := range page {
			for _, d := range p.draw {
				if w, ok := d.(words); ok && strings.HasPrefix(w.text, text) {
					return n + 1
				}
			}
		}
	}
	return 0
}

// What is kept stays on one page with what follows it: lines to sign on never stand
// alone, whatever is above them.
func TestLinesNeverStandAlone(t *testing.T) {
	turned := false
	rapid.Check(t, func(t *rapid.T) {
		s, err := New(rapid.SampledFrom([]Paper{Letter, A4}).Draw(t, "paper"), About{})
		if err != nil {
			t.Fatal(err)
		}
		for range rapid.IntRange(0, 60).Draw(t, "above") {
			s.Note("some text above the terms")
		}
		s.Keep(true)
		s.Heading("Terms")
		for range rapid.IntRange(1, 5).Draw(t, "terms") {
			s.Statement(Statement{Text: "one of the terms"})
		}
		s.Note("the last of the terms")
		s.Keep(false)
		s.Lines("Buyer", "Date")
		heading, last, lines := pageOf(s, "Terms"), pageOf(s, "the last"), pageOf(s, "Buyer")
		if heading != lines || last != lines || lines == 0 {
			t.Fatalf("the heading is on page %d, the last of the terms on %d, the lines on %d", heading, last, lines)
		}
		turned = turned || lines > 1
	})
	if !turned {
		t.Error("none of them needed a second page")
	}
}

func TestTurn(t *testing.T) {
	s := begun(t, A4)
	s.Note("front")
	s.Turn()
	s.Heading("Second")
	s.Note("under it")
	if front, second, under := pageOf(s, "front"), pageOf(s, "Second"), pageOf(s, "under it"); front != 1 || second != 2 || under != 2 {
		t.Errorf("pages %d, %d, %d", front, second, under)
	}
}

// A front sheet with a great deal on it still stands on one page, and one with
// little is set in the type that is easiest to read.
func TestPageIsOnePage(t *testing.T) {
	for name, lines := range map[string]int{"little": 2, "much": 6} {
		s := begun(t, Letter)
		s.Head("Shop", "Condition report", "Machine", []Fact{{"Kind", "pump"}, {"Price", "$40.00"}}, nil, nil)
		s.Boxed("Sealed", "How to check it")
		var parts []Part
		for i := range 8 {
			p := Part{Title: fmt.Sprintf("Question %d", i+1)}
			for range lines {
				p.Lines = append(p.Lines, "A line that names a thing or two of the machine, as long as most of them are")
			}
			parts = append(parts, p)
		}
		s.Page(parts)
		s.Turn()
		s.Note("the report")
		if pages := s.flow(); len(pages) != 2 || pageOf(s, "Question 8") != 1 || pageOf(s, "the report") != 2 {
			t.Errorf("%s: %d pages, the last question on page %d", name, len(pages), pageOf(s, "Question 8"))
		}
		smallest := 99.0
		for _, p := range s.pieces {
			for _, d := range p.draw {
				if w, ok := d.(words); ok && strings.HasPrefix(w.text, "A line") {
					smallest = min(smallest, w.size)
				}
			}
		}
		if lines == 2 && smallest != 10 || lines > 2 && (smallest >= 10 || smallest < partSizes[len(partSizes)-1]) {
			t.Errorf("%s: set in %.1f points", name, smallest)
		}
	}
}

// A long name neither runs over the code at the foot nor, where it leads a
// reading, out of the paper.
func TestLongNamesStayInTheirPlace(t *testing.T) {
	s := begun(t, Letter)
	name := strings.Repeat("a long name of a machine ", 12)
	lines, size := s.footLines(400, name)
	if len(lines) != 2 || strings.Join(lines, " ") != strings.TrimSpace(name) {
		t.Errorf("the foot has %d lines at %.1f points: %q", len(lines), size, lines)
	}
	for _, line := range lines {
		if long := s.long(regular, size, line); long > 400 {
			t.Errorf("a line of the foot is %.1f long, of 400: %q", long, line)
		}
	}
	s.Statement(Statement{Lead: name, Text: "Last: 0.0345 in."})
	for _, d := range s.pieces[0].draw {
		if w, ok := d.(words); ok && w.x+s.long(w.face, w.size, w.text) > s.width()+0.001 {
			t.Errorf("runs out of the paper: %q", w.text)
		}
	}
}
