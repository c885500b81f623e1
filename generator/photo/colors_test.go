package photo

import (
	"encoding/binary"
	"errors"
	"image"
	"image/color"
	"math"
	"strings"
	"testing"

	"github.com/disintegration/imaging"
)

// The expected colors are worked out here a second time, without the
// connection space: both spaces have the white D65, so RGB to XYZ to RGB needs
// no adaptation. Chromaticities, from memory, are those of SMPTE EG 432-1
// (Display P3), Adobe RGB (1998) color image encoding, and ITU-R BT.709 with
// the curve of IEC 61966-2-1 (sRGB).
var (
	wantSRGB     = [8]float64{0.64, 0.33, 0.30, 0.60, 0.15, 0.06, 0.3127, 0.3290}
	wantP3       = [8]float64{0.68, 0.32, 0.265, 0.69, 0.15, 0.06, 0.3127, 0.3290}
	wantAdobeRGB = [8]float64{0.64, 0.33, 0.21, 0.71, 0.15, 0.06, 0.3127, 0.3290}
)

// solve finds x in m x = v by Cramer's rule; m is three columns.
func solve(m [3][3]float64, v [3]float64) (x [3]float64) {
	det := func(a, b, c [3]float64) float64 {
		return a[0]*(b[1]*c[2]-b[2]*c[1]) - b[0]*(a[1]*c[2]-a[2]*c[1]) + c[0]*(a[1]*b[2]-a[2]*b[1])
	}
	d := det(m[0], m[1], m[2])
	return [3]float64{det(v, m[1], m[2]) / d, det(m[0], v, m[2]) / d, det(m[0], m[1], v) / d}
}

// columnsOf gives the XYZ of full red, green and blue.
func columnsOf(p [8]float64) (columns [3][3]float64) {
	at := func(i int) [3]float64 { return [3]float64{p[i] / p[i+1], 1, (1 - p[i] - p[i+1]) / p[i+1]} }
	columns = [3][3]float64{at(0), at(2), at(4)}
	amounts := solve(columns, at(6))
	for c := range 3 {
		for i := range 3 {
			columns[c][i] *= amounts[c]
		}
	}
	return columns
}

// wantLight and wantCode are the sRGB curve and its inverse.
func wantLight(code float64) float64 {
	if code > 0.04045 {
		return math.Exp(2.4 * math.Log((code+0.055)/1.055))
	}
	return code / 12.92
}

func wantCode(light float64) float64 {
	if light > 0.0031308 {
		return 1.055*math.Exp(math.Log(light)/2.4) - 0.055
	}
	return math.Max(0, light*12.92)
}

// wantConverted is the sRGB of a color in a space, cut off at the edge.
func wantConverted(c color.NRGBA, p [8]float64, light func(float64) float64) color.NRGBA {
	var xyz [3]float64
	columns := columnsOf(p)
	for i, code := range []uint8{c.R, c.G, c.B} {
		for j := range 3 {
			xyz[j] += columns[i][j] * light(float64(code)/255)
		}
	}
	out := solve(columnsOf(wantSRGB), xyz)
	code := func(light float64) uint8 { return uint8(math.Round(255 * math.Min(1, wantCode(light)))) }
	return color.NRGBA{code(out[0]), code(out[1]), code(out[2]), 255}
}

func adobeLight(code float64) float64 { return math.Pow(code, 563.0/256) }

// spread is a set of colors: the corners, gray steps and what lies between.
func spread() (list []color.NRGBA) {
	for _, r := range []uint8{0, 3, 40, 117, 200, 251, 255} {
		for _, g := range []uint8{0, 8, 51, 128, 230, 255} {
			for _, b := range []uint8{0, 5, 76, 140, 245, 255} {
				list = append(list, color.NRGBA{r, g, b, 255})
			}
		}
	}
	return list
}

// wantSpace checks a transform over the spread. One step is what rounding the
// columns to five digits may cost.
func wantSpace(t *testing.T, colors *transform, p [8]float64, light func(float64) float64) {
	t.Helper()
	if colors == nil {
		t.Fatal("taken for sRGB")
	}
	for _, c := range spread() {
		out := colors.convert([3]uint8{c.R, c.G, c.B})
		want := wantConverted(c, p, light)
		for i, channel := range []uint8{want.R, want.G, want.B} {
			if abs(int(out[i])-int(channel)) > 1 {
				t.Errorf("%v: got %v, want %v", c, out, want)
				break
			}
		}
	}
}

