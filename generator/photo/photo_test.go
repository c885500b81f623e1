package photo

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// grays is what the quarters look like in a gray picture.
func grays() (want [4]color.NRGBA) {
	for i, c := range quarterColors {
		y := samplesGray(c)[0]
		want[i] = color.NRGBA{y, y, y, 255}
	}
	return want
}

func TestEveryKindOfJPEG(t *testing.T) {
	cases := []struct {
		name string
		kind blockJPEG
		want [4]color.NRGBA
	}{
		{"gray", blockJPEG{sampling: []byte{0x11}, adobe: -1, samples: samplesGray}, grays()},
		{"gray, odd factors", blockJPEG{sampling: []byte{0x22}, adobe: -1, samples: samplesGray}, grays()},
		{"gray, progressive", blockJPEG{sampling: []byte{0x11}, progressive: true, adobe: -1, samples: samplesGray}, grays()},
		{"4:4:4", blockJPEG{sampling: []byte{0x11, 0x11, 0x11}, adobe: -1, samples: samplesYCbCr}, quarterColors},
		{"4:2:2", blockJPEG{sampling: []byte{0x21, 0x11, 0x11}, adobe: -1, samples: samplesYCbCr}, quarterColors},
		{"4:4:0", blockJPEG{sampling: []byte{0x12, 0x11, 0x11}, adobe: -1, samples: samplesYCbCr}, quarterColors},
		{"4:2:0", blockJPEG{sampling: []byte{0x22, 0x11, 0x11}, adobe: -1, samples: samplesYCbCr}, quarterColors},
		{"4:1:1", blockJPEG{sampling: []byte{0x41, 0x11, 0x11}, adobe: -1, samples: samplesYCbCr}, quarterColors},
		{"4:1:0", blockJPEG{sampling: []byte{0x42, 0x11, 0x11}, adobe: -1, samples: samplesYCbCr}, quarterColors},
		{"4:4:4, progressive", blockJPEG{sampling: []byte{0x11, 0x11, 0x11}, progressive: true, adobe: -1, samples: samplesYCbCr}, quarterColors},
		{"4:2:0, color by color", blockJPEG{sampling: []byte{0x22, 0x11, 0x11}, separate: true, adobe: -1, samples: samplesYCbCr}, quarterColors},
		{"4:2:0, progressive", blockJPEG{sampling: []byte{0x22, 0x11, 0x11}, progressive: true, adobe: -1, samples: samplesYCbCr}, quarterColors},
		{"RGB by its names", blockJPEG{sampling: []byte{0x11, 0x11, 0x11}, ids: "RGB", adobe: -1, samples: samplesRGB}, quarterColors},
		{"RGB by Adobe's mark", blockJPEG{sampling: []byte{0x11, 0x11, 0x11}, adobe: 0, samples: samplesRGB}, quarterColors},
		{"YCbCr by Adobe's mark", blockJPEG{sampling: []byte{0x11, 0x11, 0x11}, adobe: 1, samples: samplesYCbCr}, quarterColors},
		{"CMYK", blockJPEG{sampling: []byte{0x11, 0x11, 0x11, 0x11}, adobe: 0, samples: samplesCMYK}, quarterColors},
		{"CMYK, coarse colors", blockJPEG{sampling: []byte{0x22, 0x11, 0x11, 0x22}, adobe: 0, samples: samplesCMYK}, quarterColors},
		{"YCCK", blockJPEG{sampling: []byte{0x11, 0x11, 0x11, 0x11}, adobe: 2, samples: samplesYCCK}, quarterColors},
		{"YCCK, progressive", blockJPEG{sampling: []byte{0x11, 0x11, 0x11, 0x11}, progressive: true, adobe: 2, samples: samplesYCCK}, quarterColors},
	}
	for _, c := range cases {
		for _, size := range []image.Point{{512, 256}, {451, 203}} {
			t.Run(fmt.Sprintf("%s %d", c.name, size.X), func(t *testing.T) {
				clean := mustMake(t, c.kind.encode(quarters(size.X, size.Y)))
				if clean.Width != size.X || clean.Height != size.Y || len(clean.Renditions) != 2 {
					t.Fatalf("got %d x %d in %d sizes", clean.Width, clean.Height, len(clean.Renditions))
				}
				for _, r := range clean.Renditions {
					wantQuarters(t, decodeJPEG(t, r.JPEG), c.want, 4)
				}
			})
		}
	}
}

