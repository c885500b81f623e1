package photo

import (
	"encoding/binary"
	"errors"
)

// colorsOf finds out which colors the numbers in the file stand for and
// returns the way to sRGB, nil when they are sRGB (which is also what a file
// that says nothing means). For PNG the order of precedence is that of W3C
// PNG, third edition, section 4.3: cICP, iCCP, sRGB, gAMA with cHRM. A cICP
// that is not understood gives way to an iCCP.
//
// What cannot be followed is refused and never guessed: paint color and rust
// are evidence.
func colorsOf(h head, model colorModel, adobeRGB bool) (*transform, error) {
	if h.cicp != nil {
		space, ok := codedSpace(h.cicp)
		switch {
		case ok:
			return space.transform()
		case h.icc == nil:
			return nil, refuse(ErrColors, nil, sayColorHDR)
		}
	}
	switch {
	case h.iccErr != nil:
		return nil, refuse(ErrColors, h.iccErr, sayColorDamaged)
	case h.icc != nil:
		return profileColors(h.icc, model)
	case h.srgb:
		return nil, nil
	case h.gama != nil || h.chrm != nil:
		return calibratedColors(h)
	case adobeRGB && model == modelRGB:
		return spaceAdobeRGB.transform()
	}
	return nil, nil
}

// space is an RGB color space given by numbers.
type space struct {
	primaries primaries
	curve     curve // code value to light, both 0 to 1
}

func (s space) transform() (*transform, error) {
	toXYZ, err := s.primaries.toPCS()
	if err != nil {
		return nil, refuse(ErrColors, err, sayColorDamaged)
	}
	return newTransform([3]curve{s.curve, s.curve, s.curve}, toXYZ), nil
}

// D65 as the standards below round it.
var d65 = xy{0.3127, 0.3290}

var (
	// IEC 61966-2-1; the primaries are those of ITU-R BT.709.
	spaceSRGB = space{primaries{xy{0.640, 0.330}, xy{0.300, 0.600}, xy{0.150, 0.060}, d65}, srgbToLight}
	// SMPTE EG 432-1 primaries with the sRGB curve.
	spaceDisplayP3 = space{primaries{xy{0.680, 0.320}, xy{0.265, 0.690}, xy{0.150, 0.060}, d65}, srgbToLight}
	// Adobe RGB (1998) color image encoding; the exponent is 2 51/256.
	spaceAdobeRGB = space{primaries{xy{0.640, 0.330}, xy{0.210, 0.710}, xy{0.150, 0.060}, d65}, power(563.0 / 256)}
)

// codedSpace reads a cICP chunk: primaries, transfer, matrix and range in the
// code points of ITU-T H.273. Those with the sRGB curve are understood.
func codedSpace(chunk []byte) (space, bool) {
	const bt709, p3, srgbCurve, rgb, fullRange = 1, 12, 13, 0, 1
	if len(chunk) != 4 || chunk[1] != srgbCurve || chunk[2] != rgb || chunk[3] != fullRange {
		return space{}, false
	}
	switch chunk[0] {
	case bt709:
		return spaceSRGB, true
	case p3:
		return spaceDisplayP3, true
	}
	return space{}, false
}

var errCalibration = errors.New("the gAMA or cHRM chunk is damaged")

// calibratedColors reads the older PNG way: cHRM is the white point and
// primaries, gAMA the exponent from light to code value, both in 1/100000.
// What is not given is that of sRGB. With the primaries of sRGB a gAMA of
// 0.45455 is how a writer says sRGB to a reader that knows no curve, so it is
// taken for the curve.
func calibratedColors(h head) (*transform, error) {
	const unit, srgbGamma, rounding = 100_000, 45_455, 100
	s := spaceSRGB
	if h.chrm != nil {
		if len(h.chrm) != 32 {
			return nil, refuse(ErrColors, errCalibration, sayColorDamaged)
		}
		at := func(i int) xy {
			return xy{float64(binary.BigEndian.Uint32(h.chrm[8*i:])) / unit, float64(binary.BigEndian.Uint32(h.chrm[8*i+4:])) / unit}
		}
		s.primaries = primaries{white: at(0), red: at(1), green: at(2), blue: at(3)}
	}
	if h.gama != nil {
		if len(h.gama) != 4 || binary.BigEndian.Uint32(h.gama) == 0 {
			return nil, refuse(ErrColors, errCalibration, sayColorDamaged)
		}
		gamma := int64(binary.BigEndian.Uint32(h.gama))
		if max(gamma-srgbGamma, srgbGamma-gamma) > rounding || !s.primaries.near(spaceSRGB.primaries) {
			s.curve = power(unit / float64(gamma))
		}
	}
	return s.transform()
}
