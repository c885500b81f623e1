package photo

import (
	"bytes"
	"errors"
	"image"
	"image/jpeg"
	"maps"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/gen2brain/jpegn"
)

// sampled writes a picture as baseline JPEG with the color samples of a kind.
func sampled(t testing.TB, pic image.Image, o jpegn.EncodeOptions) []byte {
	t.Helper()
	var file bytes.Buffer
	o.Quality = 92
	if err := jpegn.Encode(&file, pic, &o); err != nil {
		t.Fatal(err)
	}
	return file.Bytes()
}

// image/jpeg is the reference. T.83 lets decoders differ by one step, and the
// turn to whole numbers is where they do.
func TestOrdinaryPhotosDecodeAsElsewhere(t *testing.T) {
	for _, size := range []image.Point{{160, 96}, {157, 91}, {15, 33}} {
		drawn := grained(scene(size.X, size.Y))
		for name, file := range map[string][]byte{
			"image/jpeg's": asJPEG(t, drawn, 92),
			"4:2:0":        sampled(t, drawn, jpegn.EncodeOptions{Subsampling: jpegn.Subsample420}),
			"4:2:2":        sampled(t, drawn, jpegn.EncodeOptions{Subsampling: jpegn.Subsample422}),
			"4:4:0":        sampled(t, drawn, jpegn.EncodeOptions{Subsampling: jpegn.Subsample440}),
			"4:4:4":        sampled(t, drawn, jpegn.EncodeOptions{Subsampling: jpegn.Subsample444, OptimizeCoding: true}),
		} {
			photo, err := decodeOrdinary(file, size.X, size.Y, Size{size.X, size.Y})
			if err != nil {
				t.Errorf("%v, %s: %v", size, name, err)
				continue
			}
			got, want := photo.(*image.YCbCr), decodeJPEG(t, file).(*image.YCbCr)
			if got.SubsampleRatio != want.SubsampleRatio || got.Rect != want.Rect {
				t.Fatalf("%v, %s: %v %v, want %v %v", size, name, got.Rect, got.SubsampleRatio, want.Rect, want.SubsampleRatio)
			}
			for y := range size.Y {
				for x := range size.X {
					a, b := got.YCbCrAt(x, y), want.YCbCrAt(x, y)
					if max(abs(int(a.Y)-int(b.Y)), abs(int(a.Cb)-int(b.Cb)), abs(int(a.Cr)-int(b.Cr))) > 1 {
						t.Fatalf("%v, %s: %v at %d,%d, want %v", size, name, a, x, y, b)
					}
				}
			}
		}
	}
}

func TestOrdinaryPhotosComeInShares(t *testing.T) {
	for _, c := range []struct {
		w, h   int
		target Size
		want   image.Point
	}{
		{400, 300, Size{160, 120}, image.Pt(200, 150)},
		{400, 300, Size{161, 120}, image.Pt(400, 300)}, // less than 1.25 times would be left
		{400, 300, Size{80, 60}, image.Pt(200, 150)},   // 150 color samples down do not halve again
		{416, 320, Size{80, 60}, image.Pt(104, 80)},
		{832, 640, Size{80, 60}, image.Pt(208, 160)}, // never less than a quarter
		{402, 300, Size{80, 60}, image.Pt(402, 300)}, // 201 color samples across
	} {
		file := asJPEG(t, grained(scene(c.w, c.h)), 90)
		photo, err := decodeOrdinary(file, c.w, c.h, c.target)
		if err != nil || photo.Bounds().Size() != c.want {
			t.Errorf("%d x %d for %v: got %v, %v, want %v", c.w, c.h, c.target, photo, err, c.want)
		}
	}
}

