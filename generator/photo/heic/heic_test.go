package heic_test

import (
	"bytes"
	"context"
	"encoding/binary"
	"image"
	"image/color"
	"image/jpeg"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"asleft/generator/photo"
	"asleft/generator/photo/heic"
	"asleft/generator/testenv"
)

// withExif is a JPEG of w x h pixels, red on the left and blue on the right,
// with an Exif orientation, and times where they are given.
func withExif(t testing.TB, w, h int, orientation uint16) []byte {
	t.Helper()
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			img.Set(x, y, color.RGBA{R: 200, A: 255})
			if x >= w/2 {
				img.Set(x, y, color.RGBA{B: 200, A: 255})
			}
		}
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, &jpeg.Options{Quality: 95}); err != nil {
		t.Fatal(err)
	}
	tiff := []byte("MM\x00*\x00\x00\x00\x08\x00\x01\x01\x12\x00\x03\x00\x00\x00\x01\x00\x00\x00\x00\x00\x00\x00\x00")
	binary.BigEndian.PutUint16(tiff[18:], orientation)
	body := append([]byte("Exif\x00\x00"), tiff...)
	segment := append(binary.BigEndian.AppendUint16([]byte{0xff, 0xe1}, uint16(len(body)+2)), body...)
	return append(append([]byte("\xff\xd8"), segment...), b.Bytes()[2:]...)
}

// container is a container without pixels: what it says of its main picture.
func container(w, h int, irot ...byte) []byte {
	box := func(kind string, body ...byte) []byte {
		return append(binary.BigEndian.AppendUint32(nil, uint32(8+len(body))), append([]byte(kind), body...)...)
	}
	join := func(parts ...[]byte) []byte { return bytes.Join(parts, nil) }
	size := binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint32(make([]byte, 4), uint32(w)), uint32(h))
	properties, indices := box("ispe", size...), []byte{1}
	if len(irot) > 0 {
		properties, indices = append(properties, box("irot", irot...)...), []byte{1, 0x82}
	}
	ipma := append([]byte{0, 0, 0, 0, 0, 0, 0, 1, 0, 7, byte(len(indices))}, indices...)
	meta := join([]byte{0, 0, 0, 0}, box("pitm", 0, 0, 0, 0, 0, 7), box("iprp", join(box("ipco", properties...), box("ipma", ipma...))...))
	return join(box("ftyp", []byte("heic\x00\x00\x00\x00mif1heic")...), box("meta", meta...))
}

// converter is a program that does what a converter may do.
func converter(t *testing.T, script string) string {
	t.Helper()
	if runtime.GOOS == "windows" {
		t.Skip("the converters of this test are shell scripts")
	}
	file := filepath.Join(t.TempDir(), "heif-convert")
	if err := os.WriteFile(file, []byte("#!/bin/sh\n"+script+"\n"), 0o700); err != nil {
		t.Fatal(err)
	}
	return file
}

// writes is a converter that writes this picture.
func writes(t *testing.T, picture []byte) string {
	t.Helper()
	file := filepath.Join(t.TempDir(), "picture.jpg")
	if err := os.WriteFile(file, picture, 0o600); err != nil {
		t.Fatal(err)
	}
	return converter(t, `cp '`+file+`' "$4"`)
}

