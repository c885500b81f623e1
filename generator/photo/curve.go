package photo

import (
	"encoding/binary"
	"errors"
	"fmt"
	"math"
)

// curve takes a code value to light, both 0 to 1 (a tone reproduction curve).
// What falls outside is cut off by its user.
type curve func(code float64) float64

// srgbToLight and lightToSRGB are the two directions of IEC 61966-2-1.
func srgbToLight(v float64) float64 {
	if v <= 0.04045 {
		return v / 12.92
	}
	return math.Pow((v+0.055)/1.055, 2.4)
}

func lightToSRGB(light float64) float64 {
	if light <= 0.0031308 {
		return 12.92 * light
	}
	return 1.055*math.Pow(light, 1/2.4) - 0.055
}

func power(exponent float64) curve {
	return func(v float64) float64 { return math.Pow(v, exponent) }
}

var errCurve = errors.New("a curve of the color profile is damaged")

// readCurve reads a curveType or parametricCurveType tag of ICC.1.
func readCurve(tag []byte) (curve, error) {
	if len(tag) < 12 {
		return nil, errCurve
	}
	switch string(tag[:4]) {
	case "curv":
		return readSampledCurve(tag)
	case "para":
		return readFormulaCurve(tag)
	}
	return nil, fmt.Errorf("%w: type %q", errCurve, tag[:4])
}

// readSampledCurve: no entries is the identity, one is an exponent in 1/256,
// more are samples at equal steps with straight lines between.
func readSampledCurve(tag []byte) (curve, error) {
	const entries = 12
	n := binary.BigEndian.Uint32(tag[8:])
	if uint64(n)*2 > uint64(len(tag)-entries) {
		return nil, errCurve
	}
	at := func(i int) float64 { return float64(binary.BigEndian.Uint16(tag[entries+2*i:])) }
	switch n {
	case 0:
		return power(1), nil
	case 1:
		return power(at(0) / 256), nil
	}
	last := int(n) - 1
	return func(v float64) float64 {
		place := clamp01(v) * float64(last)
		below := min(int(place), last-1)
		part := place - float64(below)
		return (at(below)*(1-part) + at(below+1)*part) / 65535
	}, nil
}

// readFormulaCurve reads the five formulas of ICC.1, table 68 of its 2010
// edition, from memory. Each is a power of a line above some point and a
// straight line below it.
func readFormulaCurve(tag []byte) (curve, error) {
	counts := []int{1, 3, 4, 5, 7}
	kind := int(binary.BigEndian.Uint16(tag[8:]))
	if kind >= len(counts) || len(tag) < 12+4*counts[kind] {
		return nil, errCurve
	}
	var p [7]float64
	for i := range counts[kind] {
		p[i] = fixed(tag[12+4*i:])
	}
	g, a, b, c, d, e, f := p[0], p[1], p[2], p[3], p[4], p[5], p[6]
	switch kind {
	case 0:
		return power(g), nil
	case 1, 2: // (ax+b)^g + c where ax+b is not negative, else c
		return func(v float64) float64 { return math.Pow(math.Max(a*v+b, 0), g) + c }, nil
	}
	// Kind 3 is kind 4 without e and f.
	return func(v float64) float64 {
		if v >= d {
			return math.Pow(a*v+b, g) + e
		}
		return c*v + f
	}, nil
}

// fixed reads an s15Fixed16Number.
func fixed(b []byte) float64 {
	return float64(int32(binary.BigEndian.Uint32(b))) / 65536
}