func TestProfilesAgreeWithTheStandards(t *testing.T) {
	cases := []struct {
		name, profile string
		want          [8]float64
		light         func(float64) float64
	}{
		{"Display P3", displayP3Profile(), wantP3, wantLight},
		{"Adobe RGB", adobeRGBProfile(), wantAdobeRGB, adobeLight},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			colors, err := profileColors([]byte(c.profile), modelRGB)
			if err != nil {
				t.Fatal(err)
			}
			wantSpace(t, colors, c.want, c.light)
		})
	}
}

// The same spaces named without a profile.
func TestNamedSpacesAgreeWithTheStandards(t *testing.T) {
	cases := []struct {
		name  string
		head  head
		adobe bool
		want  [8]float64
		light func(float64) float64
	}{
		{"cICP Display P3", head{cicp: []byte{12, 13, 0, 1}}, false, wantP3, wantLight},
		{"Exif R03", head{}, true, wantAdobeRGB, adobeLight},
		{"gAMA 1.0", head{gama: []byte("\x00\x01\x86\xa0")}, false, wantSRGB, func(v float64) float64 { return v }},
		{"cHRM of Display P3", head{chrm: chrm(wantP3)}, false, wantP3, wantLight},
		{"gAMA and cHRM of Adobe RGB", head{chrm: chrm(wantAdobeRGB), gama: []byte("\x00\x00\xb1\x9e")}, false, wantAdobeRGB,
			func(v float64) float64 { return math.Pow(v, 100000.0/45470) }},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			colors, err := colorsOf(c.head, modelRGB, c.adobe)
			if err != nil {
				t.Fatal(err)
			}
			wantSpace(t, colors, c.want, c.light)
		})
	}
}

// chrm writes a cHRM chunk: white first, in 1/100000.
func chrm(p [8]float64) (body []byte) {
	for _, i := range []int{6, 7, 0, 1, 2, 3, 4, 5} {
		body = bigEndian.AppendUint32(body, uint32(math.Round(p[i]*100000)))
	}
	return body
}

// Widely published equivalents, from memory: the corners of sRGB written in
// the larger spaces, rounded to 8 bits. Half a step of green there is up to
// four steps of a channel that ends near zero here, so four are allowed.
func TestPublishedCorners(t *testing.T) {
	cases := []struct {
		name     string
		profile  string
		in, want [3]uint8
	}{
		{"red in Display P3", displayP3Profile(), [3]uint8{234, 51, 35}, [3]uint8{255, 0, 0}},
		{"green in Display P3", displayP3Profile(), [3]uint8{117, 251, 76}, [3]uint8{0, 255, 0}},
		{"blue in Display P3", displayP3Profile(), [3]uint8{0, 0, 245}, [3]uint8{0, 0, 255}},
		{"red in Adobe RGB", adobeRGBProfile(), [3]uint8{219, 0, 0}, [3]uint8{255, 0, 0}},
		{"green in Adobe RGB", adobeRGBProfile(), [3]uint8{144, 255, 60}, [3]uint8{0, 255, 0}},
		{"blue in Adobe RGB", adobeRGBProfile(), [3]uint8{0, 0, 250}, [3]uint8{0, 0, 255}},
		{"white in Display P3", displayP3Profile(), [3]uint8{255, 255, 255}, [3]uint8{255, 255, 255}},
		{"white in Adobe RGB", adobeRGBProfile(), [3]uint8{255, 255, 255}, [3]uint8{255, 255, 255}},
	}
	for _, c := range cases {
		colors, err := profileColors([]byte(c.profile), modelRGB)
		if err != nil {
			t.Fatal(err)
		}
		got := colors.convert(c.in)
		for i := range 3 {
			if abs(int(got[i])-int(c.want[i])) > 4 {
				t.Errorf("%s: got %v, want %v", c.name, got, c.want)
				break
			}
		}
	}
}

