package photo

import (
	"bytes"
	"encoding/binary"
	"errors"
	"image"
	"image/color"
	"image/jpeg"
	"testing"
	"time"

	"github.com/gen2brain/jpegn"
)

var bigEndian = binary.BigEndian

// seeds are small photos of every kind and the damage most like real damage.
func seeds(t testing.TB) [][]byte {
	pic := quarters(24, 16)
	exif := exifData(bigEndian, []exifField{{0x0112, uint16(6)}},
		[]exifField{{0x9003, "2026:03:02 18:30:00"}, {0x9011, "-05:00"}}, nil, []exifField{{1, "R03"}})
	plain := asJPEG(t, pic, 80)
	dotted := image.NewPaletted(image.Rect(0, 0, 9, 7), color.Palette{color.White, color.Transparent, color.Black})
	list := [][]byte{
		plain,
		withSegment(plain, 0xe1, "Exif\x00\x00"+exif),
		withSegment(plain, 0xe2, "ICC_PROFILE\x00\x01\x01"+displayP3Profile()),
		blockJPEG{sampling: []byte{0x11}, progressive: true, adobe: -1, samples: samplesGray}.encode(pic),
		blockJPEG{sampling: []byte{0x22, 0x11, 0x11}, progressive: true, adobe: -1, samples: samplesYCbCr}.encode(pic),
		blockJPEG{sampling: []byte{0x42, 0x11, 0x11}, adobe: -1, samples: samplesYCbCr}.encode(pic),
		blockJPEG{sampling: []byte{0x22, 0x11, 0x11, 0x22}, adobe: 2, samples: samplesYCCK}.encode(pic),
		asPNG(t, pic),
		asPNG(t, dotted),
		asPNG(t, quarters(1, 9)),
		asJPEG(t, quarters(9, 1), 80),
		withChunk(asPNG(t, pic), "eXIf", exif),
		withChunk(asPNG(t, pic), "iCCP", packedProfile(adobeRGBProfile())),
		withChunk(asPNG(t, pic), "gAMA", "\x00\x01\x86\xa0"),
		jpegClaim(50000, 50000), pngClaim(0, 1),
		[]byte("\x00\x00\x00\x18ftypheic\x00\x00\x00\x00mif1heic"), []byte("GIF89a"), {},
	}
	// Few passes, as many as are let in, one more, and far more, over few pixels.
	for _, n := range []int{1, 10, maxScans - 1, maxScans, 700} {
		list = append(list, passes(24, 16, n))
	}
	list = append(list, passes(256, 256, 60), append(passes(64, 64, 20), passes(64, 64, 20)...))
	for _, whole := range list[:2] {
		list = append(list, whole[:len(whole)/2])
	}
	return list
}

// FuzzLook: whatever the bytes, Look answers with a usable Info or a Refusal.
func FuzzLook(f *testing.F) {
	for _, seed := range seeds(f) {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		info, err := Look(data)
		if err != nil {
			var refusal *Refusal
			if !errors.As(err, &refusal) || refusal.Says == "" || refusal.Kind == nil {
				t.Errorf("an error that is no refusal: %#v", err)
			}
			return
		}
		if info.Width < 1 || info.Height < 1 || info.Width*info.Height > MaxPixels || info.Orientation < 1 || info.Orientation > 8 {
			t.Errorf("an unusable Info: %+v", info)
		}
		if info.HasOffset && info.Taken.IsZero() {
			t.Error("an offset without a time")
		}
		if len(Sizes(info)) == 0 {
			t.Error("no sizes")
		}
	})
}

// FuzzMake: whatever the bytes, Make refuses or gives exactly the pictures
// that Look and Sizes promise, with nothing in them but the picture.
func FuzzMake(f *testing.F) {
	for _, seed := range seeds(f) {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		info, lookErr := Look(data)
		if lookErr == nil && info.Width*info.Height > 1<<16 {
			return // large ones are only slower
		}
		began := time.Now()
		clean, err := Make(data)
		if took := time.Since(began); took > 15*time.Second { // of 65,536 pixels at most, which take milliseconds
			t.Errorf("it took %s", took)
		}
		if lookErr != nil && err == nil {
			t.Fatalf("Look refused (%v) and Make did not", lookErr)
		}
		if err != nil {
			return
		}
		sizes := Sizes(info)
		if len(clean.Renditions) != len(sizes) || clean.Width != info.Width || clean.Height != info.Height {
			t.Fatalf("%+v gave %d x %d in %d sizes", info, clean.Width, clean.Height, len(clean.Renditions))
		}
		for i, r := range clean.Renditions {
			if b := decodeJPEG(t, r.JPEG).Bounds(); b.Dx() != sizes[i].Width || b.Dy() != sizes[i].Height {
				t.Errorf("a picture of %v, promised %v", b, sizes[i])
			}
			wantBare(t, r.JPEG)
		}
	})
}

// FuzzOrdinary: whatever the bytes, the quick decoder gives the photo at a share
// that it may have, of the size that image/jpeg finds too, or leaves it be.
func FuzzOrdinary(f *testing.F) {
	for _, size := range []image.Point{{96, 64}, {50, 34}, {33, 17}} {
		pic := grained(scene(size.X, size.Y))
		for _, sub := range []jpegn.Subsampling{jpegn.Subsample420, jpegn.Subsample422, jpegn.Subsample440, jpegn.Subsample444} {
			f.Add(sampled(f, pic, jpegn.EncodeOptions{Subsampling: sub}), uint8(4))
		}
	}
	for _, seed := range seeds(f) {
		f.Add(seed, uint8(1))
	}
	f.Fuzz(func(t *testing.T, data []byte, part uint8) {
		info, err := Look(data)
		if err != nil || info.Format != "jpeg" || info.Width*info.Height > 1<<16 {
			return
		}
		stored := upright(info.Orientation, info.Width, info.Height)
		w, h := stored.Width, stored.Height
		target := Size{max(1, w/int(max(1, part))), max(1, h/int(max(1, part)))}
		photo, err := rescued(func() (image.Image, error) { return decodeOrdinary(data, w, h, target) })
		if err != nil {
			return
		}
		got := photo.Bounds()
		for _, share := range []int{1, 2, 4} {
			if got == image.Rect(0, 0, w/share, h/share) && (share == 1 || halvable(2*w/share, 2*h/share, target)) {
				whole, err := jpeg.Decode(bytes.NewReader(data))
				if err == nil && whole.Bounds() != image.Rect(0, 0, w, h) {
					t.Errorf("%v of %v", got, whole.Bounds())
				}
				return
			}
		}
		t.Errorf("%v of %d x %d for %v", got, w, h, target)
	})
}
