package photo

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"math"
)

// iccTag is one tag of a profile: its four letters and its bytes.
type iccTag struct{ name, body string }

// iccProfile writes a profile as ICC.1 lays it out: a header of 128 bytes, the
// table of tags, the tags.
func iccProfile(class, space, pcs string, tags ...iccTag) string {
	header := make([]byte, 128)
	copy(header[8:], "\x04\x00\x00\x00")
	copy(header[12:], class+space+pcs)
	copy(header[36:], "acsp")
	table := bigEndian.AppendUint32(nil, uint32(len(tags)))
	var bodies []byte
	for _, tag := range tags {
		for len(bodies)%4 != 0 {
			bodies = append(bodies, 0)
		}
		table = append(table, tag.name...)
		table = bigEndian.AppendUint32(table, uint32(132+12*len(tags)+len(bodies)))
		table = bigEndian.AppendUint32(table, uint32(len(tag.body)))
		bodies = append(bodies, tag.body...)
	}
	whole := bytes.Join([][]byte{header, table, bodies}, nil)
	binary.BigEndian.PutUint32(whole, uint32(len(whole)))
	return string(whole)
}

// fixedNumbers writes s15Fixed16Numbers.
func fixedNumbers(numbers ...float64) string {
	var out []byte
	for _, v := range numbers {
		out = bigEndian.AppendUint32(out, uint32(int32(math.Round(v*65536))))
	}
	return string(out)
}

func xyzTag(x, y, z float64) string { return "XYZ \x00\x00\x00\x00" + fixedNumbers(x, y, z) }

// formulaTag is a parametricCurveType.
func formulaTag(kind byte, numbers ...float64) string {
	return "para\x00\x00\x00\x00\x00" + string([]byte{kind}) + "\x00\x00" + fixedNumbers(numbers...)
}

// samplesTag is a curveType.
func samplesTag(samples ...uint16) string {
	out := bigEndian.AppendUint32([]byte("curv\x00\x00\x00\x00"), uint32(len(samples)))
	for _, s := range samples {
		out = bigEndian.AppendUint16(out, s)
	}
	return string(out)
}

// rgbProfile has one curve for all channels and the columns of the matrix.
func rgbProfile(curve string, red, green, blue [3]float64) string {
	return iccProfile("mntr", "RGB ", "XYZ ",
		iccTag{"rXYZ", xyzTag(red[0], red[1], red[2])},
		iccTag{"gXYZ", xyzTag(green[0], green[1], green[2])},
		iccTag{"bXYZ", xyzTag(blue[0], blue[1], blue[2])},
		iccTag{"rTRC", curve}, iccTag{"gTRC", curve}, iccTag{"bTRC", curve})
}

func grayProfile(curve string) string {
	return iccProfile("mntr", "GRAY", "XYZ ", iccTag{"kTRC", curve})
}

// srgbFormula is IEC 61966-2-1 as a curve of kind 3.
var srgbFormula = formulaTag(3, 2.4, 1/1.055, 0.055/1.055, 1/12.92, 0.04045)

// The columns below are those in the widely used profiles of these spaces,
// adapted to D50, from memory. The test of toPCS derives them from the
// chromaticities as well.
var (
	srgbColumns     = [3][3]float64{{0.43607, 0.22249, 0.01392}, {0.38515, 0.71687, 0.09708}, {0.14307, 0.06061, 0.71410}}
	p3Columns       = [3][3]float64{{0.51512, 0.24120, -0.00105}, {0.29198, 0.69225, 0.04189}, {0.15710, 0.06657, 0.78407}}
	adobeRGBColumns = [3][3]float64{{0.60974, 0.31111, 0.01947}, {0.20528, 0.62567, 0.06087}, {0.14919, 0.06322, 0.74457}}
)

func displayP3Profile() string {
	return rgbProfile(srgbFormula, p3Columns[0], p3Columns[1], p3Columns[2])
}

// adobeRGBProfile has the exponent 563/256 of Adobe RGB (1998).
func adobeRGBProfile() string {
	return rgbProfile(samplesTag(563), adobeRGBColumns[0], adobeRGBColumns[1], adobeRGBColumns[2])
}

// srgbProfile has a curve of 1024 samples, as the oldest sRGB profiles do.
func srgbProfile() string {
	samples := make([]uint16, 1024)
	for i := range samples {
		samples[i] = uint16(math.Round(65535 * wantLight(float64(i)/1023)))
	}
	return rgbProfile(samplesTag(samples...), srgbColumns[0], srgbColumns[1], srgbColumns[2])
}

// tableProfile has tables and nothing else, like a printer's.
func tableProfile(space string) string {
	return iccProfile("prtr", space, "Lab ", iccTag{"A2B0", "mft2" + string(make([]byte, 60))})
}

// packedProfile is the body of an iCCP chunk.
func packedProfile(profile string) string {
	var out bytes.Buffer
	out.WriteString("test\x00\x00")
	w := zlib.NewWriter(&out)
	w.Write([]byte(profile))
	w.Close()
	return out.String()
}

// inPieces puts a profile into a JPEG in APP2 segments of at most size bytes,
// the last piece first: readers go by the numbers.
func inPieces(file []byte, profile string, size int) []byte {
	var pieces []string
	for len(profile) > size {
		pieces, profile = append(pieces, profile[:size]), profile[size:]
	}
	pieces = append(pieces, profile)
	for i, piece := range pieces {
		file = withSegment(file, 0xe2, "ICC_PROFILE\x00"+string([]byte{byte(i + 1), byte(len(pieces))})+piece)
	}
	return file
}
