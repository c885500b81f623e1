package photo

import (
	"bytes"
	"encoding/binary"
	"errors"
	"hash/crc32"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

func TestForeignFilesAreNamed(t *testing.T) {
	const box = "\x00\x00\x00\x18"
	cases := []struct {
		name, data string
		kind       error
		says       string
	}{
		{"empty", "", ErrNotPhoto, "empty"},
		{"HEIC", box + "ftypheic\x00\x00\x00\x00mif1heic", ErrHEIC, "Most Compatible"},
		{"HEIC that leads with its container", box + "ftypmif1\x00\x00\x00\x00mif1heic", ErrHEIC, "Most Compatible"},
		{"HEIC burst", box + "ftyphevc\x00\x00\x00\x00msf1hevc", ErrHEIC, "Most Compatible"},
		{"HEIC cut short", box + "ftypmif1", ErrHEIC, "Most Compatible"},
		{"AVIF", box + "ftypavif\x00\x00\x00\x00mif1avif", ErrNotPhoto, "AVIF"},
		{"AVIF that leads with its container", box + "ftypmif1\x00\x00\x00\x00mif1avif", ErrNotPhoto, "AVIF"},
		{"WebP", "RIFF\x10\x00\x00\x00WEBPVP8 ", ErrNotPhoto, "WebP"},
		{"GIF", "GIF89a\x01\x00\x01\x00", ErrNotPhoto, "GIF"},
		{"TIFF", "II*\x00\x08\x00\x00\x00", ErrNotPhoto, "TIFF"},
		{"TIFF, other order", "MM\x00*\x00\x00\x00\x08", ErrNotPhoto, "TIFF"},
		{"BMP", "BM\x46\x00\x00\x00", ErrNotPhoto, "BMP"},
		{"PDF", "%PDF-1.7\n", ErrNotPhoto, "PDF"},
		{"video", box + "ftypisom\x00\x00\x02\x00", ErrNotPhoto, "video"},
		{"ZIP", "PK\x03\x04\x14\x00", ErrNotPhoto, "ZIP"},
		{"text", "# Pulled the head\n\nValve 2 burnt ½ through.\n", ErrNotPhoto, "text file"},
		{"text cut in a character", strings.Repeat("x", 511) + "½" + "y", ErrNotPhoto, "text file"},
		{"web page", "<!DOCTYPE html><html>", ErrNotPhoto, "text file"},
		{"noise", "\x01\x02\x03\x04\x05\x06\x07\x08\x09", ErrNotPhoto, "01 02 03 04 05 06 07 08)"},
		{"one byte", "\xff", ErrNotPhoto, "(it begins with ff)"},
		{"half a JPEG mark", "\xff\xd8", ErrNotPhoto, "ff d8"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			_, err := Look([]byte(c.data))
			wantRefusal(t, err, c.kind, c.says)
			if !errors.Is(err, ErrNotPhoto) {
				t.Error("not an ErrNotPhoto")
			}
			if _, err := Make([]byte(c.data)); err == nil {
				t.Error("Make took it")
			}
		})
	}
}

func wantRefusal(t *testing.T, err, kind error, says string) {
	t.Helper()
	if !errors.Is(err, kind) {
		t.Fatalf("got %v, want the kind %q", err, kind)
	}
	var refusal *Refusal
	if !errors.As(err, &refusal) || !strings.Contains(refusal.Says, says) {
		t.Errorf("says %q, want a word about %q", err, says)
	}
}

// jpegClaim is the head of a JPEG that claims a size and holds nothing.
func jpegClaim(w, h int) []byte {
	sof := []byte{8, 0, 0, 0, 0, 3, 1, 0x22, 0, 2, 0x11, 1, 3, 0x11, 1}
	binary.BigEndian.PutUint16(sof[1:], uint16(h))
	binary.BigEndian.PutUint16(sof[3:], uint16(w))
	head := withSegment([]byte("\xff\xd8\xff\xda\x00\x0c\x03\x01\x00\x02\x00\x03\x00\x00\x3f\x00\x00"), 0xc0, string(sof))
	return withSegment(head, 0xe0, "JFIF\x00\x01\x01\x00\x00\x01\x00\x01\x00\x00")
}

// pngClaim is the head of a PNG that claims a size and holds nothing.
func pngClaim(w, h uint32) []byte {
	chunk := []byte("IHDR")
	chunk = binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint32(chunk, w), h)
	chunk = append(chunk, 8, 2, 0, 0, 0)
	file := append([]byte("\x89PNG\r\n\x1a\n"), 0, 0, 0, 13)
	return binary.BigEndian.AppendUint32(append(file, chunk...), crc32.ChecksumIEEE(chunk))
}

