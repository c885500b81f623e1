// Package heic turns the HEIC photos of phones into JPEGs that lie the right way up,
// with the system's own converter.
//
// What is not done: decoding. What the container says of its picture is read
// (container.go), so that the converter can be checked.
package heic

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"image/jpeg"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"time"

	"asleft/generator/photo"
)

// converters are the names of libheif's own converter, the one of older and of
// newer versions. It runs as a program of its own: none of its code is in this
// one.
var converters = []string{"heif-convert", "heif-dec"}

// Converter is the path of the system's HEIC converter; empty where it has
// none.
func Converter() string {
	for _, name := range converters {
		if p, err := exec.LookPath(name); err == nil {
			return p
		}
	}
	return ""
}

// convertTime is how long one photo may take: a slow machine needs seconds.
const convertTime = 2 * time.Minute

// jpegQuality is what a converted photo is written with; it is shrunk later.
const jpegQuality = "93"

// Why a converted photo is not taken.
var (
	errSeveral = errors.New("the file holds several pictures")
	errTurned  = errors.New("the converted picture does not lie the way that the HEIC photo says")
)

// Convert turns a HEIC photo into a JPEG that is upright as it is stored.
//
// Which way is up, a HEIC photo may say twice: in its container, which the
// converter follows when it decodes the pixels, and again in its Exif data,
// which the converter copies. Some versions leave the second as it was, so that
// a viewer would turn the picture once more. So the size of the pixels that
// came out is held against the container's, turned as it says; they have to
// agree; and the copied Exif data is set to upright (ISO/IEC 23008-12 makes the
// container's word the one that counts). Half a turn, a mirroring and a square
// picture do not show in a size: there the converter is believed. Where only
// the Exif data asks for a turn, note is the key of a sentence that says to
// look at the picture.
func Convert(ctx context.Context, converter string, data []byte) (picture []byte, note string, err error) {
	want, err := lieOf(data)
	if err != nil {
		return nil, "", err
	}
	picture, err = runConverter(ctx, converter, data)
	if err != nil {
		return nil, "", err
	}
	stored, err := jpeg.DecodeConfig(bytes.NewReader(picture))
	if err != nil {
		return nil, "", fmt.Errorf("what %s wrote is no JPEG: %w", filepath.Base(converter), err)
	}
	if w, h := want.size(); w != stored.Width || h != stored.Height {
		return nil, "", errTurned
	}
	said, err := photo.Look(picture)
	if err != nil {
		return nil, "", err
	}
	if said.Orientation == 1 {
		return picture, "", nil
	}
	setUpright(picture)
	if now, err := photo.Look(picture); err != nil || now.Orientation != 1 {
		return nil, "", errors.Join(errTurned, err)
	}
	if !want.turns {
		note = "command.heic-exif-only"
	}
	return picture, note, nil
}

// runConverter runs the converter on a copy of the photo, in a folder of its
// own.
func runConverter(ctx context.Context, converter string, data []byte) (picture []byte, err error) {
	clearConversions()
	dir, err := os.MkdirTemp("", conversion+"*")
	if err != nil {
		return nil, err
	}
	defer func() { err = errors.Join(err, os.RemoveAll(dir)) }()
	in, out := filepath.Join(dir, "in.heic"), filepath.Join(dir, "out.jpg")
	if err := os.WriteFile(in, data, 0o600); err != nil {
		return nil, err
	}
	ctx, stop := context.WithTimeout(ctx, convertTime)
	defer stop()
	cmd := exec.CommandContext(ctx, converter, "-q", jpegQuality, in, out)
	cmd.WaitDelay = time.Second
	var said tail
	cmd.Stdout, cmd.Stderr = &said, &said
	if err := cmd.Run(); err != nil {
		return nil, fmt.Errorf("%s: %w %s", filepath.Base(converter), err, strings.Join(strings.Fields(string(said)), " "))
	}
	picture, err = os.ReadFile(out)
	if errors.Is(err, os.ErrNotExist) {
		return nil, errSeveral // they are numbered then, and none is the one
	}
	return picture, err
}

// conversion is how the names of those folders begin.
const conversion = "asleft-heic-"

// clearConversions removes the folders of runs that were killed: with a photo in
// them that may tell where the shop is. No run needs a folder for so long.
func clearConversions() {
	infos, _ := os.ReadDir(os.TempDir()) // what cannot be seen cannot be cleared
	for _, e := range infos {
		info, err := e.Info()
		if err == nil && e.IsDir() && strings.HasPrefix(e.Name(), conversion) && time.Since(info.ModTime()) > 2*convertTime {
			_ = os.RemoveAll(filepath.Join(os.TempDir(), e.Name())) // another user's stays
		}
	}
}

// A tail keeps the end of what a program says.
type tail []byte

func (t *tail) Write(p []byte) (int, error) {
	const most = 300
	*t = append(*t, p...)
	if len(*t) > most {
		*t = (*t)[len(*t)-most:]
	}
	return len(p), nil
}
