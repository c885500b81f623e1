package main

import (
	"bytes"
	"encoding/binary"
	"hash/fnv"
	"image"
	"image/color"
	"image/jpeg"
	"os"
	"os/exec"
	"path/filepath"
	"time"

	"github.com/rogpeppe/go-internal/testscript"
)

// photoFile FILE TAKEN OFFSET writes a small photo with the Exif times that a
// phone writes; an empty one is left out. Each file name gives other pixels.
func photoFile(ts *testscript.TestScript, _ bool, args []string) {
	h := fnv.New32a()
	h.Write([]byte(args[0]))
	seed := byte(h.Sum32())
	img := image.NewRGBA(image.Rect(0, 0, 64, 48))
	for i := range img.Pix {
		img.Pix[i] = byte(i)*seed | 1
	}
	img.Set(0, 0, color.White)
	var b bytes.Buffer
	ts.Check(jpeg.Encode(&b, img, nil))
	data := b.Bytes()
	if args[1] != "" {
		data = append(append([]byte("\xff\xd8"), exifTimes(args[1], args[2])...), data[2:]...)
	}
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), data, 0o600))
}

// exifTimes is an APP1 segment with DateTimeOriginal and OffsetTimeOriginal.
func exifTimes(taken, offset string) []byte {
	le := binary.LittleEndian
	entry := func(tag, kind uint16, count, value uint32) []byte {
		return le.AppendUint32(le.AppendUint32(le.AppendUint16(le.AppendUint16(nil, tag), kind), count), value)
	}
	const exifIFD = 8 + 2 + 12 + 4
	tiff := append([]byte("II*\x00\x08\x00\x00\x00\x01\x00"), entry(0x8769, 4, 1, exifIFD)...)
	tiff = append(tiff, 0, 0, 0, 0)
	n := uint32(1)
	if offset != "" {
		n = 2
	}
	text := exifIFD + 2 + n*12 + 4
	tiff = le.AppendUint16(tiff, uint16(n))
	tiff = append(tiff, entry(0x9003, 2, 20, text)...)
	if offset != "" {
		tiff = append(tiff, entry(0x9011, 2, 7, text+20)...)
	}
	tiff = append(tiff, 0, 0, 0, 0)
	tiff = append(tiff, taken+"\x00"...)
	tiff = append(tiff, offset+"\x00"...)
	body := append([]byte("Exif\x00\x00"), tiff...)
	return append(binary.BigEndian.AppendUint16([]byte{0xff, 0xe1}, uint16(len(body)+2)), body...)
}

// heicFile FILE writes what a HEIC photo begins with.
func heicFile(ts *testscript.TestScript, _ bool, args []string) {
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), []byte("\x00\x00\x00\x18ftypheic\x00\x00\x00\x00mif1heic"), 0o600))
}

// halve FILE cuts a file off in the middle, as a cable that was pulled out does.
func halve(ts *testscript.TestScript, _ bool, args []string) {
	info, err := os.Stat(ts.MkAbs(args[0]))
	ts.Check(err)
	ts.Check(os.Truncate(ts.MkAbs(args[0]), info.Size()/2))
}

// touch FILE TIME sets when a file was written.
func touch(ts *testscript.TestScript, _ bool, args []string) {
	at, err := time.Parse(time.RFC3339, args[1])
	ts.Check(err)
	ts.Check(os.Chtimes(ts.MkAbs(args[0]), at, at))
}

// onlyAsleft takes every program but asleft away for the rest of the script.
func onlyAsleft(ts *testscript.TestScript, _ bool, _ []string) {
	program, err := exec.LookPath("asleft")
	ts.Check(err)
	ts.Setenv("PATH", filepath.Dir(program))
}
