package photo

import (
	"bytes"
	"encoding/binary"
	"errors"
	"strings"
	"testing"
	"time"
)

// passes is a progressive JPEG of one gray component, w x h, with its flat parts and
// then n passes, nearly all over one sample of each block, which say in the fewest bytes there
// are that nothing changes.
func passes(w, h, n int) []byte {
	out := []byte("\xff\xd8")
	segment := func(marker byte, body []byte) {
		out = append(out, 0xff, marker)
		out = binary.BigEndian.AppendUint16(out, uint16(len(body)+2))
		out = append(out, body...)
	}
	segment(0xdb, append([]byte{0}, bytes.Repeat([]byte{8}, 64)...))
	frame := []byte{8}
	frame = binary.BigEndian.AppendUint16(frame, uint16(h))
	frame = binary.BigEndian.AppendUint16(frame, uint16(w))
	segment(markSOF2, append(frame, 1, 1, 0x11, 0))
	// One code of one bit each: category 0 for the flat part; and for the rest a run
	// of 2^14 blocks or more that have nothing (ITU-T T.81, G.1.2.2).
	segment(markDHT, append([]byte{0x00, 1}, append(make([]byte, 15), 0)...))
	segment(markDHT, append([]byte{0x10, 1}, append(make([]byte, 15), 0xe0)...))
	blocks := ((w + 7) / 8) * ((h + 7) / 8)
	segment(markSOS, []byte{1, 1, 0, 0, 0, 0})
	out = append(out, make([]byte, (blocks+7)/8)...)
	runs := (blocks + 1<<14 - 1) >> 14
	for i := range n {
		from, to := byte(i%63+1), byte(i%63+1)
		if i == 0 {
			to = 63
		}
		segment(markSOS, []byte{1, 1, 0, from, to, 0})
		out = append(out, make([]byte, (15*runs+7)/8)...) // a code and 14 bits, all zero
	}
	return append(out, 0xff, 0xd9)
}

// TestPassesAreBounded counts passes and work, and no seconds.
func TestPassesAreBounded(t *testing.T) {
	honest := passes(1600, 1200, 20)
	if _, err := Make(honest); err != nil {
		t.Fatalf("20 passes over one sample each: %v", err)
	}
	attack := passes(1600, 1200, 700)
	for name, read := range map[string]func([]byte) error{
		"Look": func(b []byte) error { _, err := Look(b); return err },
		"Make": func(b []byte) error { _, err := Make(b); return err },
	} {
		if err := read(attack); !errors.Is(err, ErrUnsupported) || !strings.Contains(err.Error(), "passes") {
			t.Errorf("%s: got %v", name, err)
		}
	}
	if e := effortOf(attack); e.scans > maxScans+1 || e.work > maxWork*e.blocks+e.blocks*(blockVisit+64) {
		t.Errorf("counting went on after the bound: %+v", e)
	}
}

// TestWorkOfTheUsualPasses holds the unit: what the usual ten passes ask for is
// what usualWork says, and no more is refused than asks for three times that.
func TestWorkOfTheUsualPasses(t *testing.T) {
	build := func(scans ...string) []byte {
		file := []byte("\xff\xd8\xff\xd9")
		for i := len(scans) - 1; i >= 0; i-- {
			file = withSegment(file, markSOS, "\x01\x01\x00"+scans[i])
		}
		return withSegment(file, markSOF2, "\x08\x02\x58\x03\x20\x01\x01\x11\x00") // 800 x 600
	}
	usual := []string{"\x00\x00\x01", "\x01\x05\x02", "\x06\x3f\x02", "\x01\x3f\x21", "\x00\x00\x10", "\x01\x3f\x10"}
	e := effortOf(build(usual...))
	if e.blocks != 100*75 || e.work != usualWork*e.blocks || e.tooMuch() {
		t.Errorf("the usual passes: %+v", e)
	}
	thrice := append(append(append([]string{}, usual...), usual...), usual...)
	if e := effortOf(build(thrice...)); e.tooMuch() {
		t.Errorf("three times the usual passes: %+v", e)
	}
	if e := effortOf(build(append(thrice, "\x01\x01\x00")...)); !e.tooMuch() {
		t.Errorf("one more than three times: %+v", e)
	}
}