func TestConvertedPhotosLieAsTheContainerSays(t *testing.T) {
	for _, tc := range []struct {
		name      string
		heic      []byte
		converter string
		fails     string
		note      string
	}{
		{"turned, Exif as it was", container(60, 40, 3), writes(t, withExif(t, 40, 60, 6)), "", ""},
		{"turned, Exif put right", container(60, 40, 3), writes(t, withExif(t, 40, 60, 1)), "", ""},
		{"not turned although asked", container(60, 40, 3), writes(t, withExif(t, 60, 40, 6)), "does not lie the way", ""},
		{"no turn asked for", container(60, 40), writes(t, withExif(t, 60, 40, 1)), "", ""},
		{"only Exif asks", container(60, 40), writes(t, withExif(t, 60, 40, 6)), "", "command.heic-exif-only"},
		{"another size", container(60, 40), writes(t, withExif(t, 30, 20, 1)), "does not lie the way", ""},
		{"no size", []byte("\x00\x00\x00\x18ftypheic\x00\x00\x00\x00mif1heic"), writes(t, withExif(t, 60, 40, 1)), "how large", ""},
		{"no JPEG", container(60, 40), writes(t, []byte("text")), "is no JPEG", ""},
		{"numbered pictures", container(60, 40), converter(t, "exit 0"), "several pictures", ""},
		{"a converter that fails", container(60, 40), converter(t, "echo 'no decoder' >&2; exit 1"), "no decoder", ""},
	} {
		t.Run(tc.name, func(t *testing.T) {
			picture, note, err := heic.Convert(context.Background(), tc.converter, tc.heic)
			if tc.fails != "" {
				if err == nil || !strings.Contains(err.Error(), tc.fails) {
					t.Fatalf("got %v, want %q", err, tc.fails)
				}
				return
			}
			if err != nil || note != tc.note {
				t.Fatalf("got %q, %v, want note %q", note, err, tc.note)
			}
			if info, err := photo.Look(picture); err != nil || info.Orientation != 1 {
				t.Errorf("orientation %d, %v", info.Orientation, err)
			}
		})
	}
}

// The real converter turns a picture whose container asks for it; then the
// left, red half is at the top, and nothing turns it once more.
func TestRealConverter(t *testing.T) {
	encode, convert := testenv.Program(t, "heif-enc"), testenv.Program(t, "heif-convert")
	dir := t.TempDir()
	in, out := filepath.Join(dir, "in.jpg"), filepath.Join(dir, "out.heic")
	if err := os.WriteFile(in, withExif(t, 256, 128, 6), 0o600); err != nil {
		t.Fatal(err)
	}
	if said, err := exec.Command(encode, "-q", "90", "-o", out, in).CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, said)
	}
	data, err := os.ReadFile(out)
	if err != nil {
		t.Fatal(err)
	}
	// The encoder writes no turn. Its property of 8 bits a channel (pixi), which
	// nothing needs, has the room for one: a quarter, clockwise.
	at := bytes.Index(data, []byte("pixi"))
	if at < 0 {
		t.Fatal("the encoder wrote no pixi")
	}
	turned := bytes.Clone(data)
	copy(turned[at:], "irot\x03")
	if w, h, turns, err := heic.LieOf(turned); w != 128 || h != 256 || !turns || err != nil {
		t.Fatalf("read as %d x %d, turns %v, %v", w, h, turns, err)
	}
	picture, note, err := heic.Convert(context.Background(), convert, turned)
	if err != nil || note != "" {
		t.Fatalf("note %q, %v", note, err)
	}
	clean, err := photo.Make(picture)
	if err != nil {
		t.Fatal(err)
	}
	seen, err := jpeg.Decode(bytes.NewReader(clean.Renditions[0].JPEG))
	if err != nil {
		t.Fatal(err)
	}
	b := seen.Bounds()
	if b.Dx() != 128 || b.Dy() != 256 {
		t.Fatalf("%d x %d pixels", b.Dx(), b.Dy())
	}
	top, _, _, _ := seen.At(64, 20).RGBA()
	_, _, bottom, _ := seen.At(64, 236).RGBA()
	if top < 0x8000 || bottom < 0x8000 {
		t.Errorf("red at the top %#x, blue at the bottom %#x", top, bottom)
	}
	// Without a turn the Exif data's is not done, and somebody is told to look.
	if _, note, err := heic.Convert(context.Background(), convert, data); err != nil || note != "command.heic-exif-only" {
		t.Errorf("note %q, %v", note, err)
	}
}

// Whatever the bytes, the answer is a size or an error.
func FuzzHEIC(f *testing.F) {
	f.Add(container(60, 40, 3))
	f.Add(container(60, 40))
	f.Add(withExif(f, 8, 8, 6))
	f.Fuzz(func(t *testing.T, data []byte) {
		if w, h, _, err := heic.LieOf(data); err == nil && (w <= 0 || h <= 0) {
			t.Errorf("a size of %d x %d", w, h)
		}
		size := len(data)
		heic.SetUpright(data)
		if len(data) != size {
			t.Error("the length changed")
		}
	})
}
