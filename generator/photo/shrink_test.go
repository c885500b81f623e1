package photo

import (
	"flag"
	"image"
	"image/color"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"github.com/disintegration/imaging"
	"github.com/google/go-cmp/cmp"
)

// decibels is the least that the pictures may be like those of the Lanczos
// filter over the whole photo at once. Above 38 dB the two cannot be told apart
// at this size.
const decibels = 38

// .ci/bench gives real photographs, which are too large for this repository.
var photographs = flag.String("photographs", "", "a folder with JPEGs that are to keep their likeness as well")

// A photo of each kind that is likely to come off worst, shrunk as far as Make
// would shrink a photo of 12 or 48 megapixels, in a quarter of the size.
func TestQuickPicturesAreLikeDirectOnes(t *testing.T) {
	kinds := map[string]image.Image{"scene": scene(2016, 1512), "grain": grained(scene(2016, 1512))}
	for name, drawn := range kinds {
		file := asJPEG(t, drawn, 92)
		for _, c := range []struct {
			name        string
			orientation int
			sizes       []Size
		}{
			{"12 megapixels", 1, []Size{{200, 150}, {400, 300}, {800, 600}}},
			{"12 megapixels, odd", 3, []Size{{199, 149}, {401, 301}, {801, 601}}},
			{"12 megapixels, portrait", 6, []Size{{200, 267}, {400, 533}, {800, 1067}}},
			{"48 megapixels", 1, []Size{{100, 75}, {200, 150}, {400, 300}}},
			{"48 megapixels, portrait", 8, []Size{{100, 133}, {200, 267}, {400, 533}}},
		} {
			t.Run(name+", "+c.name, func(t *testing.T) {
				wantLikeness(t, file, c.orientation, c.sizes)
			})
		}
	}
}

// Where strong colors change from pixel to pixel, a JPEG's one color sample for
// four pixels loses far more than 38 dB allow, whoever makes it. The quick way
// filters the color samples where the encoder averages them; it may lose no
// more than that does, give or take a decibel.
func TestFineColorsLoseNoMoreThanInAnyJPEG(t *testing.T) {
	file := asJPEG(t, wires(2016, 1512), 92)
	photo := decodeJPEG(t, file)
	sizes := []Size{{200, 150}, {400, 300}, {800, 600}}
	for i, pic := range pictures(decoded(t, file, 1, sizes), 1, sizes, nil) {
		direct := imaging.Resize(photo, sizes[i].Width, sizes[i].Height, imaging.Lanczos)
		quick, encoded := psnr(direct, imaging.Clone(pic)), psnr(direct, coarse(direct))
		t.Logf("%v: quick %.1f dB, direct in 4:2:0 %.1f dB", sizes[i], quick, encoded)
		if quick < encoded-1 {
			t.Errorf("%v: %.1f dB, the direct way loses to %.1f dB in 4:2:0", sizes[i], quick, encoded)
		}
		if encoded > decibels {
			t.Errorf("%v: %.1f dB, so these colors are not fine", sizes[i], encoded)
		}
	}
}

func TestPhotographsKeepTheirLikeness(t *testing.T) {
	if *photographs == "" {
		*photographs = filepath.Join("..", "..", "content-example")
	}
	var names []string
	err := filepath.WalkDir(*photographs, func(name string, _ os.DirEntry, err error) error {
		if filepath.Ext(name) == ".jpg" {
			names = append(names, name)
		}
		return err
	})
	if err != nil || len(names) == 0 {
		t.Fatalf("no photographs in %s: %v", *photographs, err)
	}
	least := math.Inf(1)
	for _, name := range names {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		look, err := examine(data)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		t.Run(filepath.Base(name), func(t *testing.T) {
			least = min(least, wantLikeness(t, data, look.info.Orientation, Sizes(look.info)))
		})
	}
	t.Logf("%d photographs, the least like the direct way: %.1f dB", len(names), least)
}

