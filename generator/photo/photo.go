// Package photo turns a photo as a phone or camera wrote it into the clean
// pictures a page shows: JPEG in up to three widths, upright, in sRGB colors,
// and without a byte of the original's metadata. A phone writes the shop's
// position into every photo; the pictures are encoded afresh from the pixels,
// so nothing of that can come through.
//
// [Look] reads the head of a file and says what it is, or why it cannot be
// used, in words for the mechanic. [Make] does the work. Both take the bytes
// of the file and touch no disk. JPEG and PNG are read; HEIC, WebP and the
// rest are recognized and refused with the way out ([ErrHEIC] lets a caller
// convert first). Moving pictures, HDR gain maps and thumbnails inside a file
// are left behind.
//
// The same bytes give the same pictures on one kind of processor; another
// kind may round a pixel differently, because the resize works in floating
// point.
package photo

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"image"

	"github.com/gen2brain/jpegn"
)

// Widths are the widths of the pictures in pixels, ascending. No picture is
// ever wider than its photo; see [Sizes].
var Widths = []int{400, 800, 1600}

// quality is the JPEG quality of the pictures, on the scale of 100 that encoders share.
const quality = 80

// settings names the pipeline. Change it with anything that changes the bytes
// of a picture, so that pictures made by the old pipeline are not taken for
// those of the new one.
const settings = "asleft photo 3: lanczos in planes 400 800 1600, q80, sRGB"

// Rendition is one finished picture.
type Rendition struct {
	Width, Height int    // pixels
	JPEG          []byte // the whole file
}

// Clean is what becomes of one photo.
type Clean struct {
	Key           string      // see [Key]
	Width, Height int         // the photo's own size in pixels, upright
	Renditions    []Rendition // ascending widths, those of [Sizes]
}

// Key names a photo by its content and by the pipeline that [Make] would use
// on it: 16 hexadecimal digits, the head of a SHA-256. Two photos with one key
// give the same pictures.
func Key(data []byte) string {
	sum := sha256.New()
	sum.Write([]byte(settings + "\x00"))
	sum.Write(data)
	return hex.EncodeToString(sum.Sum(nil))[:16]
}

// Make decodes a photo and renders it in the sizes of [Sizes]. Everything
// [Look] refuses is refused here; so is a photo whose pixels are cut short or
// damaged, because half a picture hides what the other half would have shown.
// The error is a *[Refusal].
func Make(data []byte) (Clean, error) {
	look, err := examine(data)
	if err != nil {
		return Clean{}, err
	}
	sizes := Sizes(look.info)
	photo, err := decode(data, look.info, sizes[len(sizes)-1])
	if err != nil {
		return Clean{}, err
	}
	clean := Clean{Key: Key(data), Width: look.info.Width, Height: look.info.Height}
	for _, pic := range pictures(photo, look.info.Orientation, sizes, look.colors) {
		file, err := encode(pic)
		if err != nil {
			return Clean{}, err
		}
		clean.Renditions = append(clean.Renditions, Rendition{Width: pic.Rect.Dx(), Height: pic.Rect.Dy(), JPEG: file})
	}
	return clean, nil
}

// Check decodes a photo as [Make] does and makes nothing of it: the error is what
// Make's would be, at a fraction of the time.
func Check(data []byte) error {
	look, err := examine(data)
	if err != nil {
		return err
	}
	sizes := Sizes(look.info)
	_, err = decode(data, look.info, sizes[len(sizes)-1])
	return err
}

// encode writes a picture as JPEG.
func encode(pic *image.YCbCr) ([]byte, error) {
	var file bytes.Buffer
	if err := jpegn.Encode(&file, pic, &jpegn.EncodeOptions{Quality: quality, Subsampling: jpegn.Subsample420}); err != nil {
		return nil, refuse(ErrUnsupported, err, sayUnwritable)
	}
	return file.Bytes(), nil
}
