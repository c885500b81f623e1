package photo

import (
	"encoding/binary"
	"errors"
	"fmt"
	"image"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
)

// exifField is one entry of an Exif directory; the value is a uint16, a uint32
// or text.
type exifField struct {
	tag   uint16
	value any
}

// byteOrder is both the reading and the writing half of encoding/binary's.
type byteOrder interface {
	binary.ByteOrder
	binary.AppendByteOrder
}

// exifData writes a TIFF stream as CIPA DC-008 has it: IFD0, then the Exif
// directory, the GPS directory and the interoperability directory when they
// have fields, then IFD1 (the thumbnail's) with an orientation of its own.
func exifData(order byteOrder, ifd0, exif, gps, interop []exifField) string {
	mark := "MM"
	if order == byteOrder(binary.LittleEndian) {
		mark = "II"
	}
	const pointer = 4
	room := func(fields []exifField) uint32 { // directory and long values
		n := 2 + 12*len(fields) + 4
		for _, f := range fields {
			if text, ok := f.value.(string); ok && len(text) >= 4 {
				n += len(text) + 1
			}
		}
		return uint32(n)
	}
	thumbnail := []exifField{{0x0112, uint16(3)}}
	ifd0 = append(append([]exifField{}, ifd0...), exifField{0x8769, uint32(0)}, exifField{0x8825, uint32(0)})
	exif = append(append([]exifField{}, exif...), exifField{0xa005, uint32(0)})
	at0 := uint32(8)
	atExif := at0 + room(ifd0)
	atGPS := atExif + room(exif)
	atInterop := atGPS + room(gps)
	atThumbnail := atInterop + room(interop)
	ifd0[len(ifd0)-2].value, ifd0[len(ifd0)-1].value = atExif, atGPS
	exif[len(exif)-1].value = atInterop

	out := append([]byte(mark), order.AppendUint16(nil, 42)...)
	out = order.AppendUint32(out, at0)
	write := func(fields []exifField, next uint32) {
		long := uint32(len(out) + 2 + 12*len(fields) + 4)
		var values []byte
		out = order.AppendUint16(out, uint16(len(fields)))
		for _, f := range fields {
			out = order.AppendUint16(out, f.tag)
			switch v := f.value.(type) {
			case uint16:
				out = order.AppendUint32(order.AppendUint16(out, 3), 1)
				out = append(order.AppendUint16(out, v), 0, 0)
			case uint32:
				out = order.AppendUint32(order.AppendUint16(out, pointer), 1)
				out = order.AppendUint32(out, v)
			case string:
				text := v + "\x00"
				out = order.AppendUint32(order.AppendUint16(out, 2), uint32(len(text)))
				if len(text) <= 4 {
					out = append(out, (text + "\x00\x00\x00")[:4]...)
				} else {
					out = order.AppendUint32(out, long+uint32(len(values)))
					values = append(values, text...)
				}
			}
		}
		out = append(order.AppendUint32(out, next), values...)
	}
	write(ifd0, atThumbnail)
	write(exif, 0)
	write(gps, 0)
	write(interop, 0)
	write(thumbnail, 0)
	return string(out)
}

// orientedExif has the orientation where it belongs, and another in the Exif
// directory and for the thumbnail, where it does not count.
func orientedExif(order byteOrder, orientation int) string {
	elsewhere := []exifField{{0x0112, uint16(3)}}
	return exifData(order, []exifField{{0x0112, uint16(orientation)}}, elsewhere, nil, nil)
}

// orientations is the table of CIPA DC-008 for tag 0x0112 (check values,
// section 16): which edge of the scene the first row and the first column of
// the file hold.
var orientations = []struct{ value, row0, column0 string }{
	{"1", "top", "left"},
	{"2", "top", "right"},
	{"3", "bottom", "right"},
	{"4", "bottom", "left"},
	{"5", "left", "top"},
	{"6", "right", "top"},
	{"7", "right", "bottom"},
	{"8", "left", "bottom"},
}

