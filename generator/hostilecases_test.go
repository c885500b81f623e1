package generator_test

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"
	"github.com/spf13/afero"

	"asleft/themes"
)

// hostile is where the cases are; its README.md describes the form.
const hostile = "../testdata/hostile"

// A hostileCase is one payload in one context.
type hostileCase struct {
	context, name string
	problem       string            // part of the problem it must end in; empty for a safe page
	payload       []byte            // what takes the place of @@ and @q
	absent        bool              // the file with the payload is left out
	files         map[string]string // the context's own files
	number        int
}

// hostileCases are all cases, in the order of the files.
func hostileCases(t testing.TB) []hostileCase {
	t.Helper()
	archives, err := filepath.Glob(hostile + "/*.txtar")
	if err != nil || len(archives) < 8 {
		t.Fatalf("%d archives, %v", len(archives), err)
	}
	var all []hostileCase
	for _, name := range archives {
		archive, err := txtar.ParseFile(name)
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, casesOf(t, strings.TrimSuffix(filepath.Base(name), ".txtar"), archive)...)
	}
	return all
}

func casesOf(t testing.TB, context string, archive *txtar.Archive) []hostileCase {
	t.Helper()
	files, seen := map[string]string{}, map[string]bool{}
	var all []hostileCase
	for _, f := range archive.Files {
		if name, own := strings.CutPrefix(f.Name, "+"); own {
			files[name] = string(f.Data)
			continue
		}
		name, outcome, ok := strings.Cut(f.Name, " => ")
		problem, isProblem := strings.CutPrefix(outcome, "problem: ")
		if !ok || !isProblem && outcome != "safe" || seen[name] || isProblem && problem == "" {
			t.Fatalf("%s: the case %q is named twice or has no outcome", context, f.Name)
		}
		if !isProblem {
			problem = ""
		}
		seen[name] = true
		c := hostileCase{context: context, name: name, problem: problem, files: files, number: len(all)}
		c.payload, c.absent = payload(t, f.Data)
		all = append(all, c)
	}
	if len(all) == 0 {
		t.Fatalf("%s has no cases", context)
	}
	return all
}

// payload is the data of a case: as it stands, without the last line end, or,
// where it begins with "= ", put together from instructions.
func payload(t testing.TB, data []byte) (made []byte, absent bool) {
	t.Helper()
	if !bytes.HasPrefix(data, []byte("= ")) {
		return bytes.TrimSuffix(data, []byte("\n")), false
	}
	for line := range strings.Lines(string(data)) {
		do, rest, _ := strings.Cut(strings.TrimSpace(strings.TrimPrefix(line, "= ")), " ")
		if do == "absent" {
			return nil, true
		}
		made = instruct(t, made, do, rest)
	}
	return made, false
}

// instruct carries out one instruction: text and repeat add a quoted Go string,
// jpeg, png, jpegclaim and pngclaim a picture, segment and chunk put something
// into the picture so far, cut shortens it, patch writes over bytes of it.
func instruct(t testing.TB, made []byte, do, rest string) []byte {
	t.Helper()
	first, more, _ := strings.Cut(rest, " ")
	switch do {
	case "text":
		return append(made, unquoted(t, rest)...)
	case "repeat":
		return append(made, strings.Repeat(unquoted(t, more), whole(t, first))...)
	case "jpeg", "png":
		return append(made, pictureOf(t, do, whole(t, first), whole(t, more))...)
	case "jpegclaim":
		return append(made, claimedJPEG(whole(t, first), whole(t, more))...)
	case "pngclaim":
		return append(made, claimedPNG(whole(t, first), whole(t, more))...)
	case "segment":
		marker, err := strconv.ParseUint(first, 16, 8)
		if err != nil {
			t.Fatal(err)
		}
		return withJPEGSegment(made, byte(marker), unquoted(t, more))
	case "chunk":
		return withPNGChunk(made, first, unquoted(t, more))
	case "cut":
		return made[:whole(t, first)]
	case "patch":
		copy(made[whole(t, first):], unquoted(t, more))
		return made
	}
	t.Fatalf("there is no instruction %q", do)
	return nil
}

func unquoted(t testing.TB, s string) string {
	t.Helper()
	text, err := strconv.Unquote(s)
	if err != nil {
		t.Fatalf("%q: %v", s, err)
	}
	return text
}

func whole(t testing.TB, s string) int {
	t.Helper()
	n, err := strconv.Atoi(strings.TrimSpace(s))
	if err != nil {
		t.Fatal(err)
	}
	return n
}