// wantLikeness returns the least decibels of all the sizes. Both sides are
// compared with one color sample for four pixels, as a JPEG keeps them, because
// what that loses is not the quick way's doing. The direct way begins with
// image/jpeg, at full size.
func wantLikeness(t *testing.T, file []byte, orientation int, sizes []Size) float64 {
	t.Helper()
	photo, least := decodeJPEG(t, file), math.Inf(1)
	for i, pic := range pictures(decoded(t, file, orientation, sizes), orientation, sizes, nil) {
		stored := upright(orientation, sizes[i].Width, sizes[i].Height)
		direct := upturned(imaging.Resize(photo, stored.Width, stored.Height, imaging.Lanczos), orientation)
		got := psnr(coarse(imaging.Clone(direct)), coarse(imaging.Clone(pic)))
		t.Logf("%d x %d: %.1f dB", sizes[i].Width, sizes[i].Height, got)
		if got < decibels {
			t.Errorf("%v: %.1f dB, want %d or more", sizes[i], got, decibels)
		}
		least = min(least, got)
	}
	return least
}

// decoded reads a photo as Make does for pictures of the sizes, whatever
// orientation it says itself.
func decoded(t *testing.T, file []byte, orientation int, sizes []Size) image.Image {
	t.Helper()
	look, err := examine(file)
	if err != nil {
		t.Fatal(err)
	}
	stored := upright(look.info.Orientation, look.info.Width, look.info.Height)
	seen := upright(orientation, stored.Width, stored.Height)
	photo, err := decode(file, Info{Format: "jpeg", Width: seen.Width, Height: seen.Height, Orientation: orientation}, sizes[len(sizes)-1])
	if err != nil {
		t.Fatal(err)
	}
	return photo
}

// The floor means something: what a hasty hand might do falls below it.
func TestHastyPicturesAreNotLikeDirectOnes(t *testing.T) {
	photo := decodeJPEG(t, asJPEG(t, scene(2000, 1500), 92))
	direct := coarse(imaging.Resize(photo, 800, 600, imaging.Lanczos))
	shifted := image.NewNRGBA(direct.Rect)
	copy(shifted.Pix[4:], direct.Pix)
	for name, hasty := range map[string]*image.NRGBA{
		"skipping pixels":     imaging.Resize(imaging.Resize(photo, 1000, 750, imaging.NearestNeighbor), 800, 600, imaging.Lanczos),
		"a pixel to the side": shifted,
	} {
		if got := psnr(direct, coarse(hasty)); got >= decibels {
			t.Errorf("%s: %.1f dB, so this scene proves nothing", name, got)
		}
	}
}

// wires draws a loom of wires in strong colors, a few pixels wide in the
// largest picture, where color samples of half the size lose most.
func wires(w, h int) *image.NRGBA {
	pic := scene(w, h)
	for y := range h {
		for x := range w {
			wire := (3*x + y + 1000) / 60
			if part := (3*x + y + 1000) % 60; part < 48 {
				c := quarterColors[wire%3]
				light := 0.6 + 0.5*math.Sin(math.Pi*float64(part)/48)
				pic.SetNRGBA(x, y, color.NRGBA{byteOf(light * float64(c.R)), byteOf(light * float64(c.G)), byteOf(light * float64(c.B)), 255})
			}
		}
	}
	return pic
}

// grained adds the grain of a small sensor in poor light.
func grained(pic *image.NRGBA) *image.NRGBA {
	random := rand.New(rand.NewPCG(1, 2))
	for i := range pic.Pix {
		if i%4 != 3 {
			pic.Pix[i] = byteOf(float64(pic.Pix[i]) + 15*random.NormFloat64())
		}
	}
	return pic
}

