package photo

import (
	"testing"

	"github.com/disintegration/imaging"
)

// BenchmarkMake makes the pictures of a photo of 12 megapixels the quick way,
// as Make does, and step by step beside the direct way, in one run: image/jpeg in
// and out, and each width by Lanczos from the whole photo. Read the times as
// ratios.
func BenchmarkMake(b *testing.B) {
	data := asJPEG(b, scene(4032, 3024), 92)
	look, err := examine(data)
	if err != nil {
		b.Fatal(err)
	}
	photo, sizes := decodeJPEG(b, data), Sizes(look.info)
	b.Run("whole", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			mustMake(b, data)
		}
	})
	ordinary, err := decode(data, look.info, sizes[len(sizes)-1])
	if err != nil {
		b.Fatal(err)
	}
	b.Run("decode, quick", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if _, err := decode(data, look.info, sizes[len(sizes)-1]); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("decode, direct", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			decodeJPEG(b, data)
		}
	})
	b.Run("pictures, quick", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			pictures(ordinary, 1, sizes, nil)
		}
	})
	b.Run("pictures, direct", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			for _, s := range sizes {
				imaging.Resize(photo, s.Width, s.Height, imaging.Lanczos)
			}
		}
	})
	pics := pictures(ordinary, 1, sizes, nil)
	b.Run("encode, quick", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			for _, pic := range pics {
				if _, err := encode(pic); err != nil {
					b.Fatal(err)
				}
			}
		}
	})
	b.Run("encode, direct", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			for _, pic := range pics {
				asJPEG(b, pic, quality)
			}
		}
	})
}

// BenchmarkLook is the price of a photo that has not changed, with its key.
func BenchmarkLook(b *testing.B) {
	data := withSegment(asJPEG(b, scene(1000, 750), 92), 0xe2, "ICC_PROFILE\x00\x01\x01"+displayP3Profile())
	for b.Loop() {
		if _, err := Look(data); err != nil {
			b.Fatal(err)
		}
	}
}
