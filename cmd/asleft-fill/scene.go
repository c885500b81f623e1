package main

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"image"
	"image/jpeg"
	"strings"
	"sync"
)

// scenes is how many different pictures a shop has at most. More photos than
// that show them again, each with Exif data of its own: no two files are the
// same, and a benchmark of thousands of photos need not wait for as many
// drawings.
const scenes = 24

// quality is what phones use, about.
const quality = 88

// A roll is the photos of one shop.
type roll struct {
	Size
	once  [scenes]sync.Once
	drawn [scenes][]byte
	err   [scenes]error
}

func newRoll(size Size) *roll { return &roll{Size: size} }

// develop is the file of photo i, taken on a day (2012-01-31).
func (r *roll) develop(i int, day string) ([]byte, error) {
	n := i % scenes
	r.once[n].Do(func() {
		var b bytes.Buffer
		picture := r.draw(newChance(r.Seed, sceneStream+uint64(n)))
		r.err[n] = jpeg.Encode(&b, picture, &jpeg.Options{Quality: quality})
		r.drawn[n] = b.Bytes()
	})
	if r.err[n] != nil {
		return nil, fmt.Errorf("drawing a photo: %w", r.err[n])
	}
	// Most pictures are taken with the phone upright, which it stores lying.
	orientation := []uint16{6, 6, 1, 6, 1, 3, 8}[(i+i/scenes)%7]
	return withExif(r.drawn[n], orientation, day, fmt.Sprintf("%016x%016x", r.Seed, i)), nil
}

// draw makes a picture of boxes and discs on a floor, with the grain of a
// phone in a dim shed: noise is what makes real photos slow to shrink and hard
// to compress.
func (r *roll) draw(c chance) *image.YCbCr {
	m := image.NewYCbCr(image.Rect(0, 0, r.Width, r.Height), image.YCbCrSubsampleRatio420)
	floor := r.Height * c.between(40, 70) / 100
	for y := range r.Height {
		light := 90 + 60*y/r.Height
		if y > floor {
			light = 150 - 70*(y-floor)/r.Height
		}
		fillRow(m.Y[y*m.YStride:][:r.Width], uint8(light))
	}
	fillRow(m.Cb, uint8(c.between(118, 130)))
	fillRow(m.Cr, uint8(c.between(126, 138)))
	for range c.between(14, 30) {
		shape := shape{
			x: c.IntN(r.Width), y: c.IntN(r.Height), w: c.between(r.Width/40, r.Width/5), h: c.between(r.Height/40, r.Height/4),
			disc: c.once(2), light: c.between(25, 215), cb: uint8(c.between(80, 150)), cr: uint8(c.between(100, 200)),
		}
		shape.paint(m)
	}
	grain(c, m)
	return m
}

func fillRow(row []uint8, v uint8) {
	for i := range row {
		row[i] = v
	}
}

// A shape is a box or a disc, lit from above.
type shape struct {
	x, y, w, h int // middle and half sides, in pixels
	disc       bool
	light      int
	cb, cr     uint8
}

func (s shape) paint(m *image.YCbCr) {
	for y := max(0, s.y-s.h); y < min(m.Rect.Dy(), s.y+s.h); y++ {
		half := s.w
		if s.disc {
			half = s.w * isqrt(s.h*s.h-(y-s.y)*(y-s.y)) / s.h
		}
		from, to := max(0, s.x-half), min(m.Rect.Dx(), s.x+half)
		if from >= to {
			continue
		}
		fillRow(m.Y[y*m.YStride:][from:to], uint8(min(235, max(16, s.light-40*(y-s.y)/s.h))))
		fillRow(m.Cb[y/2*m.CStride:][from/2:to/2], s.cb)
		fillRow(m.Cr[y/2*m.CStride:][from/2:to/2], s.cr)
	}
}

// isqrt is the whole part of the square root of n, 0 for less than 1.
func isqrt(n int) int {
	if n < 1 {
		return 0
	}
	x := n
	for y := (x + 1) / 2; y < x; y = (x + n/x) / 2 {
		x = y
	}
	return x
}

// grain adds noise of a few steps to the brightness. Rows take it from one
// strip at places of their own.
func grain(c chance, m *image.YCbCr) {
	w := m.Rect.Dx()
	strip := make([]int8, 2*w+1009)
	for i := range strip {
		strip[i] = int8(c.IntN(7) + c.IntN(7) - 6)
	}
	for y := range m.Rect.Dy() {
		row, noise := m.Y[y*m.YStride:][:w], strip[c.IntN(w+1009):]
		for x := range row {
			row[x] = uint8(min(255, max(0, int(row[x])+int(noise[x]))))
		}
	}
}

// withExif puts an APP1 segment after the start of a JPEG: which way up it is,
// when it was taken and an id (CIPA DC-008: tags 0x0112, 0x9003 and 0xa420).
func withExif(file []byte, orientation uint16, day, id string) []byte {
	taken := strings.ReplaceAll(day, "-", ":") + " 19:40:00\x00"
	id += "\x00"
	const ifd, exif = 8, 8 + 2 + 2*12 + 4
	const values = exif + 2 + 2*12 + 4
	order := binary.BigEndian
	t := []byte("MM\x00\x2a")
	field := func(tag, kind uint16, count, value uint32) {
		t = order.AppendUint16(t, tag)
		t = order.AppendUint16(t, kind)
		t = order.AppendUint32(t, count)
		t = order.AppendUint32(t, value)
	}
	const ascii, short, long = 2, 3, 4
	t = order.AppendUint32(t, ifd)
	t = order.AppendUint16(t, 2)
	field(0x0112, short, 1, uint32(orientation)<<16)
	field(0x8769, long, 1, exif)
	t = order.AppendUint32(t, 0)
	t = order.AppendUint16(t, 2)
	field(0x9003, ascii, uint32(len(taken)), values)
	field(0xa420, ascii, uint32(len(id)), uint32(values+len(taken)))
	t = order.AppendUint32(t, 0)
	t = append(append(t, taken...), id...)
	out := append(make([]byte, 0, len(file)+len(t)+10), file[:2]...)
	out = append(out, 0xff, 0xe1)
	out = order.AppendUint16(out, uint16(2+6+len(t)))
	out = append(append(out, "Exif\x00\x00"...), t...)
	return append(out, file[2:]...)
}
