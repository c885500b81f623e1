package photo

import (
	"errors"
	"fmt"
	"image"
)

// decode reads the pixels of a photo that examine has passed, for pictures up to
// the size given. What it returns has the size that examine measured, or an even
// share of its sides, and is safe to hand to the resizer, whose goroutines nobody
// can rescue from a panic.
func decode(data []byte, info Info, largest Size) (image.Image, error) {
	stored := upright(info.Orientation, info.Width, info.Height)
	if info.Format == "jpeg" {
		target := upright(info.Orientation, largest.Width, largest.Height)
		photo, err := rescued(func() (image.Image, error) { return decodeOrdinary(data, stored.Width, stored.Height, target) })
		if err == nil {
			return photo, nil
		}
	}
	photo, err := rescued(func() (image.Image, error) { return decodePixels(data, info.Format) })
	if err != nil {
		return nil, undecodable(err, sayBadPixels)
	}
	if bounds := photo.Bounds(); bounds.Dx() != stored.Width || bounds.Dy() != stored.Height {
		return nil, refuse(ErrDamaged, nil, sayBadPixels)
	}
	if err := checkPalette(photo); err != nil {
		return nil, refuse(ErrDamaged, err, sayBadPixels)
	}
	if info.Format == "jpeg" {
		if err := checkScans(data); err != nil {
			return nil, refuse(ErrDamaged, err, sayBadPixels)
		}
	}
	return photo, nil
}

// rescued turns a panic of a decoder into an error: one damaged photo must not
// take the whole site down with it.
func rescued(read func() (image.Image, error)) (photo image.Image, err error) {
	defer func() {
		if r := recover(); r != nil {
			photo, err = nil, fmt.Errorf("the decoder gave up: %v", r)
		}
	}()
	return read()
}

var errPalette = errors.New("a pixel's color is not in the palette")

// checkPalette makes sure that every pixel of a paletted picture names a color
// there is. The resizer looks colors up unchecked (CVE-2023-36308). image/png
// extends a short palette itself, so this holds today; it has to hold
// tomorrow.
func checkPalette(photo image.Image) error {
	paletted, ok := photo.(*image.Paletted)
	if !ok {
		return nil
	}
	for _, index := range paletted.Pix {
		if int(index) >= len(paletted.Palette) {
			return errPalette
		}
	}
	return nil
}