// coarse gives each block of two by two pixels one color, as 4:2:0 does.
func coarse(pic *image.NRGBA) *image.NRGBA {
	w, h := pic.Rect.Dx(), pic.Rect.Dy()
	at := func(x, y int) (y8, cb, cr uint8) {
		c := pic.NRGBAAt(min(x, w-1), min(y, h-1))
		return color.RGBToYCbCr(c.R, c.G, c.B)
	}
	out := image.NewNRGBA(pic.Rect)
	for y := 0; y < h; y += 2 {
		for x := 0; x < w; x += 2 {
			var cb, cr int
			for i := range 4 {
				_, b, r := at(x+i%2, y+i/2)
				cb, cr = cb+int(b), cr+int(r)
			}
			for i := range 4 {
				luma, _, _ := at(x+i%2, y+i/2)
				r, g, b := color.YCbCrToRGB(luma, uint8((cb+2)/4), uint8((cr+2)/4))
				if p := image.Pt(x+i%2, y+i/2); p.In(out.Rect) {
					out.SetNRGBA(p.X, p.Y, color.NRGBA{r, g, b, 255})
				}
			}
		}
	}
	return out
}

// upturned is turn by the hand of imaging, which counts its rotations
// counterclockwise.
func upturned(pic image.Image, orientation int) *image.NRGBA {
	return []func(image.Image) *image.NRGBA{
		imaging.Clone, imaging.FlipH, imaging.Rotate180, imaging.FlipV,
		imaging.Transpose, imaging.Rotate270, imaging.Transverse, imaging.Rotate90,
	}[orientation-1](pic)
}

func TestThinned(t *testing.T) {
	pic := image.NewYCbCr(image.Rect(0, 0, 5, 3), image.YCbCrSubsampleRatio444)
	copy(pic.Cb, []uint8{
		0, 4, 10, 10, 7,
		8, 12, 10, 11, 8,
		1, 2, 200, 255, 90,
	})
	copy(pic.Cr, pic.Cb)
	copy(pic.Y, pic.Cb)
	got := thinned(pic)
	want := []uint8{
		6, 10, 8, // 41/4 is nearest to 10, and of 7 and 8 the upper counts
		2, 228, 90, // 455/2 likewise
	}
	if diff := cmp.Diff([][]uint8{pic.Y, want, want}, [][]uint8{got.Y, got.Cb, got.Cr}); diff != "" {
		t.Errorf("(-want, +got):\n%s", diff)
	}
	if got.SubsampleRatio != image.YCbCrSubsampleRatio420 || got.Rect != pic.Rect {
		t.Errorf("%v %v", got.SubsampleRatio, got.Rect)
	}
	if again := thinned(got); again != got {
		t.Error("a thin picture was thinned again")
	}
	for _, size := range []image.Point{{1, 5}, {5, 1}, {1, 2}, {2, 1}} {
		thin := thinned(image.NewYCbCr(image.Rectangle{Max: size}, image.YCbCrSubsampleRatio444))
		if want := image.NewYCbCr(thin.Rect, image.YCbCrSubsampleRatio420); thin.SubsampleRatio != want.SubsampleRatio || len(thin.Cb) != len(want.Cb) || thin.CStride != want.CStride {
			t.Errorf("%v: %v, %d color samples in rows of %d, want %d in rows of %d", size, thin.SubsampleRatio, len(thin.Cb), thin.CStride, len(want.Cb), want.CStride)
		}
	}
}

func TestTurn(t *testing.T) {
	for _, size := range []image.Point{{6, 4}, {5, 3}, {1, 7}} {
		pic := inPlanes(imaging.Clone(scene(size.X, size.Y)))
		for orientation := 1; orientation <= 8; orientation++ {
			if diff := cmp.Diff(upturned(pic, orientation), imaging.Clone(turn(pic, orientation))); diff != "" {
				t.Errorf("%v, orientation %d (-imaging, +got):\n%s", size, orientation, diff)
			}
		}
	}
}

