package photo

import (
	"encoding/binary"
	"image"
	"image/color"
)

// blockJPEG writes JPEGs of the kinds image/jpeg reads but does not write, as
// ITU-T T.81 has them. Every block of 8 x 8 samples is flat, so it needs
// nothing but one coefficient, and the tables can be the simplest there are.
type blockJPEG struct {
	sampling    []byte // per component, horizontal and vertical factor: 0x22
	ids         string // component names; "" for 1, 2, 3, ...
	progressive bool
	separate    bool // every component in a scan of its own
	adobe       int  // color transform of the Adobe segment; -1 for no segment
	// samples gives a pixel in the file's components.
	samples func(c color.NRGBA) []uint8
}

func (j blockJPEG) encode(pic *image.NRGBA) []byte {
	const dqt, sof0, sof2, dht, app14 = 0xdb, 0xc0, 0xc2, 0xc4, 0xee
	out := []byte("\xff\xd8")
	segment := func(marker byte, body []byte) {
		out = append(out, 0xff, marker)
		out = binary.BigEndian.AppendUint16(out, uint16(len(body)+2))
		out = append(out, body...)
	}
	if j.adobe >= 0 {
		segment(app14, append([]byte("Adobe\x00\x64\x00\x00\x00\x00"), byte(j.adobe)))
	}
	quant := make([]byte, 65)
	for i := 1; i < len(quant); i++ {
		quant[i] = 8 // a flat block's coefficient is 8 times its level: one unit a step
	}
	segment(dqt, quant)
	frame := []byte{8}
	frame = binary.BigEndian.AppendUint16(frame, uint16(pic.Rect.Dy()))
	frame = binary.BigEndian.AppendUint16(frame, uint16(pic.Rect.Dx()))
	frame = append(frame, byte(len(j.sampling)))
	for i, hv := range j.sampling {
		frame = append(frame, j.id(i), hv, 0)
	}
	if j.progressive {
		segment(sof2, frame)
	} else {
		segment(sof0, frame)
	}
	dc := append(make([]byte, 17), 0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11)
	dc[4] = 12 // twelve codes of four bits: the code is the category
	segment(dht, dc)
	ac := append(make([]byte, 17), 0)
	ac[0], ac[1] = 0x10, 1 // one code of one bit: end of block
	segment(dht, ac)
	scan := func(components []int, from, to byte) {
		body := []byte{byte(len(components))}
		for _, i := range components {
			body = append(body, j.id(i), 0)
		}
		segment(0xda, append(body, from, to, 0))
		out = append(out, j.scan(pic, components, from, to)...)
	}
	last := byte(63)
	if j.progressive {
		last = 0
	}
	if j.separate {
		for i := range j.sampling {
			scan([]int{i}, 0, last)
		}
	} else {
		scan(j.all(), 0, last)
	}
	for i := range j.sampling {
		if j.progressive {
			scan([]int{i}, 1, 63)
		}
	}
	return append(out, 0xff, 0xd9)
}

func (j blockJPEG) all() (components []int) {
	for i := range j.sampling {
		components = append(components, i)
	}
	return components
}

func (j blockJPEG) id(i int) byte {
	if j.ids != "" {
		return j.ids[i]
	}
	return byte(i + 1)
}

// scan writes the blocks of some components: interleaved in units when there
// are several, row by row when there is one. From 0 they begin with the flat
// part; to 63 they end with the code for nothing more.
func (j blockJPEG) scan(pic *image.NRGBA, components []int, from, to byte) []byte {
	var bits bitWriter
	before := make([]int, len(j.sampling))
	block := func(i, x, y int) {
		if from == 0 {
			at := pic.NRGBAAt(min(x, pic.Rect.Dx()-1), min(y, pic.Rect.Dy()-1))
			level := int(j.samples(at)[i]) - 128
			bits.dc(level - before[i])
			before[i] = level
		}
		if to == 63 {
			bits.put(0, 1)
		}
	}
	maxH, maxV := int(j.sampling[0]>>4), int(j.sampling[0]&15)
	if len(j.sampling) == 1 {
		maxH, maxV = 1, 1 // the factors of a lone component mean nothing
	}
	if len(components) == 1 {
		i := components[0]
		h, v := int(j.sampling[i]>>4), int(j.sampling[i]&15)
		if len(j.sampling) == 1 {
			h, v = 1, 1
		}
		for y := 0; y < pic.Rect.Dy(); y += 8 * maxV / v {
			for x := 0; x < pic.Rect.Dx(); x += 8 * maxH / h {
				block(i, x, y)
			}
		}
		return bits.flush()
	}
	for y0 := 0; y0 < pic.Rect.Dy(); y0 += 8 * maxV {
		for x0 := 0; x0 < pic.Rect.Dx(); x0 += 8 * maxH {
			for _, i := range components {
				h, v := int(j.sampling[i]>>4), int(j.sampling[i]&15)
				for b := range h * v {
					block(i, x0+b%h*8*maxH/h, y0+b/h*8*maxV/v)
				}
			}
		}
	}
	return bits.flush()
}

// bitWriter packs bits, most significant first, and stuffs a zero behind 0xff.
type bitWriter struct {
	out  []byte
	acc  uint32
	have int
}

func (w *bitWriter) put(value uint32, n int) {
	w.acc, w.have = w.acc<<n|value, w.have+n
	for w.have >= 8 {
		w.have -= 8
		b := byte(w.acc >> w.have)
		if w.out = append(w.out, b); b == 0xff {
			w.out = append(w.out, 0)
		}
	}
}

// dc writes the difference of two coefficients: its category, then its bits.
func (w *bitWriter) dc(difference int) {
	category, bits := 0, difference
	for n := abs(difference); n > 0; n >>= 1 {
		category++
	}
	if difference < 0 {
		bits += 1<<category - 1
	}
	w.put(uint32(category), 4)
	w.put(uint32(bits), category)
}

func (w *bitWriter) flush() []byte {
	if w.have > 0 {
		w.put(1<<(8-w.have)-1, 8-w.have)
	}
	return w.out
}

// Samples of a color in the ways a JPEG may hold them.
func samplesGray(c color.NRGBA) []uint8 { return []uint8{color.GrayModel.Convert(c).(color.Gray).Y} }
func samplesRGB(c color.NRGBA) []uint8  { return []uint8{c.R, c.G, c.B} }
func samplesYCbCr(c color.NRGBA) []uint8 {
	y, cb, cr := color.RGBToYCbCr(c.R, c.G, c.B)
	return []uint8{y, cb, cr}
}

// Adobe stores inks upside down, 255 for none, so a picture without black ink
// holds plain RGB, and 255 for black. Its YCCK turns the three inks as they
// are, right way up, into YCbCr.
func samplesCMYK(c color.NRGBA) []uint8 { return append(samplesRGB(c), 255) }
func samplesYCCK(c color.NRGBA) []uint8 {
	return append(samplesYCbCr(color.NRGBA{255 - c.R, 255 - c.G, 255 - c.B, 255}), 255)
}