// stored lays a scene into a file's rows and columns as that table says.
func stored(scene *image.NRGBA, row0, column0 string) *image.NRGBA {
	w, h := scene.Rect.Dx(), scene.Rect.Dy()
	columns, rows := w, h
	if row0 == "left" || row0 == "right" {
		columns, rows = h, w
	}
	out := image.NewNRGBA(image.Rect(0, 0, columns, rows))
	for row := range rows {
		for column := range columns {
			var x, y int
			for _, step := range []struct {
				edge string
				n    int
			}{{row0, row}, {column0, column}} {
				switch step.edge {
				case "top":
					y = step.n
				case "bottom":
					y = h - 1 - step.n
				case "left":
					x = step.n
				case "right":
					x = w - 1 - step.n
				}
			}
			out.SetNRGBA(column, row, scene.NRGBAAt(x, y))
		}
	}
	return out
}

func TestEveryOrientationComesOutUpright(t *testing.T) {
	upright := quarters(600, 450)
	for i, o := range orientations {
		file := stored(upright, o.row0, o.column0)
		for name, order := range map[string]byteOrder{"II": binary.LittleEndian, "MM": binary.BigEndian} {
			exif := orientedExif(order, i+1)
			for format, data := range map[string][]byte{
				"jpeg": withSegment(asJPEG(t, file, 95), 0xe1, "Exif\x00\x00"+exif),
				"png":  withChunk(asPNG(t, file), "eXIf", exif),
			} {
				t.Run(o.value+" "+name+" "+format, func(t *testing.T) {
					checkUpright(t, data, Info{Format: format, Width: 600, Height: 450, Orientation: i + 1})
				})
			}
		}
	}
}

func checkUpright(t *testing.T, data []byte, want Info) {
	t.Helper()
	info, err := Look(data)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(want, info); diff != "" {
		t.Errorf("Look (-want, +got):\n%s", diff)
	}
	clean := mustMake(t, data)
	if clean.Width != want.Width || clean.Height != want.Height {
		t.Errorf("Make says %d x %d, want %d x %d", clean.Width, clean.Height, want.Width, want.Height)
	}
	for _, r := range clean.Renditions {
		wantQuarters(t, decodeJPEG(t, r.JPEG), quarterColors, 6)
	}
}

func TestExifTimes(t *testing.T) {
	utc := time.Date(2026, 3, 2, 18, 30, 5, 0, time.UTC)
	cases := []struct {
		name          string
		taken, offset string
		want          time.Time
		hasOffset     bool
	}{
		{"clock only", "2026:03:02 18:30:05", "", utc, false},
		{"west of Greenwich", "2026:03:02 18:30:05", "-05:00", utc.Add(5 * time.Hour), true},
		{"east, with a half hour", "2026:03:02 18:30:05", "+05:30", utc.Add(-5*time.Hour - 30*time.Minute), true},
		{"Greenwich itself", "2026:03:02 18:30:05", "+00:00", utc, true},
		{"offset of spaces", "2026:03:02 18:30:05", "   :  ", utc, false},
		{"offset beyond the world", "2026:03:02 18:30:05", "+25:00", utc, false},
		{"offset with a letter", "2026:03:02 18:30:05", "+0a:00", utc, false},
		{"clock never set", "0000:00:00 00:00:00", "", time.Time{}, false},
		{"spaces", "    :  :     :  :  ", "+01:00", time.Time{}, false},
		{"no such day", "2026:02:30 10:00:00", "", time.Time{}, false},
		{"not recorded", "", "-05:00", time.Time{}, false},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			var fields []exifField
			if c.taken != "" {
				fields = append(fields, exifField{0x9003, c.taken})
			}
			if c.offset != "" {
				fields = append(fields, exifField{0x9011, c.offset})
			}
			exif := exifData(binary.LittleEndian, nil, fields, nil, nil)
			info, err := Look(withSegment(asJPEG(t, quarters(16, 16), 80), 0xe1, "Exif\x00\x00"+exif))
			if err != nil {
				t.Fatal(err)
			}
			if !info.Taken.Equal(c.want) || info.HasOffset != c.hasOffset {
				t.Errorf("got %v, offset %v; want %v, offset %v", info.Taken, info.HasOffset, c.want, c.hasOffset)
			}
		})
	}
}

