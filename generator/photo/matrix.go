package photo

import (
	"errors"
	"math"
)

// vector and matrix hold three channels and what mixes them; a matrix is a
// list of rows.
type (
	vector [3]float64
	matrix [3]vector
)

func (m matrix) times(v vector) vector {
	var out vector
	for r := range 3 {
		out[r] = m[r][0]*v[0] + m[r][1]*v[1] + m[r][2]*v[2]
	}
	return out
}

func (m matrix) mul(n matrix) matrix {
	var out matrix
	for r := range 3 {
		for c := range 3 {
			out[r][c] = m[r][0]*n[0][c] + m[r][1]*n[1][c] + m[r][2]*n[2][c]
		}
	}
	return out
}

// scaleColumns multiplies column c by v[c].
func (m matrix) scaleColumns(v vector) matrix {
	for r := range 3 {
		for c := range 3 {
			m[r][c] *= v[c]
		}
	}
	return m
}

var errSingular = errors.New("the primaries lie on a line")

// inverse divides the adjugate by the determinant.
func (m matrix) inverse() (matrix, error) {
	cofactor := func(r, c int) float64 {
		r1, r2, c1, c2 := (r+1)%3, (r+2)%3, (c+1)%3, (c+2)%3
		return m[r1][c1]*m[r2][c2] - m[r1][c2]*m[r2][c1]
	}
	det := m[0][0]*cofactor(0, 0) + m[0][1]*cofactor(0, 1) + m[0][2]*cofactor(0, 2)
	if math.IsNaN(det) || math.Abs(det) < 1e-9 {
		return matrix{}, errSingular
	}
	var out matrix
	for r := range 3 {
		for c := range 3 {
			out[c][r] = cofactor(r, c) / det
		}
	}
	return out, nil
}

// xy is a chromaticity of CIE 1931.
type xy struct{ x, y float64 }

// xyz is the color of that chromaticity with Y = 1.
func (p xy) xyz() vector { return vector{p.x / p.y, 1, (1 - p.x - p.y) / p.y} }

// primaries define an RGB space up to its curve.
type primaries struct{ red, green, blue, white xy }

// near allows for rounding to three digits.
func (p primaries) near(q primaries) bool {
	close := func(a, b xy) bool { return math.Abs(a.x-b.x) < 0.001 && math.Abs(a.y-b.y) < 0.001 }
	return close(p.red, q.red) && close(p.green, q.green) && close(p.blue, q.blue) && close(p.white, q.white)
}

var errChromaticity = errors.New("a chromaticity lies outside the diagram")

// pcsWhite is the white of the ICC profile connection space, D50 as ICC.1
// writes it.
var pcsWhite = vector{0.9642, 1, 0.8249}

// toPCS gives the matrix from linear RGB to XYZ in the ICC profile connection
// space: the primaries scaled to make white, then adapted to D50.
func (p primaries) toPCS() (matrix, error) {
	for _, point := range []xy{p.red, p.green, p.blue, p.white} {
		if point.y < 0.001 || point.y > 1 || point.x < 0 || point.x > 1 {
			return matrix{}, errChromaticity
		}
	}
	columns := matrix{p.red.xyz(), p.green.xyz(), p.blue.xyz()}.transposed()
	inverse, err := columns.inverse()
	if err != nil {
		return matrix{}, err
	}
	white := p.white.xyz()
	return adaptation(white).mul(columns.scaleColumns(inverse.times(white))), nil
}

func (m matrix) transposed() matrix {
	return matrix{
		{m[0][0], m[1][0], m[2][0]},
		{m[0][1], m[1][1], m[2][1]},
		{m[0][2], m[1][2], m[2][2]},
	}
}

// bradford turns XYZ into the cone responses in which ICC.1 (annex E) scales
// one white to another; cones is the way back.
var (
	bradford = matrix{
		{0.8951, 0.2664, -0.1614},
		{-0.7502, 1.7135, 0.0367},
		{0.0389, -0.0685, 1.0296},
	}
	cones = mustInverse(bradford)
)

// adaptation takes colors seen under white to the connection space's D50.
func adaptation(white vector) matrix {
	from, to := bradford.times(white), bradford.times(pcsWhite)
	return cones.scaleColumns(vector{to[0] / from[0], to[1] / from[1], to[2] / from[2]}).mul(bradford)
}

// mustInverse is for the constants of this package, never for input.
func mustInverse(m matrix) matrix {
	inverse, err := m.inverse()
	if err != nil {
		panic(err)
	}
	return inverse
}
