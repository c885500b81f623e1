package photo

import (
	"encoding/binary"
	"image/color"
)

// Weight is about how many bytes [Make] will hold for a photo at its height:
// its decoded pixels, and the file. Whoever makes several at a time can keep
// the sum within bounds. For a file that [Look] refuses it is the file's size.
func Weight(data []byte) int64 {
	held := int64(len(data))
	format, err := sniff(data)
	if err != nil {
		return held
	}
	if format == "png" {
		config, err := decodeConfig(data, format)
		if err != nil {
			return held
		}
		return held + int64(config.Width)*int64(config.Height)*pixelBytes(config.ColorModel)
	}
	const coefficient = 4 // bytes, all of which are held until the last scan is there
	for marker, body := range jpegSegments(data) {
		switch marker {
		case markSOF0, markSOF1:
			return held + samples(body)
		case markSOF2:
			return held + samples(body)*(1+coefficient)
		}
	}
	return held
}

// samples counts the samples of all components from a frame header (ITU-T T.81,
// B.2.2): precision, height, width, and for each component its name, sampling
// factors and table.
func samples(frame []byte) int64 {
	const height, width, components, each = 1, 3, 6, 3
	if len(frame) < components {
		return 0
	}
	pixels := int64(binary.BigEndian.Uint16(frame[height:])) * int64(binary.BigEndian.Uint16(frame[width:]))
	var most, sum int64
	for c := frame[components:]; len(c) >= each; c = c[each:] {
		factor := int64(c[1]>>4) * int64(c[1]&15)
		most, sum = max(most, factor), sum+factor
	}
	if most == 0 {
		return 0
	}
	return pixels * sum / most
}

func pixelBytes(model color.Model) int64 {
	switch model {
	case color.GrayModel:
		return 1
	case color.Gray16Model:
		return 2
	case color.RGBAModel, color.NRGBAModel:
		return 4
	case color.RGBA64Model, color.NRGBA64Model:
		return 8
	}
	return 1 // a palette
}
