package photo

import (
	"image"
	"image/color"

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

// heightFor keeps the photo's shape at width w, to a pixel. A picture that is
// smaller than its photo is of even height, as JPEG keeps one color sample for
// two rows of pixels: 534 for 400 x 533.3.
func heightFor(info Info, w int) int {
	if w == info.Width {
		return info.Height
	}
	pairs := (int64(info.Height)*int64(w) + int64(info.Width)) / (2 * int64(info.Width)) // rounded half up
	return max(1, 2*int(pairs))
}

// pictures makes the pictures of the given ascending sizes: shrunk, upright, in
// sRGB, on white.
//
// A JPEG stays in the brightness and colors that it was stored in. Its planes
// are halved as far as the largest picture allows, and what is left to do is for
// the Lanczos filter. Each smaller picture is made from the next larger one,
// which costs a fraction of starting over from the photo. (To halve on and on
// instead would save a tenth of the time, and fell to 36 dB of likeness on a
// photograph.) Other photos go through the filter at once.
//
// The turn and the change of colors come after the shrink because a picture is
// so much smaller than a photo; shrinking first moves no color visibly (a test
// measures it). Colors come before the white, which is the page's white.
func pictures(photo image.Image, orientation int, sizes []Size, colors *transform) []*image.YCbCr {
	last := len(sizes) - 1
	luma, chroma, ok := planesOf(photo)
	if !ok {
		stored := upright(orientation, sizes[last].Width, sizes[last].Height)
		largest := imaging.Resize(photo, stored.Width, stored.Height, imaging.Lanczos)
		if colors != nil {
			colors.apply(largest)
			colors = nil
		}
		flatten(largest)
		luma, chroma, _ = planesOf(inPlanes(largest))
	}
	pics := make([]*image.YCbCr, len(sizes))
	for i := last; i >= 0; i-- {
		size := upright(orientation, sizes[i].Width, sizes[i].Height)
		small := chromaSize(size, colors != nil)
		luma, chroma = halved([]plane{luma}, size)[0], halved(chroma, small)
		luma, chroma = resized([]plane{luma}, size)[0], resized(chroma, small)
		pic := joined(luma, chroma)
		if colors != nil {
			pic = converted(pic, colors)
		}
		pics[i] = thinned(turn(pic, orientation))
	}
	return pics
}

func converted(pic *image.YCbCr, colors *transform) *image.YCbCr {
	rgb := imaging.Clone(pic)
	colors.apply(rgb)
	return inPlanes(rgb)
}

// chromaSize is the size of the color planes of a picture. JPEG keeps one color
// sample for four of brightness (4:2:0), so half the sides will do, where that
// is a whole number and the colors need not be changed first.
func chromaSize(size Size, change bool) Size {
	if size.Width%2 != 0 || size.Height%2 != 0 || change {
		return size
	}
	return Size{size.Width / 2, size.Height / 2}
}

// thinned brings a picture to one color sample for four of brightness, the last
// of which hang over odd edges: the average of those that there are.
func thinned(pic *image.YCbCr) *image.YCbCr {
	luma, chroma, ok := planesOf(pic)
	if !ok || pic.SubsampleRatio != image.YCbCrSubsampleRatio444 {
		return pic
	}
	for i, full := range chroma {
		thin := newPlane((full.w+1)/2, (full.h+1)/2, (full.w+1)/2)
		for y := range thin.h {
			upper, lower := full.row(2*y), full.row(min(2*y+1, full.h-1))
			halveRow(thin.row(y)[:full.w/2], upper, lower)
			if last := full.w - 1; last%2 == 0 {
				thin.row(y)[last/2] = uint8((uint16(upper[last]) + uint16(lower[last]) + 1) / 2)
			}
		}
		chroma[i] = thin
	}
	return joined(luma, chroma)
}

// halvable reports whether sides are even and half of them is 1.25 times the
// target or more: closer than that the halving would be seen.
func halvable(w, h int, target Size) bool {
	return w%2 == 0 && h%2 == 0 && 4*(w/2) >= 5*target.Width && 4*(h/2) >= 5*target.Height
}

// halved averages the samples of planes of one size in blocks of two by two,
// again and again, as long as they are [halvable]. The exact filter that follows
// then has a fraction of the samples to read.
func halved(planes []plane, target Size) []plane {
	w, h := planes[0].w, planes[0].h
	if !halvable(w, h, target) {
		return planes
	}
	halves := make([]plane, len(planes))
	for i, p := range planes {
		halves[i] = newPlane(w/2, h/2, w/2)
		for y := range h / 2 {
			halveRow(halves[i].row(y), p.row(2*y), p.row(2*y+1))
		}
	}
	return halved(halves, target)
}

// halveRow averages two rows of samples into one of half the length.
func halveRow(out, upper, lower []uint8) {
	upper, lower = upper[:2*len(out)], lower[:2*len(out)]
	for x := range out {
		sum := uint16(upper[2*x]) + uint16(upper[2*x+1]) + uint16(lower[2*x]) + uint16(lower[2*x+1])
		out[x] = uint8((sum + 2) / 4)
	}
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

// turn undoes an Exif orientation (CIPA DC-008, tag 0x0112).
func turn(pic *image.YCbCr, orientation int) *image.YCbCr {
	luma, chroma, ok := planesOf(pic)
	if orientation == 1 || !ok {
		return pic
	}
	return joined(turned(luma, orientation), []plane{turned(chroma[0], orientation), turned(chroma[1], orientation)})
}

// turned walks the samples in the order in which they are seen upright: from
// the stored place of the top left one, a step for the next to its right and a
// step for the next below.
func turned(p plane, orientation int) plane {
	right, down := p.w-1, (p.h-1)*p.stride // to the last column and row
	steps := [...]struct{ from, across, below int }{
		1: {0, 1, p.stride},
		2: {right, -1, p.stride},
		3: {right + down, -1, -p.stride},
		4: {down, 1, -p.stride},
		5: {0, p.stride, 1},
		6: {down, -p.stride, 1},
		7: {right + down, -p.stride, -1},
		8: {right, p.stride, -1},
	}[orientation]
	size := upright(orientation, p.w, p.h)
	out := newPlane(size.Width, size.Height, size.Width)
	for y := range out.h {
		at := steps.from + y*steps.below
		row := out.row(y)
		for x := range row {
			row[x] = p.pix[at]
			at += steps.across
		}
	}
	return out
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

// inPlanes turns an opaque picture into brightness and colors the way the JPEG
// encoder would.
func inPlanes(pic *image.NRGBA) *image.YCbCr {
	out := image.NewYCbCr(pic.Rect, image.YCbCrSubsampleRatio444)
	for i := range out.Y {
		px := pic.Pix[4*i : 4*i+4 : 4*i+4]
		out.Y[i], out.Cb[i], out.Cr[i] = color.RGBToYCbCr(px[0], px[1], px[2])
	}
	return out
}