func TestEveryKindOfPNG(t *testing.T) {
	rect := image.Rect(0, 0, 500, 300)
	palette := color.Palette{color.NRGBA{1, 2, 3, 255}}
	for _, c := range quarterColors {
		palette = append(palette, c)
	}
	longPalette := append(color.Palette{}, palette...)
	for i := range 100 {
		longPalette = append(longPalette, color.NRGBA{uint8(i), 0, 255, 255})
	}
	cases := []struct {
		name string
		pic  draw.Image
		want [4]color.NRGBA
	}{
		{"8 bits", image.NewNRGBA(rect), quarterColors},
		{"16 bits", image.NewNRGBA64(rect), quarterColors},
		{"16 bits, opaque", image.NewRGBA64(rect), quarterColors},
		{"gray", image.NewGray(rect), grays()},
		{"gray, 16 bits", image.NewGray16(rect), grays()},
		{"palette of 4 bits", image.NewPaletted(rect, palette), quarterColors},
		{"palette of 8 bits", image.NewPaletted(rect, longPalette), quarterColors},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			draw.Draw(c.pic, rect, quarters(rect.Dx(), rect.Dy()), image.Point{}, draw.Src)
			clean := mustMake(t, asPNG(t, c.pic))
			if len(clean.Renditions) != 2 {
				t.Fatalf("got %d sizes, want 2", len(clean.Renditions))
			}
			for _, r := range clean.Renditions {
				wantQuarters(t, decodeJPEG(t, r.JPEG), c.want, 4)
			}
		})
	}
}

func TestTransparencyLiesOnWhite(t *testing.T) {
	white := color.NRGBA{255, 255, 255, 255}
	want := [4]color.NRGBA{quarterColors[0], white, {158, 168, 218, 255}, {188, 188, 188, 255}}
	pic := quarters(500, 300)
	for y := range 300 {
		for x := range 500 {
			c := pic.NRGBAAt(x, y)
			switch c {
			case quarterColors[1]:
				c.A = 0
			case quarterColors[2], quarterColors[3]:
				c.A = 127 // about half: halfway to white
			}
			pic.SetNRGBA(x, y, c)
		}
	}
	for _, r := range mustMake(t, asPNG(t, pic)).Renditions {
		wantQuarters(t, decodeJPEG(t, r.JPEG), want, 4)
	}
	gray := image.NewPaletted(image.Rect(0, 0, 40, 20), color.Palette{color.NRGBA{0, 0, 0, 0}, color.NRGBA{9, 9, 9, 255}})
	for _, r := range mustMake(t, asPNG(t, gray)).Renditions {
		wantQuarters(t, decodeJPEG(t, r.JPEG), [4]color.NRGBA{white, white, white, white}, 1)
	}
}

func TestRenditionsAreWhatSizesPromises(t *testing.T) {
	for _, size := range []image.Point{{2000, 1501}, {1000, 750}, {300, 450}, {401, 3}, {1, 1}, {3, 700}} {
		for orientation := 1; orientation <= 8; orientation++ {
			if size.X == 2000 && orientation != 1 && orientation != 6 {
				continue // the large one is slow
			}
			file := upright(orientation, size.X, size.Y)
			data := asJPEG(t, quarters(file.Width, file.Height), 80)
			data = withSegment(data, 0xe1, "Exif\x00\x00"+orientedExif(bigEndian, orientation))
			info, err := Look(data)
			if err != nil {
				t.Fatal(err)
			}
			var got []Size
			for _, r := range mustMake(t, data).Renditions {
				got = append(got, Size{r.Width, r.Height})
				if b := decodeJPEG(t, r.JPEG).Bounds(); b.Dx() != r.Width || b.Dy() != r.Height {
					t.Errorf("%v: the JPEG is %v, the rendition says %d x %d", size, b, r.Width, r.Height)
				}
			}
			if diff := cmp.Diff(Sizes(info), got); diff != "" {
				t.Errorf("%v orientation %d (-Sizes, +Make):\n%s", size, orientation, diff)
			}
		}
	}
}

// Slender pictures have color samples that hang over both edges.
func TestSlenderPhotos(t *testing.T) {
	for _, size := range []image.Point{
		{1, 1}, {1, 2}, {1, 3}, {2, 1}, {3, 1}, {1, 900}, {900, 1}, {2, 900}, {3, 900}, {17, 1601}, {1601, 17}, {1601, 1}, {801, 601}, {1, 65535}, {65535, 1},
	} {
		pic := scene(size.X, size.Y)
		for name, data := range map[string][]byte{"png": asPNG(t, pic), "jpeg": asJPEG(t, pic, 90), "in P3": withSegment(asJPEG(t, pic, 90), 0xe2, "ICC_PROFILE\x00\x01\x01"+displayP3Profile())} {
			for _, r := range mustMake(t, data).Renditions {
				if b := decodeJPEG(t, r.JPEG).Bounds(); b.Dx() != r.Width || b.Dy() != r.Height {
					t.Errorf("%v as %s: a picture of %v, promised %d x %d", size, name, b, r.Width, r.Height)
				}
			}
		}
	}
}

