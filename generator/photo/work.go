package photo

import "encoding/binary"

// A JPEG may come in any number of passes (scans), each of which makes the decoder
// walk over every block of a component, even where the file says in two bytes that
// nothing changes: 238 kB with 700 passes took 17 seconds. So the work is added up
// from the headers before any of it is done.
const (
	maxScans = 200 // of a whole file; ten are usual

	// The work of one block of 8 x 8 samples, in samples that are looked at, with
	// blockVisit more for each time that the decoder comes by: it fetches the block
	// from memory and puts it back, whatever it does in between. The usual ten passes
	// (those of the program that most others are made from; from memory) come by a
	// block of brightness six times: 1+5+58+63+1+63 samples. A photo may ask for
	// three times as much.
	blockVisit      = 64
	usualWork       = 6*blockVisit + 1 + 5 + 58 + 63 + 1 + 63
	maxWork         = 3 * usualWork
	maxBaselineWork = 3 * (blockVisit + 64) // a plain JPEG comes by once

	maxSegments = 20_000  // parts of the file around the pixels; a phone writes some dozen
	maxTables   = 1 << 20 // bytes of code tables: a pass has four at most, of 272 bytes
)

// effort is what decoding a JPEG will cost, by its headers alone.
type effort struct {
	scans, segments int
	tables          int   // bytes
	work, blocks    int64 // over all components
	progressive     bool
}

// effortOf stops as soon as a bound is passed.
func effortOf(data []byte) effort {
	var e effort
	blocks := map[byte]int64{} // by component
	for marker, body := range jpegSegments(data) {
		e.segments++
		switch marker {
		case markSOF0, markSOF1, markSOF2:
			e.progressive = marker == markSOF2
			e.blocks = frameBlocks(body, blocks)
		case markDHT:
			e.tables += len(body)
		case markSOS:
			e.scans++
			e.work += scanWork(body, e.progressive, blocks)
		}
		if e.tooMuch() {
			break
		}
	}
	return e
}

func (e effort) tooMuch() bool {
	most := int64(maxBaselineWork)
	if e.progressive {
		most = maxWork
	}
	return e.scans > maxScans || e.segments > maxSegments || e.tables > maxTables || e.work > most*e.blocks
}

// frameBlocks counts the blocks of each component of a frame header (ITU-T T.81,
// B.2.2), and gives their sum.
func frameBlocks(frame []byte, blocks map[byte]int64) (sum int64) {
	const height, width, components, each = 1, 3, 6, 3
	if len(frame) < components {
		return 0
	}
	h, w := int64(binary.BigEndian.Uint16(frame[height:])), int64(binary.BigEndian.Uint16(frame[width:]))
	var across, down int64 = 1, 1
	for c := frame[components:]; len(c) >= each; c = c[each:] {
		across, down = max(across, int64(c[1]>>4)), max(down, int64(c[1]&15))
	}
	units := ((w + 8*across - 1) / (8 * across)) * ((h + 8*down - 1) / (8 * down))
	for c := frame[components:]; len(c) >= each; c = c[each:] {
		n := units * int64(c[1]>>4) * int64(c[1]&15)
		blocks[c[0]] = n
		sum += n
	}
	return sum
}

// scanWork is the work of one pass (ITU-T T.81, B.2.3).
func scanWork(scan []byte, progressive bool, blocks map[byte]int64) (work int64) {
	if len(scan) == 0 || len(scan) != 4+2*int(scan[0]) {
		return 0 // no decoder takes it
	}
	band := int64(64)
	if tail := scan[len(scan)-3:]; progressive {
		band = max(1, int64(tail[1])-int64(tail[0])+1)
	}
	for c := scan[1 : len(scan)-3]; len(c) >= 2; c = c[2:] {
		work += blocks[c[0]] * (blockVisit + band)
	}
	return work
}