// Damage of any kind to the notes must neither lose the photo nor invent an
// orientation that no field holds.
func TestDamagedExifIsTakenAsNone(t *testing.T) {
	exif := orientedExif(binary.BigEndian, 6)
	plain := asJPEG(t, quarters(32, 16), 80)
	for cut := range len(exif) {
		info, err := Look(withSegment(plain, 0xe1, "Exif\x00\x00"+exif[:cut]))
		if err != nil {
			t.Fatalf("cut at %d: %v", cut, err)
		}
		if info.Orientation != 1 && info.Orientation != 6 {
			t.Errorf("cut at %d: orientation %d", cut, info.Orientation)
		}
	}
	for _, orientation := range []int{0, 9, 255, 65535} {
		info, err := Look(withSegment(plain, 0xe1, "Exif\x00\x00"+orientedExif(binary.BigEndian, orientation)))
		if err != nil || info.Orientation != 1 {
			t.Errorf("orientation %d: got %d, %v; want 1", orientation, info.Orientation, err)
		}
	}
}

func TestNoMetadataSurvives(t *testing.T) {
	const secret = "hidden behind the barn"
	gps := []exifField{{1, "N"}, {2, secret}, {3, "W"}}
	exif := exifData(binary.BigEndian, []exifField{{0x010e, secret}, {0x0112, uint16(6)}}, nil, gps, nil)
	data := asJPEG(t, scene(700, 500), 90)
	data = withSegment(data, 0xfe, secret)                                              // comment
	data = withSegment(data, 0xed, "Photoshop 3.0\x00"+secret)                          // IPTC
	data = withSegment(data, 0xe1, "http://ns.adobe.com/xap/1.0/\x00<x>"+secret+"</x>") // XMP
	data = withSegment(data, 0xe2, "ICC_PROFILE\x00\x01\x01"+srgbProfile())
	data = withSegment(data, 0xe1, "Exif\x00\x00"+exif)
	data = append(data, secret...) // behind the end, where phones put videos
	asChunks := asPNG(t, scene(700, 500))
	for _, chunk := range []string{"tEXt", "eXIf", "zzZz"} {
		asChunks = withChunk(asChunks, chunk, "Comment\x00"+secret)
	}
	for name, file := range map[string][]byte{"jpeg": data, "png": asChunks} {
		if n := strings.Count(string(file), secret); n < 3 {
			t.Fatalf("%s: the test's photo holds the secret only %d times", name, n)
		}
		for _, r := range mustMake(t, file).Renditions {
			wantBare(t, r.JPEG)
			if strings.Contains(string(r.JPEG), secret) {
				t.Errorf("%s, %d wide: the secret survived", name, r.Width)
			}
		}
	}
}

// wantBare fails when a JPEG has any segment besides tables, frame and scan and
// the fixed one by which it calls itself a JPEG (JFIF 1.02: version 1.1, square
// pixels, no thumbnail), or one byte behind its end.
func wantBare(t testing.TB, file []byte) {
	t.Helper()
	if err := bare(file); err != nil {
		t.Error(err)
	}
}

func bare(file []byte) error {
	const app0, dqt, jfif = 0xe0, 0xdb, "JFIF\x00\x01\x01\x00\x00\x01\x00\x01\x00\x00"
	seen := 0
	for marker, body := range jpegSegments(file) {
		seen++
		if marker == app0 && seen == 1 && string(body) == jfif {
			continue
		}
		if marker != dqt && marker != markDHT && marker != markSOF0 && marker != markSOS && marker != markEOI {
			return fmt.Errorf("a picture has a segment with marker %#x", marker)
		}
	}
	if seen < 6 {
		return fmt.Errorf("only %d segments found", seen)
	}
	// Inside the scan 0xff is always followed by a zero, so the two bytes of
	// a marker can only be a marker.
	if strings.Count(string(file), "\xff\xe0") > 1 {
		return errors.New("a picture has a second segment of its maker")
	}
	for _, marker := range []string{"\xff\xe1", "\xff\xe2", "\xff\xed", "\xff\xee", "\xff\xfe"} {
		if strings.Contains(string(file), marker) {
			return fmt.Errorf("a picture has the marker % x", marker)
		}
	}
	if !strings.HasSuffix(string(file), "\xff\xd9") {
		return errors.New("a picture does not end at its end marker")
	}
	return nil
}