func TestDamagedPhotosAreRefusedWhole(t *testing.T) {
	for name, data := range map[string][]byte{
		"baseline":    asJPEG(t, scene(120, 90), 80),
		"progressive": blockJPEG{sampling: []byte{0x22, 0x11, 0x11}, progressive: true, adobe: -1, samples: samplesYCbCr}.encode(quarters(64, 64)),
		"png":         asPNG(t, scene(60, 45)),
	} {
		if _, err := Make(data); err != nil {
			t.Fatalf("%s: whole: %v", name, err)
		}
		for cut := 1; cut < len(data); cut += 1 + len(data)/300 {
			if _, err := Make(data[:cut]); err == nil {
				t.Errorf("%s: cut at %d of %d, and a picture came out", name, cut, len(data))
			}
		}
	}
	data := asJPEG(t, scene(120, 90), 80)
	half := append(data[:len(data)/2:len(data)/2], 0xff, 0xd9) // a repaired stump
	_, err := Make(half)
	wantRefusal(t, err, ErrDamaged, "part of the picture is missing")
	flipped := bytes.Clone(asPNG(t, scene(60, 45)))
	flipped[len(flipped)/2] ^= 1
	_, err = Make(flipped)
	wantRefusal(t, err, ErrDamaged, "damaged")
}

// A file cut between two scans and closed again has all its rows, but not all
// that belongs in them.
func TestMissingScansAreRefused(t *testing.T) {
	for name, kind := range map[string]blockJPEG{
		"color by color": {sampling: []byte{0x22, 0x11, 0x11}, separate: true, adobe: -1, samples: samplesYCbCr},
		"progressive":    {sampling: []byte{0x22, 0x11, 0x11}, progressive: true, adobe: -1, samples: samplesYCbCr},
		"both":           {sampling: []byte{0x11, 0x11, 0x11, 0x11}, progressive: true, separate: true, adobe: 2, samples: samplesYCCK},
	} {
		whole := kind.encode(quarters(64, 64))
		scans := 0
		for at := len(whole); ; scans++ {
			if at = bytes.LastIndex(whole[:at], []byte("\xff\xda")); at < 0 {
				break
			}
			_, err := Make(append(whole[:at:at], 0xff, 0xd9))
			if !errors.Is(err, ErrDamaged) {
				t.Errorf("%s without its last %d scans: %v", name, scans+1, err)
			}
		}
		if scans < 3 {
			t.Errorf("%s: only %d scans", name, scans)
		}
	}
}

// A coefficient counts once its last bit is there (T.81, annex G: Al of 0).
func TestCoarseScansDoNotCount(t *testing.T) {
	build := func(scans ...string) []byte {
		file := []byte("\xff\xd8\xff\xd9")
		for i := len(scans) - 1; i >= 0; i-- {
			file = withSegment(file, markSOS, "\x01\x07\x00"+scans[i])
		}
		return withSegment(file, markSOF2, "\x08\x00\x08\x00\x08\x01\x07\x11\x00")
	}
	const dcCoarse, dcFine, acCoarse, acFine = "\x00\x00\x01", "\x00\x00\x10", "\x01\x3f\x02", "\x01\x3f\x00"
	for name, c := range map[string]struct {
		file []byte
		ok   bool
	}{
		"all":                  {build(dcCoarse, acCoarse, dcFine, acFine), true},
		"in two bands":         {build("\x00\x00\x00", "\x01\x05\x00", "\x06\x3f\x00"), true},
		"a band missing":       {build("\x00\x00\x00", "\x01\x05\x00", "\x07\x3f\x00"), false},
		"no fine flat part":    {build(dcCoarse, acFine), false},
		"no fine detail":       {build(dcFine, acCoarse), false},
		"of another component": {bytes.Replace(build(dcFine, acFine), []byte("\x01\x07\x11"), []byte("\x01\x09\x11"), 1), false},
	} {
		if err := checkScans(c.file); (err == nil) != c.ok {
			t.Errorf("%s: got %v, want complete %v", name, err, c.ok)
		}
	}
}

func TestDecodersArePaddedAgainstPanics(t *testing.T) {
	_, err := rescued(func() (image.Image, error) { panic("out of range") })
	if err == nil {
		t.Error("a panic of the decoder was lost")
	}
	bad := image.NewPaletted(image.Rect(0, 0, 2, 2), color.Palette{color.Black})
	bad.Pix[3] = 1
	if checkPalette(bad) == nil {
		t.Error("a pixel outside the palette passed")
	}
	if err := checkPalette(image.NewPaletted(image.Rect(0, 0, 2, 2), color.Palette{color.Black})); err != nil {
		t.Error(err)
	}
}

func TestSameBytesSamePictures(t *testing.T) {
	for name, data := range map[string][]byte{
		"jpeg": asJPEG(t, scene(900, 700), 90), "png": asPNG(t, scene(500, 300)),
	} {
		first := mustMake(t, data)
		if first.Key != Key(data) {
			t.Errorf("%s: key %q, want %q", name, first.Key, Key(data))
		}
		for range 3 {
			if diff := cmp.Diff(first, mustMake(t, data)); diff != "" {
				t.Fatalf("%s: differs (-first, +again):\n%s", name, diff)
			}
		}
	}
}
