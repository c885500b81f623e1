package photo

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"errors"
	"io"
	"iter"
)

// head is what stands around the pixels of a file and bears on how they are
// shown. Slices point into the file.
type head struct {
	exif []byte // a TIFF stream, byte order mark first
	icc  []byte // the ICC profile, put together and unpacked
	// iccErr tells why a profile that is there could not be read.
	iccErr error
	// PNG only (W3C PNG, third edition, section 11.3.2).
	cicp, gama, chrm []byte
	srgb             bool
}

// maxProfile is more than any ICC profile in use has, in bytes; it keeps a
// small PNG from inflating without end.
const maxProfile = 4 << 20

// readHead collects what it can and stops at the first thing out of order:
// whether the file is sound is for the decoder to say.
func readHead(data []byte, format string) head {
	if format == "png" {
		return readPNGHead(data)
	}
	return readJPEGHead(data)
}

// readJPEGHead reads the segments before the first scan.
func readJPEGHead(data []byte) head {
	var h head
	var pieces [][]byte
	for marker, body := range jpegSegments(data) {
		if marker == markSOS {
			break
		}
		switch {
		case marker == markAPP1 && h.exif == nil && bytes.HasPrefix(body, []byte("Exif\x00")) && len(body) > 6:
			h.exif = body[6:]
		case marker == markAPP2 && bytes.HasPrefix(body, []byte(iccMark)):
			pieces = append(pieces, body[len(iccMark):])
		}
	}
	h.icc, h.iccErr = joinProfile(pieces)
	return h
}

// iccMark begins each APP2 segment of a profile (ICC.1, annex B). Two bytes
// follow: the number of this piece, from 1, and how many there are.
const iccMark = "ICC_PROFILE\x00"

var errPieces = errors.New("pieces of the color profile are missing or doubled")

// joinProfile puts the pieces of a profile in order; nil when there are none.
func joinProfile(pieces [][]byte) ([]byte, error) {
	if len(pieces) == 0 {
		return nil, nil
	}
	ordered := make([][]byte, len(pieces)+1)
	for _, piece := range pieces {
		if len(piece) < 2 || int(piece[1]) != len(pieces) {
			return nil, errPieces
		}
		number := int(piece[0])
		if number < 1 || number > len(pieces) || ordered[number] != nil {
			return nil, errPieces
		}
		ordered[number] = piece[2:]
	}
	return bytes.Join(ordered, nil), nil
}

// readPNGHead walks all chunks, because eXIf may stand behind the pixels. The
// first chunk of a kind counts; checksums are the decoder's business.
func readPNGHead(data []byte) head {
	var h head
	for name, body := range pngChunks(data) {
		switch {
		case name == "eXIf" && h.exif == nil:
			h.exif = body
		case name == "iCCP" && h.icc == nil && h.iccErr == nil:
			h.icc, h.iccErr = unpackProfile(body)
		case name == "cICP" && h.cicp == nil:
			h.cicp = body
		case name == "gAMA" && h.gama == nil:
			h.gama = body
		case name == "cHRM" && h.chrm == nil:
			h.chrm = body
		case name == "sRGB":
			h.srgb = true
		}
	}
	return h
}

// pngChunks yields the chunks of a PNG by name, up to the first that runs over
// the end of the file.
func pngChunks(data []byte) iter.Seq2[string, []byte] {
	const signature, frame = 8, 12 // a chunk is length, name, body, checksum
	return func(yield func(string, []byte) bool) {
		for p := signature; p+frame <= len(data); {
			n := int64(binary.BigEndian.Uint32(data[p:]))
			if n > int64(len(data)-p-frame) {
				return
			}
			name, body := string(data[p+4:p+8]), data[p+8:p+8+int(n)]
			if name == "IEND" || !yield(name, body) {
				return
			}
			p += frame + int(n)
		}
	}
}

var errProfileHead = errors.New("the iCCP chunk is damaged")

// unpackProfile reads an iCCP chunk: a name, a zero byte, a zero byte for the
// method, and the profile in zlib's format.
func unpackProfile(chunk []byte) ([]byte, error) {
	_, packed, found := bytes.Cut(chunk, []byte{0})
	if !found || len(packed) < 1 || packed[0] != 0 {
		return nil, errProfileHead
	}
	stream, err := zlib.NewReader(bytes.NewReader(packed[1:]))
	if err != nil {
		return nil, err
	}
	defer stream.Close()
	profile, err := io.ReadAll(io.LimitReader(stream, maxProfile+1))
	if err != nil {
		return nil, err
	}
	if len(profile) > maxProfile {
		return nil, errors.New("the color profile is larger than any in use")
	}
	return profile, nil
}
