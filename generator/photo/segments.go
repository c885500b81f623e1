package photo

import (
	"bytes"
	"encoding/binary"
	"errors"
	"iter"
)

// Marker codes of ITU-T T.81, table B.1.
const (
	markSOF0, markSOF1, markSOF2 = 0xc0, 0xc1, 0xc2 // baseline, extended, progressive
	markRST0, markRST7           = 0xd0, 0xd7
	markEOI, markSOS             = 0xd9, 0xda
	markDHT, markDRI             = 0xc4, 0xdd // Huffman tables, restart interval
	markAPP1, markAPP2           = 0xe1, 0xe2
)

// jpegSegments yields the segments of a JPEG from its start to its end marker,
// which has no body, without the coded pixels between them. It stops at the first
// thing out of order: whether the file is sound is for the decoder to say.
func jpegSegments(data []byte) iter.Seq2[byte, []byte] {
	const fill, standAlone = 0xff, 0x01
	return func(yield func(byte, []byte) bool) {
		for p := 2; p+2 <= len(data); {
			if data[p] != 0xff {
				next := bytes.IndexByte(data[p:], 0xff)
				if next < 0 {
					return
				}
				p += next
				continue
			}
			switch marker := data[p+1]; {
			case marker == fill:
				p++
			case marker <= standAlone, marker >= markRST0 && marker <= markRST7:
				p += 2 // 0xff in the pixels is followed by a zero
			case marker == markEOI:
				yield(marker, nil)
				return
			case p+4 > len(data):
				return
			default:
				n := int(binary.BigEndian.Uint16(data[p+2:]))
				if n < 2 || p+2+n > len(data) || !yield(marker, data[p+4:p+2+n]) {
					return
				}
				p += 2 + n
			}
		}
	}
}

var errScans = errors.New("a scan of the photo is missing")

// checkScans makes sure that a JPEG holds every coefficient of every
// component. A file that was cut between two scans and closed again with an
// end marker decodes without complaint, to a picture that is blurred, or
// green where the colors are missing.
func checkScans(data []byte) error {
	var components []byte
	var progressive bool
	var have [256][64]bool // by component and place in the zigzag
	for marker, body := range jpegSegments(data) {
		switch {
		case marker == markSOF0 || marker == markSOF1 || marker == markSOF2:
			progressive = marker == markSOF2
			for i := 6; i < len(body); i += 3 {
				components = append(components, body[i])
			}
		case marker == markSOS && len(body) > 0 && len(body) == 4+2*int(body[0]):
			from, to, finished := 0, 63, true
			if progressive {
				tail := body[len(body)-3:]
				from, to, finished = int(tail[0]), min(int(tail[1]), 63), tail[2]&15 == 0
			}
			for i := 1; finished && i < len(body)-3; i += 2 {
				for z := from; z <= to; z++ {
					have[body[i]][z] = true
				}
			}
		}
	}
	for _, c := range components {
		for _, ok := range have[c] {
			if !ok {
				return errScans
			}
		}
	}
	return nil
}