// TestPartsAreBounded: a plain JPEG whose pixels come again and again, and files
// with more parts or tables than any has.
func TestPartsAreBounded(t *testing.T) {
	plain := asJPEG(t, scene(64, 48), 90)
	sos := bytes.Index(plain, []byte("\xff\xda"))
	again := bytes.Clone(plain[:len(plain)-2])
	for range 3 {
		again = append(again, plain[sos:len(plain)-2]...)
	}
	again = append(again, 0xff, 0xd9)
	many, tables, notes := bytes.Clone(plain), bytes.Clone(plain), bytes.Clone(plain)
	part := strings.Repeat("\xff\xe5\x00\x02", maxSegments)
	many = append(append(append([]byte{}, many[:2]...), part...), many[2:]...)
	table := "\xff\xc4\x00\x15\x03\x01" + strings.Repeat("\x00", 15) + "\x00\x00"
	tables = append(append(append([]byte{}, tables[:2]...), strings.Repeat(table, maxTables/19+1)...), tables[2:]...)
	notes = append(append(append([]byte{}, notes[:2]...), strings.Repeat("\xff\xe1\x00\x0aExif\x00\x00MM", 5000)...), notes[2:]...)
	for name, c := range map[string]struct {
		data []byte
		ok   bool
	}{
		"as it is":                      {plain, true},
		"the pixels four times":         {again, false},
		"twenty thousand parts":         {many, false},
		"a megabyte of code tables":     {tables, false},
		"five thousand parts with Exif": {notes, true},
	} {
		_, err := Make(c.data)
		if (err == nil) != c.ok || err != nil && !errors.Is(err, ErrUnsupported) {
			t.Errorf("%s: got %v", name, err)
		}
	}
}

// TestHugeExifIsPassedOver: a directory that claims, or has, tags without end.
func TestHugeExifIsPassedOver(t *testing.T) {
	var tags bytes.Buffer
	tags.WriteString("MM\x00*\x00\x00\x00\x08\xff\xff")
	for range 0xffff {
		tags.WriteString("\x90\x03\x00\x02\x7f\xff\xff\xff\x00\x00\x00\x08")
	}
	tags.WriteString("\x00\x00\x00\x08") // the next directory is this one again
	png := withChunk(asPNG(t, scene(64, 48)), "eXIf", tags.String())
	info, err := Look(png)
	if err != nil || !info.Taken.IsZero() || info.Orientation != 1 {
		t.Errorf("got %+v, %v", info, err)
	}
}

// BenchmarkOddPhotos puts odd photos beside honest ones of their size in one run:
// each may cost three times as much at most. Read the times as ratios.
func BenchmarkOddPhotos(b *testing.B) {
	const w, h = 4000, 3000
	honest := passes(w, h, 10)
	for _, c := range []struct {
		name string
		data []byte
	}{
		{"baseline, honest", asJPEG(b, scene(w, h), 92)},
		{"progressive, honest", blockJPEG{sampling: []byte{0x22, 0x11, 0x11}, progressive: true, adobe: -1, samples: samplesYCbCr}.encode(scene(w, h))},
		{"progressive, ten passes", honest},
		{"progressive, as many passes as are read", passes(w, h, (maxWork-2*blockVisit-64)/(blockVisit+1)+1)},
		{"progressive, 700 passes", passes(w, h, 700)},
		{"cut in half", honest[:len(honest)/2]},
	} {
		b.Run(c.name, func(b *testing.B) {
			begun := time.Now()
			for b.Loop() {
				_, _ = Make(c.data) // refused or not, it is the time that counts
			}
			b.ReportMetric(float64(time.Since(begun).Nanoseconds())/float64(b.N)/(w*h), "ns/pixel")
		})
	}
}
