package photo

import (
	"image"
	"math"
	"sync"
)

// transform takes 8-bit RGB of some space to 8-bit sRGB. Colors that sRGB does
// not have are cut off channel by channel at its edge.
type transform struct {
	light  [3][256]float32 // code value of each channel to light, 0 to 1
	matrix [3][3]float32   // light of the one space to light of sRGB
}

// pcsToSRGB is the way out of the connection space.
var pcsToSRGB = sync.OnceValue(func() matrix {
	toPCS, err := spaceSRGB.primaries.toPCS()
	if err != nil {
		panic(err) // constants of this package
	}
	return mustInverse(toPCS)
})

// newTransform composes the curves and the matrix to the connection space with
// the way from there to sRGB. It returns nil when the space is sRGB.
func newTransform(curves [3]curve, toPCS matrix) *transform {
	var t transform
	for c, light := range curves {
		for code := range 256 {
			t.light[c][code] = float32(clamp01(light(float64(code) / 255)))
		}
	}
	for r, row := range pcsToSRGB().mul(toPCS) {
		for c, value := range row {
			t.matrix[r][c] = float32(value)
		}
	}
	if t.changesNothing() {
		return nil
	}
	return &t
}

// changesNothing reports whether no color of a 9 x 9 x 9 grid moves by more
// than one step: sRGB profiles differ from each other by that much, and it
// spares the work for nearly every photo.
func (t *transform) changesNothing() bool {
	const step = 32
	for r := 0; r <= 256; r += step {
		for g := 0; g <= 256; g += step {
			for b := 0; b <= 256; b += step {
				in := [3]uint8{uint8(min(r, 255)), uint8(min(g, 255)), uint8(min(b, 255))}
				out := t.convert(in)
				for c := range 3 {
					if d := int(in[c]) - int(out[c]); d < -1 || d > 1 {
						return false
					}
				}
			}
		}
	}
	return true
}

// apply converts a picture in place, leaving transparency alone.
func (t *transform) apply(pic *image.NRGBA) {
	for i := 0; i+3 < len(pic.Pix); i += 4 {
		px := pic.Pix[i : i+4 : i+4]
		out := t.convert([3]uint8{px[0], px[1], px[2]})
		px[0], px[1], px[2] = out[0], out[1], out[2]
	}
}

func (t *transform) convert(in [3]uint8) [3]uint8 {
	r, g, b := t.light[0][in[0]], t.light[1][in[1]], t.light[2][in[2]]
	codes := srgbCodes()
	return [3]uint8{
		codes[lightIndex(t.matrix[0][0]*r+t.matrix[0][1]*g+t.matrix[0][2]*b)],
		codes[lightIndex(t.matrix[1][0]*r+t.matrix[1][1]*g+t.matrix[1][2]*b)],
		codes[lightIndex(t.matrix[2][0]*r+t.matrix[2][1]*g+t.matrix[2][2]*b)],
	}
}

// lightSteps divides light finely enough that even in the dark, where the sRGB
// curve is steepest, a step is a twentieth of a code value.
const lightSteps = 65_535

func lightIndex(light float32) int {
	switch {
	case light >= 1:
		return lightSteps
	case light > 0:
		return int(light*lightSteps + 0.5)
	}
	return 0
}

// srgbCodes gives the 8-bit sRGB value for light in 0 to lightSteps.
var srgbCodes = sync.OnceValue(func() *[lightSteps + 1]uint8 {
	var codes [lightSteps + 1]uint8
	for i := range codes {
		codes[i] = uint8(lightToSRGB(float64(i)/lightSteps)*255 + 0.5)
	}
	return &codes
})

// clamp01 also takes what is not a number for 0.
func clamp01(v float64) float64 {
	if !(v > 0) {
		return 0
	}
	return math.Min(v, 1)
}
