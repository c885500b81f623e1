package photo

import (
	"image"

	"github.com/disintegration/imaging"
)

// Size is the size of a picture in pixels.
type Size struct{ Width, Height int }

// Sizes says what [Make] produces for a photo, from its Info alone, so that a
// photo whose pictures are already there need not be decoded. Ascending
// widths: those of [Widths] below the photo's own, and as the largest either
// the last of Widths or the photo's own width, whichever is less. A photo 1000
// wide gives 400, 800 and 1000; one 300 wide gives 300. Nil for an Info
// without a size.
func Sizes(info Info) []Size {
	if info.Width <= 0 || info.Height <= 0 {
		return nil
	}
	largest := min(info.Width, Widths[len(Widths)-1])
	var sizes []Size
	for _, w := range Widths {
		if w < largest {
			sizes = append(sizes, Size{w, heightFor(info, w)})
		}
	}
	return append(sizes, Size{largest, heightFor(info, largest)})
}

// heightFor keeps the photo's shape at width w, rounded half up, at least 1.
func heightFor(info Info, w int) int {
	h := (2*int64(info.Height)*int64(w) + int64(info.Width)) / (2 * int64(info.Width))
	return max(1, int(h))
}

// halve averages the brightness of a 4:2:0 photo in blocks of two by two and
// takes its color planes as they are: they have that size already, and JPEG
// places their samples in the middle of just those blocks. The exact filter
// that follows then has a quarter of the pixels to read. The photo comes back
// untouched when it is stored another way, when a side is odd, or when halving
// would leave less than 1.25 times the target, which is the width of the
// largest picture, upright; closer than that the averaging would be seen.
//
// The color planes of the result are those of the photo, not a copy.
func halve(photo image.Image, orientation, target int) image.Image {
	full, ok := photo.(*image.YCbCr)
	if !ok || full.SubsampleRatio != image.YCbCrSubsampleRatio420 || full.Rect.Min != (image.Point{}) {
		return photo
	}
	w, h := full.Rect.Dx(), full.Rect.Dy()
	if w%2 != 0 || h%2 != 0 || 4*(upright(orientation, w, h).Width/2) < 5*target {
		return photo
	}
	w, h = w/2, h/2
	luma := make([]uint8, w*h)
	for y := range h {
		halveRow(luma[y*w:(y+1)*w], full.Y[2*y*full.YStride:], full.Y[(2*y+1)*full.YStride:])
	}
	return &image.YCbCr{
		Y: luma, Cb: full.Cb, Cr: full.Cr, YStride: w, CStride: full.CStride,
		SubsampleRatio: image.YCbCrSubsampleRatio444, Rect: image.Rect(0, 0, w, h),
	}
}

// halveRow averages two rows of samples into one of half the length.
func halveRow(out, upper, lower []uint8) {
	upper, lower = upper[:2*len(out)], lower[:2*len(out)]
	for x := range out {
		sum := uint16(upper[2*x]) + uint16(upper[2*x+1]) + uint16(lower[2*x]) + uint16(lower[2*x+1])
		out[x] = uint8((sum + 2) / 4)
	}
}

// develop makes the largest picture: shrunk, upright, in sRGB, on white. The
// turn and the colors come after the shrink because the picture is so much
// smaller than the photo; shrinking first moves no color visibly (the test
// measures it). Colors come before the white, which is the page's white.
func develop(photo image.Image, orientation int, size Size, colors *transform) *image.NRGBA {
	stored := upright(orientation, size.Width, size.Height)
	pic := imaging.Resize(photo, stored.Width, stored.Height, imaging.Lanczos)
	pic = turn(pic, orientation)
	if colors != nil {
		colors.apply(pic)
	}
	flatten(pic)
	return pic
}

// upright swaps the sides for the orientations that lie on their side (5 to
// 8). It is its own inverse: it takes the stored size to the upright one and
// back.
func upright(orientation, w, h int) Size {
	if orientation >= 5 {
		return Size{h, w}
	}
	return Size{w, h}
}

// turn undoes an Exif orientation (CIPA DC-008, tag 0x0112). imaging counts
// its rotations counterclockwise.
func turn(pic *image.NRGBA, orientation int) *image.NRGBA {
	switch orientation {
	case 2:
		return imaging.FlipH(pic)
	case 3:
		return imaging.Rotate180(pic)
	case 4:
		return imaging.FlipV(pic)
	case 5:
		return imaging.Transpose(pic)
	case 6:
		return imaging.Rotate270(pic)
	case 7:
		return imaging.Transverse(pic)
	case 8:
		return imaging.Rotate90(pic)
	}
	return pic
}

// flatten lays the picture on white, in place.
func flatten(pic *image.NRGBA) {
	for i := 0; i+3 < len(pic.Pix); i += 4 {
		px := pic.Pix[i : i+4 : i+4]
		if px[3] == 255 {
			continue
		}
		a := uint32(px[3])
		for c := range 3 {
			px[c] = uint8((uint32(px[c])*a + 255*(255-a) + 127) / 255)
		}
		px[3] = 255
	}
}
