package desk

import (
	"bytes"
	"errors"
	"io"
	"mime/multipart"
	"net/http"
	"path"
	"slices"
	"strings"
	"time"

	"github.com/spf13/afero"

	"asleft/generator/entry"
	"asleft/generator/frontmatter"
	"asleft/generator/photo"
	"asleft/generator/rooted"
)

// mostPhoto is the largest photo that is taken in, in bytes.
const mostPhoto = 64 << 20

// takePhotos puts photos into the machine's folder and rows for them into the draft. One that
// cannot be taken keeps no other from it: the evening's page names it and says why.
func (d *Desk) takePhotos(w http.ResponseWriter, r *http.Request, s writing, files []*multipart.FileHeader) {
	f, err := frontmatter.Read(s.text)
	if err != nil {
		d.fail(w, err)
		return
	}
	want := f.Fields()
	var names, refused []string
	for _, h := range files {
		name, err := d.takePhoto(s.machine, h)
		if err != nil {
			refused = append(refused, d.photoRefused(h, err))
			continue
		}
		names = append(names, name)
	}
	_ = http.NewResponseController(w).SetWriteDeadline(time.Now().Add(time.Minute)) // many photos take long; a test's recorder has none
	s.text, err = f.With(withPhotos(want, names), f.Story())
	if err == nil && len(names) > 0 {
		err = d.writeDraft(s.id, draft{File: s.file, Base: s.base, Text: s.text})
	}
	if err != nil {
		d.fail(w, err)
		return
	}
	to := s.address()
	if len(refused) > 0 {
		id := NewSecret()[:16]
		d.refused.put(id, refused, mostRefusals)
		to += "?refused=" + id
	}
	http.Redirect(w, r, to+"#photos", http.StatusSeeOther)
}

// errPhotoSize says that a photo is larger than mostPhoto.
var errPhotoSize = errors.New("the photo is too large")

func (d *Desk) takePhoto(key string, h *multipart.FileHeader) (string, error) {
	if h.Size > mostPhoto {
		return "", errPhotoSize
	}
	in, err := h.Open()
	if err != nil {
		return "", err
	}
	defer in.Close()
	data, err := io.ReadAll(in)
	if err != nil {
		return "", err
	}
	shot, err := entry.Look(h.Filename, data, d.clock(), d.zone())
	if err != nil {
		return "", err
	}
	// Half a picture looks like a photo by its head. The pixels of one are many, so one is
	// looked at at a time.
	d.looking.Lock()
	err = photo.Check(data)
	d.looking.Unlock()
	if err != nil {
		return "", err
	}
	name, _, err := entry.KeepPhoto(d.folder, key, shot)
	return name, err
}

// photoRefused tells which photo was not taken, and how to mend it.
func (d *Desk) photoRefused(h *multipart.FileHeader, err error) string {
	var refusal *photo.Refusal
	switch {
	case errors.Is(err, errPhotoSize):
		return d.words.Say("desk.photo-size", "name", h.Filename, "size", megabytes(h.Size), "most", mostPhoto>>20)
	case errors.As(err, &refusal):
		return d.words.Say("desk.photo-refused", "name", h.Filename, "why", refusal.Says)
	}
	return d.words.Say("desk.photo-not-kept", "name", h.Filename, "why", err.Error())
}

// megabytes are those that a size fills, the last one in part.
func megabytes(size int64) int64 { return (size + 1<<20 - 1) >> 20 }

// mostRefusals bounds what is remembered of photos that were not taken in, for the pages
// that tell of it.
const mostRefusals = 50

func (d *Desk) zone() *time.Location {
	if r := d.o.Reading(); r != nil {
		return r.Shop.Zone
	}
	return nil
}

// withPhotos are the fields with rows for photos that are not in them yet.
func withPhotos(want frontmatter.Node, names []string) frontmatter.Node {
	photos, _ := want.Find("photos")
	photos.Kind = frontmatter.List
	had := map[string]bool{}
	for _, i := range photos.Items {
		file, _ := i.Find("file")
		had[file.Text] = true
	}
	for _, name := range names {
		if !had[name] {
			had[name] = true
			photos.Items = append(photos.Items, frontmatter.Node{Kind: frontmatter.Fields, Fields: []frontmatter.Field{textField("file", name)}})
		}
	}
	return withField(want, frontmatter.Field{Name: "photos", Node: photos})
}

// photoDirs are the folders of a machine that hold photos.
func photoDirs(key string) []string {
	return []string{"machines/" + key + "/photos", "machines/" + key}
}

// photosOf are the names of a machine's photos, the newest first.
func (d *Desk) photosOf(key string) []string {
	var all []string
	for _, dir := range photoDirs(key) {
		infos, _ := afero.ReadDir(d.folder, dir) // it need not be there
		for n := len(infos) - 1; n >= 0; n-- {
			switch strings.ToLower(path.Ext(infos[n].Name())) {
			case ".jpg", ".jpeg", ".png":
				all = append(all, infos[n].Name())
			}
		}
	}
	return all
}

// photo is a photo of a machine as it lies in its folder, for the form.
func (d *Desk) photo(w http.ResponseWriter, r *http.Request) {
	key, name := nowCalled(d.o.Reading(), r.PathValue("key")), r.PathValue("name")
	if !slices.Contains(d.photosOf(key), name) {
		http.NotFound(w, r)
		return
	}
	for _, dir := range photoDirs(key) {
		if data, err := rooted.ReadFile(d.folder, path.Join(dir, name), photo.MaxBytes); err == nil {
			w.Header().Set("Cache-Control", "private, max-age=300")
			http.ServeContent(w, r, name, d.clock(), bytes.NewReader(data))
			return
		}
	}
	http.NotFound(w, r)
}
