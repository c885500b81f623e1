package photo

import (
	"testing"

	"github.com/disintegration/imaging"
)

// BenchmarkMake takes a photo of 12 megapixels the quick way, as Make does,
// and the exact way, without the halving, in one run; read the times as a
// ratio. The first also reports how like the exact way its largest picture is
// before the JPEG encoding.
func BenchmarkMake(b *testing.B) {
	data := asJPEG(b, scene(4032, 3024), 92)
	look, err := examine(data)
	if err != nil {
		b.Fatal(err)
	}
	sizes := Sizes(look.info)
	b.Run("halved", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			mustMake(b, data)
		}
		photo := decodeJPEG(b, data)
		exact := imaging.Resize(photo, 1600, 1200, imaging.Lanczos)
		b.ReportMetric(psnr(exact, develop(halve(photo, 1, 1600), 1, sizes[2], nil)), "dB")
	})
	b.Run("direct", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			photo, err := decode(data, look.info)
			if err != nil {
				b.Fatal(err)
			}
			if _, err := render(photo, 1, sizes, look.colors); err != nil {
				b.Fatal(err)
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