func pictureOf(t testing.TB, format string, w, h int) []byte {
	t.Helper()
	pic := image.NewRGBA(image.Rect(0, 0, w, h))
	for i := range pic.Pix {
		pic.Pix[i] = byte(i * 7)
	}
	pic.Set(0, 0, color.White)
	var b bytes.Buffer
	var err error
	if format == "png" {
		err = png.Encode(&b, pic)
	} else {
		err = jpeg.Encode(&b, pic, nil)
	}
	if err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// withJPEGSegment is a JPEG with a segment more after its start.
func withJPEGSegment(data []byte, marker byte, body string) []byte {
	head := []byte{0xff, marker, 0, 0}
	binary.BigEndian.PutUint16(head[2:], uint16(len(body)+2)) //nolint:gosec // bodies are short
	return append(append(append([]byte{}, data[:2]...), append(head, body...)...), data[2:]...)
}

// withPNGChunk is a PNG with a chunk more after its header.
func withPNGChunk(data []byte, name, body string) []byte {
	const header = 8 + 25 // signature and IHDR
	return append(append(append([]byte{}, data[:header]...), pngChunk(name, body)...), data[header:]...)
}

func pngChunk(name, body string) []byte {
	chunk := binary.BigEndian.AppendUint32(nil, uint32(len(body))) //nolint:gosec // bodies are short
	chunk = append(chunk, name+body...)
	return binary.BigEndian.AppendUint32(chunk, crc32.ChecksumIEEE(chunk[4:]))
}

// claimedJPEG is the head of a JPEG that claims a size.
func claimedJPEG(w, h int) []byte {
	frame := []byte{0xff, 0xd8, 0xff, 0xe0, 0, 16, 'J', 'F', 'I', 'F', 0, 1, 1, 0, 0, 1, 0, 1, 0, 0, 0xff, 0xc0, 0, 11, 8, byte(h >> 8), byte(h), byte(w >> 8), byte(w), 1, 1, 0x11, 0}
	return append(frame, 0xff, 0xd9)
}

func claimedPNG(w, h int) []byte {
	head := binary.BigEndian.AppendUint32(nil, uint32(w)) //nolint:gosec // a test's own number
	head = binary.BigEndian.AppendUint32(head, uint32(h)) //nolint:gosec // as above
	data := append([]byte("\x89PNG\r\n\x1a\n"), pngChunk("IHDR", string(head)+"\x08\x02\x00\x00\x00")...)
	return append(data, pngChunk("IEND", "")...)
}

// baseShop is the shop around every case, as files with places for a payload:
// every text field of every kind of file has one.
var baseShop = sync.OnceValue(func() map[string]string {
	archive, err := txtar.ParseFile(hostile + "/base.txt")
	if err != nil {
		panic(err)
	}
	files := map[string]string{}
	for _, f := range archive.Files {
		files[f.Name] = string(f.Data)
	}
	var b bytes.Buffer
	pic := image.NewRGBA(image.Rect(0, 0, 64, 48))
	for i := range pic.Pix {
		pic.Pix[i] = byte(i * 5)
	}
	if err := jpeg.Encode(&b, pic, nil); err != nil {
		panic(err)
	}
	files["machines/m/photos/a.jpg"] = b.String()
	return files
})

// shop is the case's shop folder. Only the files of its context hold the
// payload, unless it has none of its own: then all fields of the base do.
func (c hostileCase) shop(t testing.TB) afero.Fs {
	t.Helper()
	return filled(t, c, string(c.payload), c.absent)
}

func filled(t testing.TB, c hostileCase, payload string, absent bool) afero.Fs {
	t.Helper()
	folder := afero.NewMemMapFs()
	put := func(name, text, payload string) {
		name = strings.ReplaceAll(name, "@@", payload)
		text = strings.NewReplacer("@@", payload, "@q", quotedYAML(payload), "@p", reasonOf(payload), "@n", strconv.Itoa(c.number)).Replace(text)
		if err := afero.WriteFile(folder, name, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	for name, text := range baseShop() {
		if _, own := c.files[name]; own {
			continue
		}
		if len(c.files) == 0 {
			put(name, text, payload)
		} else {
			put(name, text, "three plain words")
		}
	}
	if c.files["themes/own/story.html"]+c.files["themes/own/style.css"] != "" {
		copyTheme(t, folder)
	}
	for name, text := range c.files {
		if absent && strings.Contains(text, "@@") {
			if err := folder.RemoveAll(name); err != nil {
				t.Fatal(err)
			}
			continue
		}
		if strings.TrimSuffix(text, "\n") == "@@" {
			text = "@@" // the file is the payload to the byte
		}
		put(name, text, payload)
	}
	return folder
}

// copyTheme puts a built-in theme into the shop, for the case to spoil.
func copyTheme(t testing.TB, folder afero.Fs) {
	t.Helper()
	entries, err := themes.Built.ReadDir("jobcard")
	if err != nil || len(entries) < 5 {
		t.Fatalf("%d files, %v", len(entries), err)
	}
	for _, e := range entries {
		data, err := themes.Built.ReadFile("jobcard/" + e.Name())
		if err != nil {
			t.Fatal(err)
		}
		if err := afero.WriteFile(folder, "themes/own/"+e.Name(), data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// quotedYAML is a text in YAML's double quotes.
func quotedYAML(s string) string {
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`, "\n", `\n`, "\t", `\t`, "\r", `\r`).Replace(s) + `"`
}