// The columns in the profiles in use follow from the chromaticities.
func TestColumnsFollowFromThePrimaries(t *testing.T) {
	cases := map[string]struct {
		space space
		want  [3][3]float64
	}{
		"sRGB": {spaceSRGB, srgbColumns}, "Display P3": {spaceDisplayP3, p3Columns}, "Adobe RGB": {spaceAdobeRGB, adobeRGBColumns},
	}
	for name, c := range cases {
		got, err := c.space.primaries.toPCS()
		if err != nil {
			t.Fatal(err)
		}
		for column := range 3 {
			for row := range 3 {
				if d := math.Abs(got[row][column] - c.want[column][row]); d > 0.0002 {
					t.Errorf("%s column %d row %d: got %.5f, want %.5f", name, column, row, got[row][column], c.want[column][row])
				}
			}
		}
	}
}

// sRGB in all its guises costs nothing.
func TestSRGBIsLeftAlone(t *testing.T) {
	cases := []struct {
		name  string
		head  head
		model colorModel
	}{
		{"nothing said", head{}, modelRGB},
		{"CMYK, nothing said", head{}, modelCMYK},
		{"old profile", head{icc: []byte(srgbProfile())}, modelRGB},
		{"new profile", head{icc: []byte(rgbProfile(srgbFormula, srgbColumns[0], srgbColumns[1], srgbColumns[2]))}, modelRGB},
		{"profile on a gray picture", head{icc: []byte(srgbProfile())}, modelGray},
		{"gray profile with the sRGB curve", head{icc: []byte(grayProfile(srgbFormula))}, modelGray},
		{"sRGB chunk", head{srgb: true, gama: []byte{0, 1, 0x86, 0xa0}}, modelRGB},
		{"gAMA of sRGB", head{gama: []byte{0, 0, 0xb1, 0x8f}}, modelRGB},
		{"gAMA and cHRM of sRGB", head{gama: []byte{0, 0, 0xb1, 0x8f}, chrm: chrm(wantSRGB)}, modelRGB},
		{"cICP of sRGB", head{cicp: []byte{1, 13, 0, 1}, icc: []byte(displayP3Profile())}, modelRGB},
		{"unknown cICP before a profile", head{cicp: []byte{9, 16, 0, 1}, icc: []byte(srgbProfile())}, modelRGB},
		{"profile before the chunks", head{icc: []byte(srgbProfile()), gama: []byte{0, 1, 0x86, 0xa0}}, modelRGB},
	}
	for _, c := range cases {
		colors, err := colorsOf(c.head, c.model, false)
		if err != nil || colors != nil {
			t.Errorf("%s: got %v, %v; want nothing to do", c.name, colors != nil, err)
		}
	}
	// The camera's mark for Adobe RGB gives way to what the file itself says.
	colors, err := colorsOf(head{icc: []byte(srgbProfile())}, modelRGB, true)
	if err != nil || colors != nil {
		t.Errorf("Exif mark beside a profile: got %v, %v; want nothing to do", colors != nil, err)
	}
}

