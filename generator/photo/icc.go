package photo

import (
	"encoding/binary"
	"errors"
	"math"
)

// profile is an ICC profile (ICC.1) taken apart.
type profile struct {
	class, space, pcs string // four-letter codes of the header
	tags              map[string][]byte
}

var errProfile = errors.New("the color profile does not hold together")

// readProfile takes a profile apart. Slices point into data.
func readProfile(data []byte) (profile, error) {
	const class, space, pcs, signature, count, table, entry = 12, 16, 20, 36, 128, 132, 12
	if len(data) < table || string(data[signature:signature+4]) != "acsp" {
		return profile{}, errProfile
	}
	n := uint64(binary.BigEndian.Uint32(data[count:]))
	if n*entry > uint64(len(data)-table) {
		return profile{}, errProfile
	}
	p := profile{
		class: string(data[class : class+4]), space: string(data[space : space+4]), pcs: string(data[pcs : pcs+4]),
		tags: make(map[string][]byte, n),
	}
	for i := range int(n) {
		row := data[table+entry*i:]
		from, size := uint64(binary.BigEndian.Uint32(row[4:])), uint64(binary.BigEndian.Uint32(row[8:]))
		if from+size > uint64(len(data)) {
			return profile{}, errProfile
		}
		p.tags[string(row[:4])] = data[from : from+size]
	}
	return p, nil
}

// profileColors turns a profile into the way to sRGB. Profiles made of a
// matrix and curves, and gray ones made of a curve, can be followed; where a
// profile has tables as well, the matrix is used. Profiles with tables only
// are refused.
func profileColors(data []byte, model colorModel) (*transform, error) {
	p, err := readProfile(data)
	if err != nil {
		return nil, refuse(ErrColors, err, sayColorDamaged)
	}
	if err := p.suits(model); err != nil {
		return nil, err
	}
	read := p.rgb
	if p.space == spaceGray {
		read = p.gray
	}
	curves, toPCS, err := read()
	if err != nil {
		return nil, refuse(ErrColors, err, sayColorDamaged)
	}
	return newTransform(curves, toPCS), nil
}

// The color spaces of pictures that ICC.1 names and this package can follow.
const spaceRGB, spaceGray = "RGB ", "GRAY"

// suits refuses a profile that is not for this kind of picture or that cannot
// be followed. A color profile also suits a gray picture: gray is a color.
func (p profile) suits(model colorModel) error {
	var meant colorModel
	trc := "rTRC"
	switch p.space {
	case spaceRGB:
		meant = modelRGB
	case spaceGray:
		meant, trc = modelGray, "kTRC"
	default:
		meant = modelCMYK
	}
	if meant != model && !(meant == modelRGB && model == modelGray) {
		return refuse(ErrColors, nil, sayColorMismatch)
	}
	deviceless := p.class == "link" || p.class == "abst" || p.class == "nmcl"
	if meant == modelCMYK || deviceless || p.pcs != "XYZ " || p.tags[trc] == nil {
		return refuse(ErrColors, nil, sayColorTables)
	}
	return nil
}

var errWhite = errors.New("the color profile's white is not white")

// rgb reads the three curves and the three columns of the matrix.
func (p profile) rgb() (curves [3]curve, toPCS matrix, err error) {
	for c, color := range []string{"r", "g", "b"} {
		if curves[c], err = readCurve(p.tags[color+"TRC"]); err != nil {
			return curves, matrix{}, err
		}
		column := p.tags[color+"XYZ"]
		if len(column) < 20 || string(column[:4]) != "XYZ " {
			return curves, matrix{}, errProfile
		}
		for r := range 3 {
			toPCS[r][c] = fixed(column[8+4*r:])
		}
	}
	// All three at full must make the connection space's white. Profiles in
	// use are within a thousandth; one that is far off would tint the picture.
	white := toPCS.times(vector{1, 1, 1})
	for i := range 3 {
		if math.Abs(white[i]-pcsWhite[i]) > 0.05 {
			return curves, matrix{}, errWhite
		}
	}
	return curves, toPCS, nil
}

// gray reads the one curve. Three equal channels through the matrix of sRGB
// stay equal.
func (p profile) gray() (curves [3]curve, toPCS matrix, err error) {
	one, err := readCurve(p.tags["kTRC"])
	if err != nil {
		return curves, matrix{}, err
	}
	toPCS, err = spaceSRGB.primaries.toPCS()
	return [3]curve{one, one, one}, toPCS, err
}
