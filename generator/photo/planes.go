package photo

import (
	"image"
	"slices"
	"sync"

	"github.com/disintegration/imaging"
)

// A plane is one channel of a picture: h rows of w samples, a byte each, that
// begin stride bytes apart.
type plane struct {
	pix          []uint8
	stride, w, h int
}

func newPlane(w, h, stride int) plane {
	return plane{make([]uint8, stride*h), stride, w, h}
}

func (p plane) row(y int) []uint8 { return p.pix[y*p.stride : y*p.stride+p.w] }

// planesOf parts a picture into its brightness and its two color planes. It
// reports false when the color samples do not cover the same ground as the
// brightness: the last of them hangs over an odd edge, and would be drawn to
// the wrong place by a resize of its own.
func planesOf(photo image.Image) (luma plane, chroma []plane, ok bool) {
	pic, ok := photo.(*image.YCbCr)
	if !ok {
		return plane{}, nil, false
	}
	w, h := pic.Rect.Dx(), pic.Rect.Dy()
	across, down := 1, 1
	switch pic.SubsampleRatio {
	case image.YCbCrSubsampleRatio444:
	case image.YCbCrSubsampleRatio440:
		down = 2
	case image.YCbCrSubsampleRatio422:
		across = 2
	case image.YCbCrSubsampleRatio420:
		across, down = 2, 2
	case image.YCbCrSubsampleRatio411:
		across = 4
	case image.YCbCrSubsampleRatio410:
		across, down = 4, 2
	default:
		return plane{}, nil, false
	}
	if w%across != 0 || h%down != 0 || pic.Rect.Min != (image.Point{}) {
		return plane{}, nil, false
	}
	color := plane{stride: pic.CStride, w: w / across, h: h / down}
	cb, cr := color, color
	cb.pix, cr.pix = pic.Cb, pic.Cr
	return plane{pic.Y, pic.YStride, w, h}, []plane{cb, cr}, true
}

// joined puts planes together to a picture, the color planes being as large as
// the brightness (4:4:4) or half as wide and high (4:2:0).
func joined(luma plane, chroma []plane) *image.YCbCr {
	ratio := image.YCbCrSubsampleRatio444
	if chroma[0].w < luma.w || chroma[0].h < luma.h { // half of a single column is one
		ratio = image.YCbCrSubsampleRatio420
	}
	return &image.YCbCr{
		Y: luma.pix, Cb: chroma[0].pix, Cr: chroma[1].pix, YStride: luma.stride, CStride: chroma[0].stride,
		SubsampleRatio: ratio, Rect: image.Rect(0, 0, luma.w, luma.h),
	}
}

// resized brings planes of one size to another with the Lanczos filter.
func resized(planes []plane, size Size) []plane {
	return resizedAcross(resizedAcross(planes, size.Width), size.Height)
}

// packs are pictures whose memory is used again: they are large, and every photo
// needs some.
var packs = sync.Pool{New: func() any { return new(image.NRGBA) }}

// lanes is how many rows ride side by side through the resizer.
const lanes = 3

// resizedAcross brings the rows of planes of one size to another length, and
// gives the planes back with rows and columns changed over: two calls are a
// whole resize, and both read along the rows. imaging resizes three colors at a
// time and never mixes them, so three rows of a plane are handed to it as the
// red, green and blue of one. Each sample comes out as it would from a gray
// picture, for a third of the work.
func resizedAcross(planes []plane, width int) []plane {
	w, h := planes[0].w, planes[0].h
	lines := (h + lanes - 1) / lanes
	packed := packs.Get().(*image.NRGBA)
	packed.Rect, packed.Stride = image.Rect(0, 0, w, lines*len(planes)), 4*w
	packed.Pix = slices.Grow(packed.Pix[:0], 4*w*packed.Rect.Dy())[:4*w*packed.Rect.Dy()]
	for i, p := range planes {
		for line := range lines {
			y := lanes * line
			packRows(packed.Pix[(i*lines+line)*packed.Stride:], p.row(y), p.row(min(y+1, h-1)), p.row(min(y+2, h-1)))
		}
	}
	resized := imaging.Resize(packed, width, packed.Rect.Dy(), imaging.Lanczos)
	packs.Put(packed)
	out := make([]plane, len(planes))
	for i := range out {
		out[i] = newPlane(h, width, lanes*lines)
		for line := range lines {
			unpackColumns(out[i].pix[lanes*line:], out[i].stride, resized.Pix[(i*lines+line)*resized.Stride:][:4*width])
		}
	}
	return out
}

// packRows lays three rows side by side, opaque.
func packRows(out, r, g, b []uint8) {
	out, g, b = out[:4*len(r)], g[:len(r)], b[:len(r)]
	for x := range r {
		px := out[4*x : 4*x+4 : 4*x+4]
		px[0], px[1], px[2], px[3] = r[x], g[x], b[x], 255
	}
}

// unpackColumns stands three rows that lie side by side up as three columns.
func unpackColumns(out []uint8, stride int, packed []uint8) {
	for at := 0; len(packed) >= 4; packed = packed[4:] {
		column := out[at : at+lanes : at+lanes]
		column[0], column[1], column[2] = packed[0], packed[1], packed[2]
		at += stride
	}
}