func TestHostileHeads(t *testing.T) {
	cases := []struct {
		name string
		data []byte
		kind error
		says string
	}{
		{"JPEG claims 2500 megapixels", jpegClaim(50000, 50000), ErrSize, "50000 x 50000"},
		{"JPEG claims all there is", jpegClaim(65535, 65535), ErrSize, "65535 x 65535"},
		{"JPEG one pixel row too many", jpegClaim(10000, 8001), ErrSize, "megapixels"},
		{"JPEG of no width", jpegClaim(0, 100), ErrSize, "no width"},
		{"JPEG of no height", jpegClaim(100, 0), ErrSize, "no height"},
		{"PNG claims 2500 megapixels", pngClaim(50000, 50000), ErrSize, "50000 x 50000"},
		{"PNG of no width", pngClaim(0, 7), ErrSize, "no width"},
		{"PNG of no height", pngClaim(7, 0), ErrSize, "no height"},
		{"PNG with the sign bit", pngClaim(0x80000000, 7), ErrSize, "2147483648 x 7"},
		{"PNG too long for a JPEG", pngClaim(65536, 2), ErrSize, "65535"},
		{"PNG with the longest sides", pngClaim(0xffffffff, 0xffffffff), ErrSize, "megapixels"},
		{"PNG just over 80 megapixels", pngClaim(10000, 8001), ErrSize, "80 megapixels"},
		{"JPEG mark only", []byte("\xff\xd8\xff"), ErrDamaged, "cut short"},
		{"PNG mark only", []byte("\x89PNG\r\n\x1a\n"), ErrDamaged, "cut short"},
		{"JPEG cut in its head", jpegClaim(100, 100)[:30], ErrDamaged, "cut short"},
		{"PNG cut in its head", pngClaim(100, 100)[:30], ErrDamaged, "cut short"},
		{"JPEG with 12 bits", bytes.Replace(jpegClaim(16, 16), []byte("\x08\x00\x10"), []byte("\x0c\x00\x10"), 1), ErrUnsupported, "ordinary JPEG"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			_, err := Look(c.data)
			wantRefusal(t, err, c.kind, c.says)
			_, err = Make(c.data)
			wantRefusal(t, err, c.kind, c.says)
		})
	}
}

func TestSizeLimitIsInclusive(t *testing.T) {
	info, err := Look(jpegClaim(10000, 8000))
	if err != nil || info.Width*info.Height != MaxPixels {
		t.Errorf("80 megapixels exactly: got %+v, %v", info, err)
	}
	if info, err = Look(jpegClaim(65535, 1220)); err != nil || info.Width != 65535 {
		t.Errorf("the longest side: got %+v, %v", info, err)
	}
}

func TestSizes(t *testing.T) {
	cases := []struct {
		w, h int
		want []Size
	}{
		{4032, 3024, []Size{{400, 300}, {800, 600}, {1600, 1200}}},
		{3024, 4032, []Size{{400, 534}, {800, 1066}, {1600, 2134}}},
		{1600, 1200, []Size{{400, 300}, {800, 600}, {1600, 1200}}},
		{1000, 750, []Size{{400, 300}, {800, 600}, {1000, 750}}},
		{800, 1, []Size{{400, 1}, {800, 1}}},
		{801, 600, []Size{{400, 300}, {800, 600}, {801, 600}}},
		{801, 601, []Size{{400, 300}, {800, 600}, {801, 601}}},
		{1601, 3, []Size{{400, 1}, {800, 2}, {1600, 2}}},
		{400, 300, []Size{{400, 300}}},
		{300, 900, []Size{{300, 900}}},
		{1, 1, []Size{{1, 1}}},
		{65535, 1, []Size{{400, 1}, {800, 1}, {1600, 1}}},
		{0, 10, nil},
		{10, 0, nil},
	}
	for _, c := range cases {
		if diff := cmp.Diff(c.want, Sizes(Info{Width: c.w, Height: c.h})); diff != "" {
			t.Errorf("%d x %d (-want, +got):\n%s", c.w, c.h, diff)
		}
	}
}

// No photo is enlarged, none changes its shape by more than a pixel, and the
// widths ascend to the photo's own or 1600.
func TestSizesNeverEnlarge(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		info := Info{Width: rapid.IntRange(1, 65535).Draw(t, "width"), Height: rapid.IntRange(1, 65535).Draw(t, "height")}
		sizes := Sizes(info)
		if last := sizes[len(sizes)-1].Width; last != min(info.Width, 1600) {
			t.Fatalf("largest is %d wide", last)
		}
		previous := 0
		for _, s := range sizes {
			if s.Width <= previous || s.Width > info.Width || s.Height > info.Height || s.Height < 1 {
				t.Fatalf("%+v from %d x %d, after width %d", s, info.Width, info.Height, previous)
			}
			exact := float64(info.Height) * float64(s.Width) / float64(info.Width)
			if d := float64(s.Height) - exact; d < -1 || d > 1 {
				t.Fatalf("%+v: the exact height is %f", s, exact)
			}
			if s.Width < info.Width && s.Height > 1 && s.Height%2 != 0 {
				t.Fatalf("%+v of %d x %d: rows without a partner", s, info.Width, info.Height)
			}
			previous = s.Width
		}
	})
}

func TestKey(t *testing.T) {
	a, b := Key([]byte("a")), Key([]byte("b"))
	if a == b || len(a) != 16 || strings.Trim(a, "0123456789abcdef") != "" || a != Key([]byte("a")) {
		t.Errorf("keys %q and %q", a, b)
	}
}
