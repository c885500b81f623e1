package main

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"image/jpeg"
	"math"
	"os"
	"path/filepath"

	"github.com/disintegration/imaging"

	"asleft/generator/photo"
)

// The pictures of both sides, as they lie on the disk, are held against a third
// that nobody has saved as JPEG: the Lanczos filter over the whole photograph, in
// brightness. Both save at quality 80, which loses most of what is lost. Asleft
// may lose no more decibels than this beyond what libvips loses, and the two may
// not be further apart than the second: a picture that is moved by a pixel, or
// the wrong way round, is below that.
const (
	behind = 0.5
	apart  = 33.0
)

// quality is the likeness of finished pictures to the filter's, and to each
// other, in decibels (PSNR), for every width and photograph.
func (b *bench) quality(photos []string) error {
	widths := []int{1600, 800, 400}
	ours, theirs, between := map[int][]float64{}, map[int][]float64{}, map[int][]float64{}
	for _, name := range photos {
		data, err := os.ReadFile(name)
		if err != nil {
			return err
		}
		whole, err := jpeg.Decode(bytes.NewReader(data))
		if err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
		for _, w := range widths {
			a, errA := brightness(b.path("site-photos", "photos", fmt.Sprintf("%s-%d.jpg", photo.Key(data), w)))
			v, errV := brightness(b.path("vips", fmt.Sprint(w), filepath.Base(name)))
			if err := errors.Join(errA, errV); err != nil {
				return err
			}
			if a.Rect != v.Rect {
				return fmt.Errorf("%s: asleft's picture is %v, libvips' %v", name, a.Rect, v.Rect)
			}
			direct := gray(imaging.Resize(gray(whole), a.Rect.Dx(), a.Rect.Dy(), imaging.Lanczos))
			ours[w], theirs[w], between[w] = append(ours[w], psnr(a, direct)), append(theirs[w], psnr(v, direct)), append(between[w], psnr(a, v))
		}
	}
	for _, w := range widths {
		o, t, d := spreadOf(ours[w]), spreadOf(theirs[w]), spreadOf(between[w])
		b.note("%d wide, finished pictures against direct Lanczos that was never saved as JPEG, dB: asleft %v, libvips %v; asleft's against libvips' %v", w, o, t, d)
		if o.Median < t.Median-behind || d.Min < apart {
			return fmt.Errorf("%d wide: asleft's pictures are worse than libvips' (%.1f dB against %.1f, and %.1f dB apart)", w, o.Median, t.Median, d.Min)
		}
	}
	return nil
}

// brightness is what a JPEG holds of it.
func brightness(name string) (*image.Gray, error) {
	data, err := os.ReadFile(name)
	if err != nil {
		return nil, err
	}
	pic, err := jpeg.Decode(bytes.NewReader(data))
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	return gray(pic), nil
}

// gray is a picture's brightness: of a JPEG as it is stored, of one that has
// been gray before any of its colors.
func gray(pic image.Image) *image.Gray {
	size := pic.Bounds().Size()
	out := image.NewGray(image.Rectangle{Max: size})
	for y := range size.Y {
		row := out.Pix[y*out.Stride:][:size.X]
		switch pic := pic.(type) {
		case *image.YCbCr:
			copy(row, pic.Y[y*pic.YStride:])
		case *image.NRGBA:
			for x := range row {
				row[x] = pic.Pix[y*pic.Stride+4*x]
			}
		}
	}
	return out
}

func psnr(a, b *image.Gray) float64 {
	var sum float64
	for i := range a.Pix {
		d := float64(a.Pix[i]) - float64(b.Pix[i])
		sum += d * d
	}
	return 10 * math.Log10(255*255*float64(len(a.Pix))/sum)
}
