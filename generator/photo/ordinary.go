package photo

import (
	"bytes"
	"errors"
	"image"

	"github.com/gen2brain/jpegn"
)

// decodeOrdinary reads the JPEG that nearly all cameras write: baseline, three
// components in one scan, without restart markers. It takes half the time of
// image/jpeg, and half of that where it can leave out what a picture of the
// target's size would not show: the photo comes out at a whole, a half or a
// quarter of its sides, whichever is the least that [halvable] allows.
//
// Its decoder fills in for what is missing, and half a picture hides what the
// other half would have shown. Where anything may be missing the error is
// errNotOrdinary, as for every other JPEG, and image/jpeg, which fills in for
// nothing, has the last word. (What is filled in is flat. Only a loss within the
// last unit of a scan, 16 by 16 pixels, goes unseen.)
func decodeOrdinary(data []byte, w, h int, target Size) (image.Image, error) {
	if !isOrdinary(data) {
		return nil, errNotOrdinary
	}
	share := 1
	for share < 4 && w%(4*share) == 0 && h%(4*share) == 0 && halvable(w/share, h/share, target) {
		share *= 2 // color samples too, of which there may be half as many, come out whole
	}
	photo, err := jpegn.Decode(bytes.NewReader(data), &jpegn.Options{ScaleDenom: share})
	pic, ok := photo.(*image.YCbCr)
	if err != nil || !ok || pic.Rect != image.Rect(0, 0, w/share, h/share) || endsFlat(pic, 8/share) {
		return nil, errNotOrdinary
	}
	return pic, nil
}

var errNotOrdinary = errors.New("not the ordinary kind of JPEG, or not all of it")

// isOrdinary goes by the segments, and by the end marker after the scan.
func isOrdinary(data []byte) bool {
	const components = 3
	var frames, scans int
	var ended bool
	for marker, body := range jpegSegments(data) {
		switch {
		case marker == markSOF0:
			if len(body) != 6+3*components || body[5] != components {
				return false
			}
			frames++
		case marker == markSOS:
			if len(body) == 0 || body[0] != components {
				return false
			}
			scans++
		case marker == markDRI, marker > markSOF0 && marker < markRST0 && marker != markDHT:
			return false
		case marker == markEOI:
			ended = true
		}
	}
	return frames == 1 && scans == 1 && ended
}

// endsFlat reports whether all blocks of the last unit of a scan are of one
// value each, side samples square: either the photo has a plain corner or the
// scan came to its end before.
func endsFlat(pic *image.YCbCr, side int) bool {
	rows := func(samples []uint8, stride int) int { return len(samples) / stride }
	across, down := pic.YStride/pic.CStride, rows(pic.Y, pic.YStride)/rows(pic.Cb, pic.CStride)
	flat := func(samples []uint8, stride, column, row int) bool { // counted in blocks from the last
		right, bottom := stride-column*side, rows(samples, stride)-row*side
		first := samples[(bottom-side)*stride+right-side]
		for y := bottom - side; y < bottom; y++ {
			for _, sample := range samples[y*stride+right-side : y*stride+right] {
				if sample != first {
					return false
				}
			}
		}
		return true
	}
	for column := range across {
		for row := range down {
			if !flat(pic.Y, pic.YStride, column, row) {
				return false
			}
		}
	}
	return flat(pic.Cb, pic.CStride, 0, 0) && flat(pic.Cr, pic.CStride, 0, 0)
}