// Three rows at a time come out as imaging has them one by one.
func TestPlanesAreResizedLikeGrayPictures(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 4))
	for _, from := range []image.Point{{60, 45}, {61, 46}, {40, 44}, {1, 1}, {2, 90}, {90, 1}} {
		for _, to := range []image.Point{{40, 30}, {30, 46}, {1, 1}, {60, 47}, {80, 99}} {
			var planes []plane
			var want, got []*image.NRGBA
			for range 2 {
				gray := image.NewGray(image.Rect(0, 0, from.X, from.Y))
				for i := range gray.Pix {
					gray.Pix[i] = uint8(random.Uint32())
				}
				planes = append(planes, plane{gray.Pix, gray.Stride, from.X, from.Y})
				want = append(want, imaging.Resize(gray, to.X, to.Y, imaging.Lanczos))
			}
			for _, p := range resized(planes, Size{to.X, to.Y}) {
				got = append(got, imaging.Clone(&image.Gray{Pix: p.pix, Stride: p.stride, Rect: image.Rect(0, 0, p.w, p.h)}))
			}
			if diff := cmp.Diff(want, got); diff != "" {
				t.Errorf("%v to %v (-imaging, +got):\n%s", from, to, diff)
			}
		}
	}
}

// Each sample is the average of four, rounded.
func TestHalvingAverages(t *testing.T) {
	full := plane{[]uint8{10, 20, 255, 255, 0, 30, 41, 255, 254, 0}, 5, 4, 2}
	want := []plane{{[]uint8{25, 255}, 2, 2, 1}}
	if diff := cmp.Diff(want, halved([]plane{full}, Size{1, 0}), cmp.AllowUnexported(plane{})); diff != "" {
		t.Errorf("(-want, +got):\n%s", diff)
	}
}

func TestHowFarAPlaneIsHalved(t *testing.T) {
	cases := []struct {
		w, h int
		want Size
	}{
		{250, 250, Size{125, 125}},
		{248, 250, Size{248, 250}}, // less than 1.25 times the target would be left
		{250, 248, Size{250, 248}},
		{500, 500, Size{125, 125}},
		{502, 500, Size{251, 250}},
		{251, 250, Size{251, 250}},
		{250, 251, Size{250, 251}},
		{100, 100, Size{100, 100}},
		{80, 80, Size{80, 80}},
	}
	for _, c := range cases {
		got := halved([]plane{newPlane(c.w, c.h, c.w)}, Size{100, 100})[0]
		if (Size{got.w, got.h}) != c.want {
			t.Errorf("%d x %d: got %d x %d, want %v", c.w, c.h, got.w, got.h, c.want)
		}
	}
}

// Color samples are resized by themselves only where they end where the
// brightness does.
func TestWhichPicturesComeInPlanes(t *testing.T) {
	const odd, even = 51, 52
	for ratio, want := range map[image.YCbCrSubsampleRatio][4]bool{ // even, odd width, odd height, both
		image.YCbCrSubsampleRatio444: {true, true, true, true},
		image.YCbCrSubsampleRatio440: {true, true, false, false},
		image.YCbCrSubsampleRatio422: {true, false, true, false},
		image.YCbCrSubsampleRatio420: {true, false, false, false},
		image.YCbCrSubsampleRatio411: {true, false, true, false},
		image.YCbCrSubsampleRatio410: {true, false, false, false},
	} {
		for i, size := range []image.Point{{even, even}, {odd, even}, {even, odd}, {odd, odd}} {
			luma, chroma, ok := planesOf(image.NewYCbCr(image.Rectangle{Max: size}, ratio))
			if ok != want[i] {
				t.Errorf("%v, %v: got %v, want %v", ratio, size, ok, want[i])
			}
			if ok && luma.w*chroma[0].h != luma.h*chroma[0].w && ratio == image.YCbCrSubsampleRatio420 {
				t.Errorf("%v, %v: brightness %d x %d, colors %d x %d", ratio, size, luma.w, luma.h, chroma[0].w, chroma[0].h)
			}
		}
	}
	for _, pic := range []image.Image{
		image.NewNRGBA(image.Rect(0, 0, even, even)), image.NewGray(image.Rect(0, 0, even, even)),
		image.NewYCbCr(image.Rect(2, 2, even, even), image.YCbCrSubsampleRatio420),
		image.NewYCbCr(image.Rect(0, 0, 50, even), image.YCbCrSubsampleRatio411),
	} {
		if _, _, ok := planesOf(pic); ok {
			t.Errorf("%T %v: taken to be in planes", pic, pic.Bounds())
		}
	}
}
