package heic

import (
	"encoding/binary"
	"errors"
)

// A lie is how the pixels of a HEIC photo's main picture are stored, and how
// they are to be turned.
type lie struct {
	width, height int
	quarters      int  // counterclockwise
	turns         bool // the container asks for a turn or a mirroring
}

// size is that of the picture once it is turned.
func (l lie) size() (w, h int) {
	if l.quarters%2 == 1 {
		return l.height, l.width
	}
	return l.width, l.height
}

var errNoLie = errors.New("the HEIC photo does not say how large it is")

// lieOf reads a HEIF container (ISO/IEC 14496-12 and 23008-12): the main item
// (pitm) and its properties (iprp): its size (ispe), turn (irot) and mirroring
// (imir).
func lieOf(data []byte) (lie, error) {
	meta := full(box(data, "meta"))
	main, ok := mainItem(box(meta, "pitm"))
	properties := boxes(box(box(meta, "iprp"), "ipco"))
	if !ok {
		return lie{}, errNoLie
	}
	var l lie
	for _, n := range associated(box(box(meta, "iprp"), "ipma"), main) {
		if n < 1 || n > len(properties) {
			continue
		}
		switch p := properties[n-1]; {
		case p.kind == "ispe" && len(p.body) >= 12:
			l.width, l.height = int(binary.BigEndian.Uint32(p.body[4:])), int(binary.BigEndian.Uint32(p.body[8:]))
		case p.kind == "irot" && len(p.body) >= 1:
			l.quarters = int(p.body[0] & 3)
			l.turns = l.turns || l.quarters != 0
		case p.kind == "imir":
			l.turns = true
		}
	}
	if l.width <= 0 || l.height <= 0 {
		return lie{}, errNoLie
	}
	return l, nil
}

type boxed struct {
	kind string
	body []byte
}

// boxes are the boxes that a body consists of, up to the first unsound one.
func boxes(data []byte) []boxed {
	var all []boxed
	for len(data) >= 8 {
		size, head := uint64(binary.BigEndian.Uint32(data)), uint64(8)
		switch {
		case size == 1 && len(data) >= 16:
			size, head = binary.BigEndian.Uint64(data[8:]), 16
		case size == 0:
			size = uint64(len(data))
		}
		if size < head || size > uint64(len(data)) {
			return all
		}
		all = append(all, boxed{string(data[4:8]), data[head:size]})
		data = data[size:]
	}
	return all
}

// box is the body of the first box of a kind; nil where there is none.
func box(data []byte, kind string) []byte {
	for _, b := range boxes(data) {
		if b.kind == kind {
			return b.body
		}
	}
	return nil
}

// full is the body of a box without its version and flags.
func full(body []byte) []byte { return body[min(4, len(body)):] }

// number reads a number of two or four bytes.
func number(data []byte, wide bool) (n int, rest []byte, ok bool) {
	switch {
	case wide && len(data) >= 4:
		return int(binary.BigEndian.Uint32(data)), data[4:], true
	case !wide && len(data) >= 2:
		return int(binary.BigEndian.Uint16(data)), data[2:], true
	}
	return 0, nil, false
}

func mainItem(pitm []byte) (int, bool) {
	if len(pitm) < 4 {
		return 0, false
	}
	id, _, ok := number(pitm[4:], pitm[0] > 0)
	return id, ok
}

// associated are the numbers, from 1, of the properties that an item has.
func associated(ipma []byte, item int) []int {
	if len(ipma) < 8 {
		return nil
	}
	wideItem, wideIndex := ipma[0] > 0, ipma[3]&1 == 1
	entries := binary.BigEndian.Uint32(ipma[4:])
	rest := ipma[8:]
	for ; entries > 0; entries-- {
		id, after, ok := number(rest, wideItem)
		if !ok || len(after) < 1 {
			return nil
		}
		count, step := int(after[0]), 1
		if wideIndex {
			step = 2
		}
		after = after[1:]
		if len(after) < count*step {
			return nil
		}
		if id == item {
			return indices(after[:count*step], wideIndex)
		}
		rest = after[count*step:]
	}
	return nil
}

// indices reads indices of one or two bytes, without the first bit, which says
// only whether a reader has to know the property.
func indices(data []byte, wide bool) []int {
	var all []int
	for len(data) > 0 {
		if wide {
			all = append(all, int(binary.BigEndian.Uint16(data)&0x7fff))
			data = data[2:]
			continue
		}
		all = append(all, int(data[0]&0x7f))
		data = data[1:]
	}
	return all
}

// setUpright sets the Exif orientation of a JPEG to 1, in place, where it has
// one in the usual way (CIPA DC-008: tag 0x0112, a SHORT, in the first IFD).
func setUpright(jpeg []byte) {
	for at := 2; at+4 <= len(jpeg) && jpeg[at] == 0xff && jpeg[at+1] != 0xda; {
		end := at + 2 + int(binary.BigEndian.Uint16(jpeg[at+2:]))
		if end > len(jpeg) {
			return
		}
		if body := jpeg[at+4 : max(end, at+4)]; jpeg[at+1] == 0xe1 && len(body) > 14 && string(body[:5]) == "Exif\x00" {
			uprightTIFF(body[6:])
		}
		at = end
	}
}

func uprightTIFF(tiff []byte) {
	var order binary.ByteOrder = binary.LittleEndian
	if string(tiff[:2]) == "MM" {
		order = binary.BigEndian
	}
	at := uint64(order.Uint32(tiff[4:]))
	if at+2 > uint64(len(tiff)) {
		return
	}
	const size = 12
	for n, entry := uint64(order.Uint16(tiff[at:])), at+2; n > 0 && entry+size <= uint64(len(tiff)); n, entry = n-1, entry+size {
		const orientation, short = 0x0112, 3
		if order.Uint16(tiff[entry:]) == orientation && order.Uint16(tiff[entry+2:]) == short {
			order.PutUint16(tiff[entry+8:], 1)
		}
	}
}
