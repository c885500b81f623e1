package photo

import (
	"bytes"
	"encoding/binary"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"math"
	"time"
)

// MaxPixels is the largest photo that is decoded: 80 megapixels. As a usual
// JPEG that is 120 MB in memory, as a PNG up to 640 MB, and the worst a
// progressive JPEG can ask for is 1.2 GB. A file of a few hundred bytes can
// claim far more.
const MaxPixels = 80_000_000

// maxSide is the longest side a JPEG can have (16 bits), so the longest a
// picture can have.
const maxSide = 65_535

// Info is what the head of a photo says about it.
type Info struct {
	Format        string // "jpeg" or "png"
	Width, Height int    // pixels, as seen upright
	Orientation   int    // Exif orientation, 1 to 8; 1 when none is recorded
	// Taken is when the shutter was pressed (Exif DateTimeOriginal); the zero
	// time when that is not recorded. With HasOffset it is a moment, in the
	// zone the camera recorded. Without, it is what the camera's clock showed,
	// written as if it were UTC: read its date and clock in the shop's zone.
	Taken     time.Time
	HasOffset bool
}

// Look reads the head of a photo: what it is, how large, which way up, when
// taken. It decodes no pixels. The error, a *[Refusal], says what is wrong and
// how to mend it, without the file's name: not a photo this program reads, no
// size or too large, a damaged head, colors that cannot be converted. A photo
// that passes can still turn out damaged in [Make].
//
// Damaged Exif data is taken as none: the picture itself is sound.
func Look(data []byte) (Info, error) {
	found, err := examine(data)
	if err != nil {
		return Info{}, err
	}
	return found.info, nil
}

// look is all that the head of a photo holds.
type look struct {
	info   Info
	colors *transform // to sRGB; nil when the colors are sRGB already
}

func examine(data []byte) (look, error) {
	format, err := sniff(data)
	if err != nil {
		return look{}, err
	}
	w, h, model, err := measure(data, format)
	if err != nil {
		return look{}, err
	}
	if format == "jpeg" && effortOf(data).tooMuch() {
		return look{}, refuse(ErrUnsupported, nil, sayPasses)
	}
	head := readHead(data, format)
	notes := readExif(head.exif)
	colors, err := colorsOf(head, model, notes.adobeRGB)
	if err != nil {
		return look{}, err
	}
	size := upright(notes.orientation, w, h)
	return look{
		info: Info{
			Format: format, Width: size.Width, Height: size.Height,
			Orientation: notes.orientation, Taken: notes.taken, HasOffset: notes.hasOffset,
		},
		colors: colors,
	}, nil
}

// measure reads the stored size and the kind of color, and refuses a size
// that must not be decoded.
func measure(data []byte, format string) (w, h int, model colorModel, err error) {
	// The PNG decoder has its own words for sizes it does not like, so ours
	// come first.
	const ihdr, width, height, end = 12, 16, 20, 24
	if format == "png" && len(data) >= end && string(data[ihdr:width]) == "IHDR" {
		w, h := binary.BigEndian.Uint32(data[width:]), binary.BigEndian.Uint32(data[height:])
		if err := checkSize(int64(w), int64(h)); err != nil {
			return 0, 0, 0, err
		}
	}
	config, err := decodeConfig(data, format)
	if err != nil {
		return 0, 0, 0, undecodable(err, sayBadHead)
	}
	if err := checkSize(int64(config.Width), int64(config.Height)); err != nil {
		return 0, 0, 0, err
	}
	return config.Width, config.Height, modelOf(data, format, config.ColorModel), nil
}

// checkSize takes sides below 2^32.
func checkSize(w, h int64) error {
	switch {
	case w <= 0 || h <= 0:
		return refuse(ErrSize, nil, sayNoSize)
	case w > math.MaxInt64/h || w*h > MaxPixels:
		return refuse(ErrSize, nil, sayTooLarge, w, h, MaxPixels/1_000_000)
	case w > maxSide || h > maxSide:
		return refuse(ErrSize, nil, sayTooLong, w, h, maxSide)
	}
	return nil
}

// colorModel is how a file stores its colors.
type colorModel int

const (
	modelRGB colorModel = iota
	modelGray
	modelCMYK
)

// modelOf looks at the PNG header itself, because image/png reports gray with
// transparency as color.
func modelOf(data []byte, format string, model color.Model) colorModel {
	const pngColorType, gray, grayAlpha = 25, 0, 4
	switch {
	case format == "png" && (data[pngColorType] == gray || data[pngColorType] == grayAlpha):
		return modelGray
	case model == color.GrayModel:
		return modelGray
	case model == color.CMYKModel:
		return modelCMYK
	}
	return modelRGB
}

// decodeConfig and decodePixels name their decoder: image.Decode would take
// whatever formats some package of the program has registered.
func decodeConfig(data []byte, format string) (image.Config, error) {
	if format == "png" {
		return png.DecodeConfig(bytes.NewReader(data))
	}
	return jpeg.DecodeConfig(bytes.NewReader(data))
}

func decodePixels(data []byte, format string) (image.Image, error) {
	if format == "png" {
		return png.Decode(bytes.NewReader(data))
	}
	return jpeg.Decode(bytes.NewReader(data))
}