func TestColorsThatCannotBeFollowed(t *testing.T) {
	p3 := displayP3Profile()
	red, green, blue := p3Columns[0], p3Columns[1], p3Columns[2]
	lab := strings.Replace(p3, "XYZ ", "Lab ", 1)
	cases := []struct {
		name  string
		head  head
		model colorModel
		says  string
	}{
		{"tables", head{icc: []byte(tableProfile("RGB "))}, modelRGB, "tables"},
		{"ink tables", head{icc: []byte(tableProfile("CMYK"))}, modelCMYK, "tables"},
		{"Lab connection", head{icc: []byte(lab)}, modelRGB, "tables"},
		{"device link", head{icc: []byte(strings.Replace(p3, "mntr", "link", 1))}, modelRGB, "tables"},
		{"ink profile on RGB", head{icc: []byte(tableProfile("CMYK"))}, modelRGB, "another kind of picture"},
		{"gray profile on RGB", head{icc: []byte(grayProfile(srgbFormula))}, modelRGB, "another kind of picture"},
		{"RGB profile on CMYK", head{icc: []byte(p3)}, modelCMYK, "another kind of picture"},
		{"too short", head{icc: []byte(p3[:100])}, modelRGB, "damaged"},
		{"cut short", head{icc: []byte(p3[:len(p3)-1])}, modelRGB, "damaged"},
		{"no mark", head{icc: []byte(strings.Replace(p3, "acsp", "ACSP", 1))}, modelRGB, "damaged"},
		{"countless tags", head{icc: []byte(p3[:128] + "\xff\xff\xff\xff" + p3[132:])}, modelRGB, "damaged"},
		{"no matrix", head{icc: []byte(strings.Replace(p3, "gXYZ", "gYYZ", 1))}, modelRGB, "damaged"},
		{"no green curve", head{icc: []byte(strings.Replace(p3, "gTRC", "gTRD", 1))}, modelRGB, "damaged"},
		{"unknown curve", head{icc: []byte(rgbProfile("vcgt"+string(make([]byte, 20)), red, green, blue))}, modelRGB, "damaged"},
		{"curve cut short", head{icc: []byte(rgbProfile("curv\x00\x00\x00\x00\x00\x00\x01\x00\x00\x00", red, green, blue))}, modelRGB, "damaged"},
		{"formula cut short", head{icc: []byte(rgbProfile(formulaTag(4, 2.4), red, green, blue))}, modelRGB, "damaged"},
		{"formula unknown", head{icc: []byte(rgbProfile(formulaTag(5, 1, 1, 1, 1, 1, 1, 1), red, green, blue))}, modelRGB, "damaged"},
		{"white that is pink", head{icc: []byte(rgbProfile(srgbFormula, [3]float64{0.7, 0.4, 0.1}, green, blue))}, modelRGB, "damaged"},
		{"unreadable", head{iccErr: errPieces}, modelRGB, "damaged"},
		{"high dynamic range", head{cicp: []byte{9, 16, 0, 1}}, modelRGB, "high dynamic range"},
		{"cICP of rare primaries", head{cicp: []byte{9, 13, 0, 1}}, modelRGB, "rare color system"},
		{"gray curve damaged", head{icc: []byte(grayProfile("curv"))}, modelGray, "damaged"},
		{"cICP of the wrong length", head{cicp: []byte{1, 13}}, modelRGB, "high dynamic range"},
		{"gAMA of zero", head{gama: make([]byte, 4)}, modelRGB, "damaged"},
		{"cHRM of zeros", head{chrm: make([]byte, 32)}, modelRGB, "damaged"},
		{"cHRM on a line", head{chrm: chrm([8]float64{0.3, 0.3, 0.3, 0.3, 0.3, 0.3, 0.3, 0.3})}, modelRGB, "damaged"},
		{"cHRM cut short", head{chrm: make([]byte, 31)}, modelRGB, "damaged"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			_, err := colorsOf(c.head, c.model, false)
			wantRefusal(t, err, ErrColors, c.says)
			if !strings.Contains(err.Error(), "sRGB") {
				t.Errorf("does not say the way out: %s", err)
			}
		})
	}
}

// The curves of ICC.1 against their formulas at a few places.
func TestCurves(t *testing.T) {
	cases := []struct {
		name, tag string
		want      map[float64]float64
	}{
		{"identity", samplesTag(), map[float64]float64{0: 0, 0.3: 0.3, 1: 1}},
		{"exponent 2", samplesTag(512), map[float64]float64{0: 0, 0.5: 0.25, 1: 1}},
		{"two samples", samplesTag(0, 65535), map[float64]float64{0: 0, 0.3: 0.3, 1: 1}},
		{"three samples", samplesTag(0, 13107, 65535), map[float64]float64{0.25: 0.1, 0.5: 0.2, 0.75: 0.6, 1: 1}},
		{"kind 0", formulaTag(0, 2), map[float64]float64{0.5: 0.25, 1: 1}},
		{"kind 1", formulaTag(1, 2, 2, -1), map[float64]float64{0.25: 0, 0.5: 0, 0.75: 0.25, 1: 1}},
		{"kind 2", formulaTag(2, 2, 2, -1, 0.25), map[float64]float64{0.25: 0.25, 0.75: 0.5}},
		{"kind 3", srgbFormula, map[float64]float64{0.02: wantLight(0.02), 0.5: wantLight(0.5), 1: 1}},
		{"kind 4", formulaTag(4, 2, 1, 0, 0.5, 0.5, 0.125, 0.0625), map[float64]float64{0.25: 0.1875, 0.5: 0.375, 1: 1.125}},
	}
	for _, c := range cases {
		light, err := readCurve([]byte(c.tag))
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		for in, want := range c.want {
			if got := light(in); math.Abs(got-want) > 0.0001 {
				t.Errorf("%s at %v: got %v, want %v", c.name, in, got, want)
			}
		}
	}
}

