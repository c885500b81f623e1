package photo

import (
	"errors"
	"fmt"
	"image/jpeg"
	"image/png"
	"io/fs"
)

// The kinds of refusal, for errors.Is.
var (
	ErrNotPhoto    = errors.New("not a photo this program reads")
	ErrHEIC        = errors.New("a HEIC photo") // with ErrNotPhoto; a caller with a converter may try it
	ErrSize        = errors.New("a photo without a size, or too large")
	ErrDamaged     = errors.New("a damaged photo")
	ErrUnsupported = errors.New("an unusual kind of JPEG or PNG")
	ErrColors      = errors.New("colors that cannot be converted")
)

// Refusal says why a photo is not used, in words for the mechanic, and what to
// do about it. It does not know the file's name: whoever reports it puts file
// and line in front.
type Refusal struct {
	Kind  error  // one of the Err values of this package
	Says  string // the reason and the remedy
	Cause error  // what the decoder said, or nil
}

// Error gives the reason and the remedy.
func (r *Refusal) Error() string { return r.Says }

// Unwrap gives the kind and the cause.
func (r *Refusal) Unwrap() []error {
	kinds := []error{r.Kind}
	if r.Kind == ErrHEIC {
		kinds = append(kinds, ErrNotPhoto)
	}
	if r.Cause != nil {
		kinds = append(kinds, r.Cause)
	}
	return kinds
}

// MaxBytes is the largest file that is read: more than a photo of MaxPixels has
// in any camera's JPEG or PNG.
const MaxBytes = 256 << 20

// CheckFile refuses, by what the folder says of it, a file that must not even
// be read: a pipe would keep a reader waiting, and a huge file would fill the
// memory. The error is a *[Refusal].
func CheckFile(info fs.FileInfo) error {
	switch {
	case !info.Mode().IsRegular():
		return refuse(ErrNotPhoto, nil, sayNoFile)
	case info.Size() > MaxBytes:
		return refuse(ErrSize, nil, sayHuge, MaxBytes>>20)
	}
	return nil
}

// refuse fills in one of the sentences below.
func refuse(kind, cause error, say string, args ...any) *Refusal {
	return &Refusal{Kind: kind, Says: fmt.Sprintf(say, args...), Cause: cause}
}

// undecodable tells a sound file of a rare kind from a damaged one.
func undecodable(cause error, sayDamaged string) *Refusal {
	var rareJPEG jpeg.UnsupportedError
	var rarePNG png.UnsupportedError
	if errors.As(cause, &rareJPEG) || errors.As(cause, &rarePNG) {
		return refuse(ErrUnsupported, cause, sayUnsupported)
	}
	return &Refusal{Kind: ErrDamaged, Says: sayDamaged, Cause: cause}
}

// Every sentence of this package. None begins with a capital or ends with a
// period: file and line come before it.
const (
	sayNoFile = "this is a folder, a pipe or a device and not a file; put the photo itself in its place"
	sayHuge   = "the file is larger than %d MB; no photo is: save a smaller copy, 4000 pixels wide is plenty"

	sayEmpty = "the file is empty; copy it from the phone or camera again"
	sayHEIC  = "this is a HEIC photo, whatever its name says, and only JPEG and PNG can be read; " +
		"save a copy of it as JPEG. To have the phone take JPEG from now on: on an iPhone choose Settings, Camera, Formats, Most Compatible; " +
		"on other phones turn off high-efficiency pictures in the camera's settings"
	sayForeign = "this is %s, whatever its name says, and only JPEG and PNG photos can be read; save it as JPEG and name that file instead"
	sayNoPhoto = "this is %s, not a photo; only JPEG and PNG photos can be read. Check the file name in the log"
	sayUnknown = "this does not look like a photo (it begins with %s); only JPEG and PNG can be read. " +
		"If it is one, open it in a picture program and save it as JPEG"

	sayNoSize   = "the photo says that it has no width or no height; the file is damaged, copy it from the phone or camera again"
	sayTooLarge = "the photo says that it is %d x %d pixels, and more than %d megapixels cannot be read; save a smaller copy, 4000 pixels wide is plenty"
	sayTooLong  = "the photo is %d x %d pixels, and no side may be longer than %d; save a smaller copy, 4000 pixels wide is plenty"

	sayBadHead     = "the head of the photo is damaged or cut short; copy it from the phone or camera again"
	sayBadPixels   = "the photo is damaged or cut short, so part of the picture is missing; copy it from the phone or camera again"
	sayUnwritable  = "the picture could not be written as JPEG; open it in a picture program and save it as an ordinary JPEG"
	sayUnsupported = "this is a rare kind of JPEG or PNG that cannot be read; open it in a picture program and save it as an ordinary JPEG"
	sayPasses      = "the photo is stored in far more passes or parts than any camera writes, and would take very long to read; open it in a picture program and save it as an ordinary JPEG"

	sayColorTables = "the photo describes its colors with tables (a print or scanner profile) that cannot be converted; " +
		"open it in a picture program and export it as JPEG in sRGB"
	sayColorDamaged  = "the color profile inside the photo is damaged, so its true colors are not known; open it in a picture program and export it as JPEG in sRGB"
	sayColorMismatch = "the color profile inside the photo is for another kind of picture, so its true colors are not known; " +
		"open it in a picture program and export it as JPEG in sRGB"
	sayColorHDR = "the picture is marked as high dynamic range or in a rare color system that cannot be converted; " +
		"open it in a picture program and export it as JPEG in sRGB"
)
