package main

import (
	"bytes"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// photos is a cold run with real photographs against libvips.
func (b *bench) photos() ([]result, error) {
	count := b.pick(60, 12)
	shop, err := b.fill(6, count, count, "16x16")
	if err != nil {
		return nil, err
	}
	photos, err := b.exchange(shop.dir, count)
	if err != nil {
		return nil, err
	}
	vips := contender{before: func() error { return b.emptyFolders("vips/1600", "vips/800", "vips/400") }, run: func() (run, error) { return b.vips(photos) }}
	runs, err := b.turns(true, b.writeup(shop.dir, "site-photos", true), vips)
	if err != nil {
		return nil, err
	}
	if err := sameNumber(b.path("site-photos", "photos"), 3*count); err != nil {
		return nil, err
	}
	if err := sameNumber(b.path("vips"), 3*count); err != nil {
		return nil, err
	}
	if err := b.quality(photos); err != nil {
		return nil, err
	}
	least, err := b.likeness()
	if err != nil {
		return nil, err
	}
	b.note("likeness of asleft's pictures of these photographs to direct Lanczos, least of all widths: %.1f dB (bar 38, and the test fails below it)", least)
	used, _ := os.ReadFile(b.path("photographs.txt"))
	b.note("cold photos: %s; libvips as three chained vipsthumbnail calls, Q=80, metadata stripped", strings.TrimSpace(string(used)))
	a, v := runs[0], runs[1]
	return []result{{what: fmt.Sprintf("cold photos: %d of 12 megapixels to three widths", count), against: "libvips, chained", times: times(a, v), ratio: versus(a, v), bar: 0.9, shortBar: wide * 0.92}},
		os.RemoveAll(b.path("site-photos"))
}

// likeness has the test of the photo package hold the pictures of the
// photographs against those of the direct way, and returns the least likeness in
// decibels.
func (b *bench) likeness() (float64, error) {
	folder, err := filepath.Abs(b.path("photographs"))
	if err != nil {
		return 0, err
	}
	r, err := start("", "go", "test", "-count=1", "-v", "-run", "^TestPhotographsKeepTheirLikeness$", "./generator/photo", "-photographs", folder)
	if err != nil {
		return 0, err
	}
	_, found, _ := strings.Cut(r.out, "the least like the direct way:")
	var least float64
	if _, err := fmt.Sscanf(found, "%f dB", &least); err != nil {
		return 0, fmt.Errorf("the test of likeness said %q: %w", tail(r.out), err)
	}
	return least, nil
}

// exchange puts real photographs in place of a shop's drawn ones, shows all of
// them, and returns the photographs. Their names differ, as those of photos of
// several machines need not.
func (b *bench) exchange(shop string, count int) ([]string, error) {
	names, err := filepath.Glob(b.path("photographs", "*.jpg"))
	if err != nil || len(names) < count {
		return nil, fmt.Errorf("%d photographs are there, %d are needed", len(names), count)
	}
	put := 0
	err = filepath.WalkDir(shop, func(name string, d fs.DirEntry, err error) error {
		switch {
		case err != nil || d.IsDir():
			return err
		case strings.HasSuffix(name, ".jpg"):
			if put == count {
				return fmt.Errorf("the shop has more than %d photos", count)
			}
			data, err := os.ReadFile(names[put])
			if err != nil {
				return err
			}
			put++
			return os.WriteFile(name, data, 0o644)
		}
		data, err := os.ReadFile(name)
		if err != nil {
			return err
		}
		return os.WriteFile(name, bytes.ReplaceAll(data, []byte(`private: yes`), []byte(`private: no`)), 0o644)
	})
	if err == nil && put != count {
		err = fmt.Errorf("the shop has %d photos, not %d", put, count)
	}
	return names[:count], err
}

func sameNumber(dir string, want int) error {
	n := 0
	err := filepath.WalkDir(dir, func(_ string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() {
			n++
		}
		return err
	})
	if err == nil && n != want {
		err = fmt.Errorf("%s has %d files, not %d: the two sides did not do the same work", dir, n, want)
	}
	return err
}

func (b *bench) emptyFolders(names ...string) error {
	for _, n := range names {
		if err := os.RemoveAll(b.path(n)); err != nil {
			return err
		}
		if err := os.MkdirAll(b.path(n), 0o755); err != nil {
			return err
		}
	}
	return nil
}

// vips makes the three widths, each from the one before.
func (b *bench) vips(photos []string) (run, error) {
	var all run
	for i, width := range []string{"1600", "800", "400"} {
		args := []string{"--size", width + "x", "-o", b.path("vips", width) + "/%s.jpg[Q=80,strip]"}
		from := photos
		if i > 0 {
			var err error
			if from, err = filepath.Glob(b.path("vips", []string{"1600", "800"}[i-1], "*.jpg")); err != nil {
				return run{}, err
			}
		}
		r, err := start("", "vipsthumbnail", append(args, from...)...)
		if err != nil {
			return r, err
		}
		all.seconds += r.seconds
		all.cpu += r.cpu
	}
	return all, nil
}