func TestOtherPhotosAreNotOrdinary(t *testing.T) {
	drawn := grained(scene(96, 64))
	plain := asJPEG(t, drawn, 90)
	for name, file := range map[string][]byte{
		"progressive":      sampled(t, drawn, jpegn.EncodeOptions{Progressive: true}),
		"restart markers":  sampled(t, drawn, jpegn.EncodeOptions{RestartInterval: 4}),
		"gray":             asJPEG(t, grayPicture(), 90),
		"color by color":   blockJPEG{sampling: []byte{0x22, 0x11, 0x11}, separate: true, adobe: -1, samples: samplesYCbCr}.encode(drawn),
		"CMYK":             blockJPEG{sampling: []byte{0x11, 0x11, 0x11, 0x11}, adobe: 0, samples: samplesCMYK}.encode(drawn),
		"RGB":              withSegment(plain, 0xee, "Adobe\x00\x64\x00\x00\x00\x00\x00"),
		"rare sampling":    blockJPEG{sampling: []byte{0x22, 0x21, 0x11}, adobe: -1, samples: samplesYCbCr}.encode(drawn),
		"a plain corner":   asJPEG(t, quarters(96, 64), 90),
		"no end":           plain[:len(plain)-2],
		"half":             plain[:len(plain)/2],
		"half, closed":     append(plain[:len(plain)/2:len(plain)/2], 0xff, 0xd9),
		"nothing":          {},
		"head alone":       jpegClaim(96, 64),
		"of another size":  asJPEG(t, grained(scene(96, 80)), 90),
		"a second picture": append(plain[:len(plain)-2:len(plain)-2], plain[2:]...),
	} {
		if photo, err := rescued(func() (image.Image, error) { return decodeOrdinary(file, 96, 64, Size{96, 64}) }); err == nil {
			t.Errorf("%s: taken for ordinary: %v", name, photo.Bounds())
		}
	}
	if _, err := decodeOrdinary(plain, 96, 64, Size{96, 64}); err != nil {
		t.Errorf("the plain one: %v", err)
	}
}

// Damage does not pass because a quicker decoder makes up for it: where
// image/jpeg refuses a harmed scan, so does Make, but for the scan's last unit.
func TestDamageOfOrdinaryPhotosIsSeen(t *testing.T) {
	whole := asJPEG(t, grained(scene(128, 96)), 90)
	scan := bytes.Index(whole, []byte("\xff\xda")) + 2
	const lastUnit = 6 * 64 * 2 // bytes: six blocks, and hardly a value takes more than two
	random := rand.New(rand.NewPCG(3, 4))
	somewhere := func() int { return scan + 20 + random.IntN(len(whole)-scan-20-lastUnit) }
	harms := map[string]func(file []byte) []byte{
		"a bit": func(file []byte) []byte {
			file[somewhere()] ^= 1 << random.IntN(8)
			return file
		},
		"bytes": func(file []byte) []byte {
			for range 1 + random.IntN(4) {
				file[somewhere()] = uint8(random.IntN(256))
			}
			return file
		},
		"a piece lost": func(file []byte) []byte {
			at := somewhere()
			return slices.Delete(file, at, at+1+random.IntN(lastUnit))
		},
		"a piece of something else": func(file []byte) []byte {
			at := somewhere()
			for i := range random.IntN(lastUnit) {
				file[at+i] = uint8(random.IntN(256))
			}
			return file
		},
		"the end lost": func(file []byte) []byte { return append(file[:somewhere()], 0xff, 0xd9) },
		"the end of zeros": func(file []byte) []byte {
			clear(file[somewhere():])
			return file
		},
	}
	const enough = 20
	for _, name := range slices.Sorted(maps.Keys(harms)) { // one order, for one outcome
		harm := harms[name]
		var refused, passed int
		for refused < enough && passed < 400*enough {
			file := harm(slices.Clone(whole))
			_, err := jpeg.Decode(bytes.NewReader(file))
			if err == nil {
				passed++
				continue
			}
			refused++
			if _, err := Make(file); err == nil {
				t.Errorf("%s: image/jpeg refuses it, and pictures were made", name)
			} else if refusal := (*Refusal)(nil); !errors.As(err, &refusal) {
				t.Errorf("%s: %v is no refusal", name, err)
			}
		}
		t.Logf("%s: %d refused, %d passed by image/jpeg", name, refused, passed)
		if refused < enough {
			t.Errorf("%s: only %d were harmed enough to be refused", name, refused)
		}
	}
}
