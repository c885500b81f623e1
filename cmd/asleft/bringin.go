package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"asleft/generator/entry"
	"asleft/generator/photo"
	"asleft/generator/photo/heic"
)

// A kept photo is one that is in the machine's folder now.
type kept struct {
	entry.Photo
	taken time.Time
}

// bringIn copies photos into the machine's folder and lists them in the entry.
// It returns how many it could not take, each of which has been told of.
func (l *logging) bringIn(places []string, alts map[string]string) (left int, err error) {
	photos, left, err := l.importAll(places, alts)
	if err != nil {
		return left, err
	}
	for _, p := range photos {
		l.entry.Photos = append(l.entry.Photos, p.Photo)
	}
	return left, nil
}

// shootingDays makes an entry of each day on which photos of a folder were
// taken, in the order of the days.
func (l *logging) shootingDays(flags *logFlags) error {
	alts, err := flags.altTexts()
	if err != nil {
		return err
	}
	photos, left, err := l.importAll([]string{flags.fromPhotos}, alts)
	if err != nil {
		return err
	}
	if len(photos) == 0 {
		fmt.Fprintln(l.out, words.Say("command.no-photos"))
	}
	given := l.entry
	worst := error(nil)
	if left > 0 {
		worst = &outcome{status: problems}
	}
	for len(photos) > 0 {
		day := photos[0].taken.Format(time.DateOnly)
		n := slices.IndexFunc(photos, func(k kept) bool { return k.taken.Format(time.DateOnly) != day })
		if n < 0 {
			n = len(photos)
		}
		l.entry = given
		l.dayEntry(day, photos[:n])
		photos = photos[n:]
		var o *outcome
		if err := l.write(); errors.As(err, &o) && o.status == problems {
			worst = err
		} else if err != nil {
			return err
		}
	}
	return worst
}

func (l *logging) dayEntry(day string, photos []kept) {
	e := &l.entry
	e.Date, e.Time = day, photos[0].taken.Format("15:04")
	if e.Title == "" {
		e.Title = words.Count("entry.photos", len(photos))
	}
	for _, p := range photos {
		e.Photos = append(e.Photos, p.Photo)
	}
	if l.ask.interactive {
		l.askAlts()
	}
}

// importAll takes in photos, sorted by when they were taken. One that an entry
// of the machine names already is passed over.
func (l *logging) importAll(places []string, alts map[string]string) (photos []kept, left int, err error) {
	named := l.named()
	for _, place := range places {
		files, err := photoFiles(place)
		if err != nil {
			return nil, left, err
		}
		for _, file := range files {
			k, err := l.importOne(file, named)
			var no *photo.Refusal
			switch {
			case errors.As(err, &no):
				fmt.Fprintln(l.err, printable(file+": "+no.Says))
				if file == place || errors.Is(err, photo.ErrHEIC) || !errors.Is(err, photo.ErrNotPhoto) {
					left++ // a list or a video that lies among the photos was not asked for
				}
			case err != nil:
				return nil, left, err
			case k != nil:
				k.Alt = alts[filepath.Base(file)]
				photos = append(photos, *k)
			}
		}
	}
	slices.SortStableFunc(photos, func(a, b kept) int { return a.taken.Compare(b.taken) })
	return photos, left, nil
}

// importOne takes in one photo; nil where it is in the log already.
func (l *logging) importOne(file string, named map[string]bool) (*kept, error) {
	data, written, err := readPhoto(file)
	if err != nil {
		return nil, err
	}
	shot, err := entry.Look(filepath.Base(file), data, written, l.zone())
	if errors.Is(err, photo.ErrHEIC) {
		shot, err = l.convert(file, data, written, err)
	}
	if err != nil {
		return nil, err
	}
	name, there, err := entry.KeepPhoto(l.folder, l.key, shot)
	if err != nil {
		return nil, unwritten(err)
	}
	if named[name] {
		fmt.Fprintln(l.out, printable(words.Say("command.photo-logged", "from", file, "name", name)))
		return nil, nil
	}
	named[name] = true
	if there {
		fmt.Fprintln(l.out, printable(words.Say("command.photo-there", "from", file, "name", name)))
	} else {
		fmt.Fprintln(l.out, printable(words.Say("command.photo-kept", "from", file, "name", name)))
	}
	return &kept{entry.Photo{File: name}, shot.Taken}, nil
}

// convert has the system's own converter turn a HEIC photo into a JPEG. Where
// there is none, the refusal says how to go on without it.
func (l *logging) convert(file string, data []byte, written time.Time, refusal error) (entry.Shot, error) {
	converter := heic.Converter()
	if converter == "" {
		return entry.Shot{}, refusal
	}
	jpeg, note, err := heic.Convert(context.Background(), converter, data)
	if err != nil {
		return entry.Shot{}, &photo.Refusal{Kind: photo.ErrHEIC, Says: words.Say("command.not-converted", "why", err), Cause: err}
	}
	if note != "" {
		fmt.Fprintln(l.err, printable(file+": "+words.Say(note)))
	}
	return entry.Look(filepath.Base(file), jpeg, written, l.zone())
}

// zone is where the shop's clock hangs; nil where shop.md does not say.
func (l *logging) zone() *time.Location {
	if l.shop.Zone == time.UTC {
		return nil
	}
	return l.shop.Zone
}

// named are the files that the machine's log names already.
func (l *logging) named() map[string]bool {
	named := map[string]bool{}
	for _, p := range l.machine.Photos {
		named[path.Base(p.Path)] = true
	}
	for _, e := range l.machine.Entries {
		for _, p := range e.Photos {
			named[path.Base(p.Path)] = true
		}
	}
	return named
}

// photoFiles are the files that one argument of --photos means.
func photoFiles(place string) ([]string, error) {
	info, err := os.Stat(place)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, wrongUsage(errors.New(words.Say("command.no-such-photos", "place", place)))
	}
	if err != nil {
		return nil, &outcome{fault, err}
	}
	if !info.IsDir() {
		return []string{place}, nil
	}
	entries, err := os.ReadDir(place)
	if err != nil {
		return nil, &outcome{fault, err}
	}
	var files []string
	for _, e := range entries {
		if e.Type().IsRegular() && !strings.HasPrefix(e.Name(), ".") {
			files = append(files, filepath.Join(place, e.Name()))
		}
	}
	return files, nil
}

// mostPhoto is more than any photo of a phone weighs, in bytes.
const mostPhoto = 256 << 20

func readPhoto(file string) (data []byte, written time.Time, err error) {
	f, err := os.Open(file)
	if err != nil {
		return nil, time.Time{}, &outcome{fault, err}
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return nil, time.Time{}, &outcome{fault, err}
	}
	if info.Size() > mostPhoto {
		return nil, time.Time{}, &photo.Refusal{Kind: photo.ErrSize, Says: words.Say("command.photo-too-big")}
	}
	data, err = io.ReadAll(f)
	if err != nil {
		return nil, time.Time{}, &outcome{fault, err}
	}
	return data, info.ModTime(), nil
}

// altTexts are the alt texts of --alt by the file that they are of.
func (l *logFlags) altTexts() (map[string]string, error) {
	alts := map[string]string{}
	for _, t := range l.alts {
		file, alt, err := halves("alt", t, ":", "IMG_0001.jpg: what it shows")
		if err != nil {
			return nil, err
		}
		alts[filepath.Base(file)] = alt
	}
	return alts, nil
}
