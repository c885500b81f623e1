package photo

import (
	"image"
	"image/color"
	"testing"
)

func TestWeight(t *testing.T) {
	const w, h, pixels = 64, 32, 64 * 32
	rect := image.Rect(0, 0, w, h)
	block := func(progressive bool, sampling ...byte) []byte {
		samples := samplesYCbCr
		if len(sampling) == 4 {
			samples = samplesYCCK
		}
		return blockJPEG{sampling: sampling, progressive: progressive, adobe: -1, samples: samples}.encode(quarters(w, h))
	}
	cases := []struct {
		name string
		data []byte
		want int64 // bytes beside the file
	}{
		{"4:2:0", block(false, 0x22, 0x11, 0x11), pixels * 3 / 2},
		{"4:2:2", block(false, 0x21, 0x11, 0x11), pixels * 2},
		{"4:4:4", block(false, 0x11, 0x11, 0x11), pixels * 3},
		{"4:2:0, progressive", block(true, 0x22, 0x11, 0x11), pixels * 3 / 2 * 5},
		{"gray PNG", asPNG(t, image.NewGray(rect)), pixels},
		{"gray PNG, 16 bits", asPNG(t, image.NewGray16(rect)), pixels * 2},
		{"palette", asPNG(t, image.NewPaletted(rect, color.Palette{color.Black})), pixels},
		{"color PNG", asPNG(t, image.NewNRGBA(rect)), pixels * 4},
		{"color PNG, 16 bits", asPNG(t, image.NewNRGBA64(rect)), pixels * 8},
		{"no photo", []byte("no photo"), 0},
		{"JPEG without a frame", []byte("\xff\xd8\xff\xd9"), 0},
		{"frame cut short", withSegment([]byte("\xff\xd8\xff\xd9"), markSOF0, "\x08\x00"), 0},
		{"frame without components", withSegment([]byte("\xff\xd8\xff\xd9"), markSOF0, "\x08\x00\x08\x00\x08\x00"), 0},
		{"PNG without a header", []byte("\x89PNG\r\n\x1a\n"), 0},
	}
	for _, c := range cases {
		if got := Weight(c.data) - int64(len(c.data)); got != c.want {
			t.Errorf("%s: got %d, want %d", c.name, got, c.want)
		}
	}
}
