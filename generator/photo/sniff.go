package photo

import (
	"bytes"
	"fmt"
	"strings"
	"unicode/utf8"
)

// sniff tells the format from the first bytes; names lie.
func sniff(data []byte) (format string, err error) {
	switch {
	case len(data) == 0:
		return "", refuse(ErrNotPhoto, nil, sayEmpty)
	case bytes.HasPrefix(data, []byte("\xff\xd8\xff")):
		return "jpeg", nil
	case bytes.HasPrefix(data, []byte("\x89PNG\r\n\x1a\n")):
		return "png", nil
	}
	return "", foreign(data)
}

// foreign says what else the file looks like.
func foreign(data []byte) *Refusal {
	switch heifKind(data) {
	case "heic":
		return refuse(ErrHEIC, nil, sayHEIC)
	case "avif":
		return refuse(ErrNotPhoto, nil, sayForeign, "an AVIF picture")
	}
	for _, kind := range foreigners {
		if kind.matches(data) {
			if kind.picture {
				return refuse(ErrNotPhoto, nil, sayForeign, kind.name)
			}
			return refuse(ErrNotPhoto, nil, sayNoPhoto, kind.name)
		}
	}
	head := data[:min(len(data), 512)]
	if looksLikeText(head, len(data) > len(head)) {
		return refuse(ErrNotPhoto, nil, sayNoPhoto, "a text file")
	}
	return refuse(ErrNotPhoto, nil, sayUnknown, fmt.Sprintf("% x", data[:min(len(data), 8)]))
}

// foreigner is a file format known by bytes near its start.
type foreigner struct {
	magic   string
	at      int    // where in the file the magic stands
	name    string // as it reads after "this is"
	picture bool   // can be saved as JPEG
}

func (f foreigner) matches(data []byte) bool {
	return len(data) >= f.at && bytes.HasPrefix(data[f.at:], []byte(f.magic))
}

// foreigners is searched in order.
var foreigners = []foreigner{
	{"WEBP", 8, "a WebP picture", true},
	{"AVI ", 8, "a video", false},
	{"WAVE", 8, "a sound recording", false},
	{"GIF8", 0, "a GIF picture", true},
	{"II*\x00", 0, "a TIFF picture or a camera's raw file", true},
	{"MM\x00*", 0, "a TIFF picture or a camera's raw file", true},
	{"II+\x00", 0, "a TIFF picture", true},
	{"MM\x00+", 0, "a TIFF picture", true},
	{"FUJIFILMCCD-RAW", 0, "a camera's raw file", true},
	{"ftypcrx ", 4, "a camera's raw file", true},
	{"ftypM4A ", 4, "a sound recording", false},
	{"ftyp", 4, "a video", false},
	{"moov", 4, "a video", false},
	{"\x00\x00\x00\x0cJXL ", 0, "a JPEG XL picture", true},
	{"\xff\x0a", 0, "a JPEG XL picture", true},
	{"\x00\x00\x00\x0cjP  ", 0, "a JPEG 2000 picture", true},
	{"\xff\x4f\xff\x51", 0, "a JPEG 2000 picture", true},
	{"8BPS", 0, "a layered picture from a picture program", true},
	{"BM", 0, "a BMP picture", true},
	{"%PDF", 0, "a PDF", false},
	{"PK\x03\x04", 0, "a ZIP archive or an office document", false},
	{"\x1a\x45\xdf\xa3", 0, "a video", false},
}

// heifKind tells what a HEIF container (ISO/IEC 23008-12) holds: "heic", "avif"
// or "" when it is no such container. The brand mif1 says only HEIF; what is
// inside stands among the brands that follow.
func heifKind(data []byte) string {
	const firstBrand, moreBrands = 8, 16
	if len(data) < firstBrand+4 || string(data[4:firstBrand]) != "ftyp" {
		return ""
	}
	switch string(data[firstBrand : firstBrand+4]) {
	case "heic", "heix", "heim", "heis", "hevc", "hevx", "hevm", "hevs":
		return "heic"
	case "avif", "avis":
		return "avif"
	case "mif1", "msf1":
		if bytes.Contains(data[min(len(data), moreBrands):min(len(data), 64)], []byte("avif")) {
			return "avif"
		}
		return "heic"
	}
	return ""
}

// looksLikeText allows for a last character that was cut when more follows.
func looksLikeText(head []byte, cut bool) bool {
	for i := 0; cut && i < utf8.UTFMax-1 && !utf8.Valid(head); i++ {
		head = head[:len(head)-1]
	}
	return utf8.Valid(head) && !strings.ContainsFunc(string(head), func(r rune) bool {
		return r < ' ' && !strings.ContainsRune("\t\n\r\f", r)
	})
}
