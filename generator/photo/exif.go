package photo

import (
	"bytes"
	"strconv"
	"strings"
	"time"

	"github.com/bep/imagemeta"
)

// exifNotes is what Exif data says that matters here. Where the camera stood
// is never read.
type exifNotes struct {
	orientation int // 1 to 8
	taken       time.Time
	hasOffset   bool
	adobeRGB    bool // marked as Adobe RGB without a profile (DCF, "R03")
}

// The tags that are read, under the names imagemeta gives them.
const (
	tagOrientation = "Orientation"        // 0x0112, IFD0
	tagTaken       = "DateTimeOriginal"   // 0x9003, Exif IFD
	tagOffset      = "OffsetTimeOriginal" // 0x9011, Exif IFD
	interopIFD     = "InteroperabilityIFD"
)

// readExif reads a TIFF stream of Exif data (CIPA DC-008). What is damaged
// counts as not recorded: the picture is sound without it.
func readExif(tiff []byte) exifNotes {
	notes := exifNotes{orientation: 1}
	if len(tiff) == 0 {
		return notes
	}
	var taken, offset string
	// The error is dropped on purpose: the tags read before it still hold.
	_, _ = imagemeta.Decode(imagemeta.Options{
		R:               bytes.NewReader(tiff),
		ImageFormat:     imagemeta.TIFF,
		Sources:         imagemeta.EXIF,
		ShouldHandleTag: wanted,
		LimitNumTags:    2000,
		LimitTagSize:    4096,
		HandleTag: func(tag imagemeta.TagInfo) error {
			switch {
			case tag.Tag == tagOrientation:
				notes.orientation = orientationOf(tag.Value)
			case tag.Tag == tagTaken:
				taken, _ = tag.Value.(string)
			case tag.Tag == tagOffset:
				offset, _ = tag.Value.(string)
			case strings.HasSuffix(tag.Namespace, interopIFD):
				if text, ok := tag.Value.(string); ok && text == "R03" {
					notes.adobeRGB = true
				}
			}
			return nil
		},
	})
	notes.taken, notes.hasOffset = takenAt(taken, offset)
	return notes
}

// wanted keeps to the main picture: the thumbnail and other pictures inside
// have an orientation of their own, which is not the photo's.
func wanted(tag imagemeta.TagInfo) bool {
	switch tag.Tag {
	case tagOrientation:
		return tag.Namespace == "IFD0"
	case tagTaken, tagOffset:
		return strings.HasPrefix(tag.Namespace, "IFD0/")
	}
	return strings.HasSuffix(tag.Namespace, interopIFD)
}

// orientationOf takes anything but 1 to 8 as upright.
func orientationOf(value any) int {
	if n, ok := value.(uint16); ok && n >= 1 && n <= 8 {
		return int(n)
	}
	return 1
}

// takenAt reads DateTimeOriginal, "2026:03:02 18:30:00", and the offset from
// UTC, "-05:00". A camera whose clock was never set writes zeros or spaces.
func takenAt(taken, offset string) (moment time.Time, hasOffset bool) {
	const layout = "2006:01:02 15:04:05"
	zone, hasOffset := zoneOf(offset)
	moment, err := time.ParseInLocation(layout, strings.TrimRight(taken, "\x00 "), zone)
	if err != nil {
		return time.Time{}, false
	}
	return moment, hasOffset
}

// zoneOf reads "+HH:MM" or "-HH:MM"; anything else is no offset.
func zoneOf(offset string) (zone *time.Location, ok bool) {
	offset = strings.TrimRight(offset, "\x00 ")
	if len(offset) != 6 || offset[3] != ':' || offset[0] != '+' && offset[0] != '-' {
		return time.UTC, false
	}
	hours, err1 := strconv.ParseUint(offset[1:3], 10, 8)
	minutes, err2 := strconv.ParseUint(offset[4:6], 10, 8)
	if err1 != nil || err2 != nil || hours > 14 || minutes > 59 {
		return time.UTC, false
	}
	seconds := int(hours*3600 + minutes*60)
	if offset[0] == '-' {
		seconds = -seconds
	}
	return time.FixedZone("", seconds), true
}
