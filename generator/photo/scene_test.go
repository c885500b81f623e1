package photo

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"math"
	"testing"
)

// scene draws a photo-like picture that is the same every time: soft light,
// grain at several scales, hard edges, thin lines and a fine grille.
func scene(w, h int) *image.NRGBA {
	pic := image.NewNRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			base := 90 + 60*float64(x)/float64(w) + 30*float64(y)/float64(h)
			grain := 40*noise(x, y, 64) + 20*noise(x, y, 16) + 10*noise(x, y, 5) + 6*noise(x, y, 2)
			r, g, b := base+grain, base+grain*0.9-10, base+grain*0.7-25
			switch {
			case math.Hypot(float64(x-w/3), float64(y-h/2)) < float64(h)/5: // a red cover
				r, g, b = r+70, g-40, b-40
			case x > w/2 && y > h/2 && (x/9)%2 == 0: // cooling fins
				r, g, b = r-60, g-60, b-60
			case abs(x-y) < 2 || abs(x+y-w) < 3: // wires
				r, g, b = 20, 20, 24
			}
			pic.SetNRGBA(x, y, color.NRGBA{byteOf(r), byteOf(g), byteOf(b), 255})
		}
	}
	return pic
}

// noise is value noise from -1 to 1 whose lattice has the given pitch.
func noise(x, y, pitch int) float64 {
	fx, fy := float64(x%pitch)/float64(pitch), float64(y%pitch)/float64(pitch)
	x0, y0 := x/pitch, y/pitch
	top := lattice(x0, y0, pitch)*(1-fx) + lattice(x0+1, y0, pitch)*fx
	bottom := lattice(x0, y0+1, pitch)*(1-fx) + lattice(x0+1, y0+1, pitch)*fx
	return top*(1-fy) + bottom*fy
}

func lattice(x, y, salt int) float64 {
	n := uint32(x)*374761393 + uint32(y)*668265263 + uint32(salt)*2246822519
	n = (n ^ n>>13) * 1274126177
	return float64((n^n>>16)&0xffff)/32767.5 - 1
}

func byteOf(v float64) uint8 { return uint8(math.Max(0, math.Min(255, v+0.5))) }

func abs(n int) int { return max(n, -n) }

// quarters is a picture of four flat quarters, none like another: top left
// red, top right green, bottom left blue, bottom right gray.
func quarters(w, h int) *image.NRGBA {
	pic := image.NewNRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			pic.SetNRGBA(x, y, quarterColors[2*(2*y/h)+2*x/w])
		}
	}
	return pic
}

var quarterColors = [4]color.NRGBA{{190, 60, 50, 255}, {70, 170, 80, 255}, {60, 80, 180, 255}, {120, 120, 120, 255}}

// wantQuarters checks the middle of each quarter.
func wantQuarters(t *testing.T, pic image.Image, want [4]color.NRGBA, tolerance int) {
	t.Helper()
	w, h := pic.Bounds().Dx(), pic.Bounds().Dy()
	for i, c := range want {
		wantColor(t, pic, w/4+(i%2)*w/2, h/4+(i/2)*h/2, c, tolerance)
	}
}

func wantColor(t *testing.T, pic image.Image, x, y int, want color.NRGBA, tolerance int) {
	t.Helper()
	got := color.NRGBAModel.Convert(pic.At(x, y)).(color.NRGBA)
	if abs(int(got.R)-int(want.R)) > tolerance || abs(int(got.G)-int(want.G)) > tolerance || abs(int(got.B)-int(want.B)) > tolerance {
		t.Errorf("at %d,%d: got color %v, want %v within %d", x, y, got, want, tolerance)
	}
}

// asJPEG encodes in 4:2:0, the only way image/jpeg writes colors.
func asJPEG(t testing.TB, pic image.Image, quality int) []byte {
	t.Helper()
	var file bytes.Buffer
	if err := jpeg.Encode(&file, pic, &jpeg.Options{Quality: quality}); err != nil {
		t.Fatal(err)
	}
	return file.Bytes()
}

func asPNG(t testing.TB, pic image.Image) []byte {
	t.Helper()
	var file bytes.Buffer
	if err := png.Encode(&file, pic); err != nil {
		t.Fatal(err)
	}
	return file.Bytes()
}

func decodeJPEG(t testing.TB, file []byte) image.Image {
	t.Helper()
	pic, err := jpeg.Decode(bytes.NewReader(file))
	if err != nil {
		t.Fatal(err)
	}
	return pic
}

func mustMake(t testing.TB, data []byte) Clean {
	t.Helper()
	clean, err := Make(data)
	if err != nil {
		t.Fatalf("Make: %v", err)
	}
	return clean
}

// withSegment puts a marker segment right behind the start of a JPEG.
func withSegment(file []byte, marker byte, body string) []byte {
	segment := []byte{0xff, marker}
	segment = binary.BigEndian.AppendUint16(segment, uint16(len(body)+2))
	segment = append(segment, body...)
	return bytes.Join([][]byte{file[:2], segment, file[2:]}, nil)
}

// withChunk puts a chunk right behind the header of a PNG.
func withChunk(file []byte, name, body string) []byte {
	const afterHeader = 8 + 12 + 13
	chunk := binary.BigEndian.AppendUint32(nil, uint32(len(body)))
	chunk = append(chunk, name+body...)
	chunk = binary.BigEndian.AppendUint32(chunk, crc32.ChecksumIEEE([]byte(name+body)))
	return bytes.Join([][]byte{file[:afterHeader], chunk, file[afterHeader:]}, nil)
}

// psnr compares two pictures of one size, in decibels over the three channels.
func psnr(a, b *image.NRGBA) float64 {
	var sum, n float64
	for i := range a.Pix {
		if i%4 != 3 {
			d := float64(a.Pix[i]) - float64(b.Pix[i])
			sum, n = sum+d*d, n+1
		}
	}
	return 10 * math.Log10(255*255/(sum/n))
}