// From the file to the picture: the profile is found, put together and used.
func TestColorsInWholePhotos(t *testing.T) {
	plain := quarters(500, 300)
	jpg, png := asJPEG(t, plain, 95), asPNG(t, plain)
	dark := grayPicture()
	r03 := exifData(binary.LittleEndian, nil, nil, nil, []exifField{{1, "R03"}})
	cases := []struct {
		name  string
		data  []byte
		p     [8]float64
		light func(float64) float64
	}{
		{"JPEG, Display P3", inPieces(jpg, displayP3Profile(), 60000), wantP3, wantLight},
		{"JPEG, Adobe RGB in pieces", inPieces(jpg, adobeRGBProfile(), 100), wantAdobeRGB, adobeLight},
		{"JPEG, Exif R03", withSegment(jpg, 0xe1, "Exif\x00\x00"+r03), wantAdobeRGB, adobeLight},
		{"JPEG, sRGB", inPieces(jpg, srgbProfile(), 60000), wantSRGB, wantLight},
		{"PNG, Display P3", withChunk(png, "iCCP", packedProfile(displayP3Profile())), wantP3, wantLight},
		{"PNG, cHRM", withChunk(png, "cHRM", string(chrm(wantP3))), wantP3, wantLight},
		{"gray PNG, exponent 1.8", withChunk(asPNG(t, dark), "iCCP", packedProfile(grayProfile(formulaTag(0, 1.8)))), wantSRGB,
			func(v float64) float64 { return math.Pow(v, 1.8) }},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			want := quarterColors
			if strings.HasPrefix(c.name, "gray") {
				want = grays()
			}
			for i := range want {
				want[i] = wantConverted(want[i], c.p, c.light)
			}
			for _, r := range mustMake(t, c.data).Renditions {
				wantQuarters(t, decodeJPEG(t, r.JPEG), want, 5)
			}
		})
	}
	for name, data := range map[string][]byte{
		"piece missing":         withSegment(jpg, 0xe2, "ICC_PROFILE\x00\x01\x02"+displayP3Profile()),
		"piece doubled":         inPieces(inPieces(jpg, srgbProfile(), 60000), srgbProfile(), 60000),
		"one piece for another": withSegment(withSegment(jpg, 0xe2, "ICC_PROFILE\x00\x01\x02"+srgbProfile()), 0xe2, "ICC_PROFILE\x00\x01\x02"),
		"piece out of count":    withSegment(jpg, 0xe2, "ICC_PROFILE\x00\x02\x01"+srgbProfile()),
		"not compressed":        withChunk(png, "iCCP", "name\x00\x00"+displayP3Profile()),
		"no name":               withChunk(png, "iCCP", "name"),
		"endless":               withChunk(png, "iCCP", packedProfile(strings.Repeat("\x00", maxProfile+1))),
	} {
		_, err := Look(data)
		if !errors.Is(err, ErrColors) {
			t.Errorf("%s: Look says %v", name, err)
		}
	}
}

func grayPicture() *image.Gray {
	pic := image.NewGray(image.Rect(0, 0, 500, 300))
	colored := quarters(500, 300)
	for y := range 300 {
		for x := range 500 {
			pic.Set(x, y, colored.At(x, y))
		}
	}
	return pic
}

// Converting the small picture instead of the photo moves nothing that can be
// seen.
func TestColorsAfterTheShrink(t *testing.T) {
	colors, err := profileColors([]byte(adobeRGBProfile()), modelRGB)
	if err != nil {
		t.Fatal(err)
	}
	before := scene(1500, 1000)
	after := imaging.Resize(before, 600, 400, imaging.Lanczos)
	colors.apply(after)
	colors.apply(before)
	got := psnr(imaging.Resize(before, 600, 400, imaging.Lanczos), after)
	t.Logf("converted after the shrink against before: %.1f dB", got)
	if got < 45 {
		t.Errorf("%.1f dB, want 45 or more", got)
	}
}
