package photo_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"asleft/generator/photo"
	"asleft/generator/testenv"
)

// The samples are those that exiftool is tested with: small files with the
// metadata of the cameras of many makers, and of many formats beside JPEG. They
// are not ours to keep here. .ci/run takes them from the Debian source package
// libimage-exiftool-perl (t/images) and names their folder in ASLEFT_SAMPLES.
// What exiftool itself reads in them is the judge.

// seen is what exiftool says of a file: "group:tag" to value.
type seen map[string]any

// says is one value as text; numbers are printed as they are.
func (s seen) says(tag string) string {
	if v, there := s[tag]; there {
		return fmt.Sprint(v)
	}
	return ""
}

// exiftool reads files, all that it finds in them, by base name.
func exiftool(t *testing.T, files ...string) map[string]seen {
	t.Helper()
	program := testenv.Program(t, "exiftool")
	out, err := exec.Command(program, append([]string{"-j", "-n", "-a", "-u", "-U", "-ee", "-G1"}, files...)...).Output()
	var exit *exec.ExitError
	if err != nil && !errors.As(err, &exit) { // it exits with 1 for a file that it does not know
		t.Fatal(err)
	}
	var found []seen
	if err := json.Unmarshal(out, &found); err != nil || len(found) != len(files) {
		t.Fatalf("exiftool read %d of %d files: %v", len(found), len(files), err)
	}
	byName := map[string]seen{}
	for _, s := range found {
		byName[s.says("System:FileName")] = s
	}
	return byName
}

// samples are the files and what exiftool says of each.
func samples(t *testing.T) (files []string, found map[string]seen) {
	t.Helper()
	testenv.Program(t, "exiftool") // with ASLEFT_CHECKS=none that leaves the test out
	dir := os.Getenv("ASLEFT_SAMPLES")
	if dir == "" {
		testenv.Without(t, "the folder of exiftool's samples (ASLEFT_SAMPLES)")
	}
	files, err := filepath.Glob(filepath.Join(dir, "*"))
	if err != nil || len(files) < 100 {
		t.Fatalf("%d samples in %s: %v", len(files), dir, err)
	}
	read.Do(func() { readings = exiftool(t, files...) })
	return files, readings
}

// The samples are read once for all the tests.
var (
	read     sync.Once
	readings map[string]seen
)

// plain are the groups of exiftool's that every JPEG has: the file's own facts,
// the sizes worked out from them, and what JPEG itself asks for.
var plain = []string{"System", "ExifTool", "Composite", "JFIF"}

// plainFile are the facts in exiftool's group File that are no metadata.
var plainFile = []string{
	"BitsPerSample", "ColorComponents", "EncodingProcess", "FileType", "FileTypeExtension",
	"ImageHeight", "ImageWidth", "MIMEType", "YCbCrSubSampling",
}

// more are the tags of a file that a plain JPEG does not have.
func more(s seen) []string {
	var tags []string
	for _, tag := range slices.Sorted(maps.Keys(s)) {
		group, name, _ := strings.Cut(tag, ":")
		switch {
		case tag == "SourceFile", slices.Contains(plain, group):
		case group == "File" && slices.Contains(plainFile, name):
		default:
			tags = append(tags, tag)
		}
	}
	return tags
}

// Every sample that exiftool knows as JPEG or PNG becomes pictures in which it
// finds nothing but what a plain JPEG has; every other is refused.
func TestSamplesComeOutClean(t *testing.T) {
	files, found := samples(t)
	dir := t.TempDir()
	var made []string
	told, refused := 0, 0 // samples that did carry metadata; samples turned away
	for _, file := range files {
		name := filepath.Base(file)
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		kind := found[name].says("File:FileType")
		clean, err := photo.Make(data)
		// JPS is a JPEG with two pictures side by side.
		if isPhoto := kind == "JPEG" || kind == "PNG" || kind == "JPS"; isPhoto != (err == nil) {
			t.Errorf("%s: exiftool says %q, and Make says %v", name, kind, err)
		}
		if err != nil {
			checkRefusal(t, name, kind, err)
			refused++
			continue
		}
		info, err := photo.Look(data)
		if err != nil {
			t.Errorf("%s: Make takes it, and Look says %v", name, err)
		}
		turn := found[name].says("IFD0:Orientation")
		if turn == "" {
			turn = "1"
		}
		if fmt.Sprint(info.Orientation) != turn {
			t.Errorf("%s: orientation %d, exiftool has %s", name, info.Orientation, turn)
		}
		if len(more(found[name])) > 0 {
			told++
		}
		for _, r := range clean.Renditions {
			out := filepath.Join(dir, fmt.Sprintf("%s-%d.jpg", name, r.Width))
			if err := os.WriteFile(out, r.JPEG, 0o600); err != nil {
				t.Fatal(err)
			}
			made = append(made, out)
		}
	}
	if len(made) < 40 || told < 35 || refused < 100 {
		t.Fatalf("%d pictures from %d samples with metadata, %d refused: too few to be the whole set", len(made), told, refused)
	}
	for name, s := range exiftool(t, made...) {
		if left := more(s); len(left) > 0 {
			t.Errorf("%s still carries %s", name, strings.Join(left, ", "))
		}
	}
}

// named are the words that a refusal has for the formats a mechanic may meet,
// by exiftool's names of them.
var named = map[string]string{
	"AVI": "a video", "BMP": "a BMP picture", "CR2": "a camera's raw file", "CR3": "a camera's raw file",
	"DNG": "a camera's raw file", "DOCX": "an office document", "GIF": "a GIF picture", "HEIF": "a HEIC photo",
	"JP2": "a JPEG 2000 picture", "JXL": "a JPEG XL picture", "M4A": "a sound recording", "MKV": "a video",
	"MOV": "a video", "NEF": "a camera's raw file", "PDF": "a PDF", "PSD": "a layered picture",
	"RAF": "a camera's raw file", "RTF": "a text file", "TIFF": "a TIFF picture", "WAV": "a sound recording",
	"WEBP": "a WebP picture", "ZIP": "a ZIP archive",
}

// checkRefusal wants a refusal that says what the file is or how it begins,
// what can be read, and, of the formats above, the right name.
func checkRefusal(t *testing.T, name, kind string, err error) {
	t.Helper()
	var refusal *photo.Refusal
	if !errors.As(err, &refusal) || !errors.Is(err, photo.ErrNotPhoto) {
		t.Errorf("%s: refused with %v", name, err)
		return
	}
	if !strings.Contains(refusal.Says, "only JPEG and PNG") {
		t.Errorf("%s: the refusal does not say what can be read: %s", name, refusal.Says)
	}
	if isHEIC := kind == "HEIC" || kind == "HEIF"; errors.Is(err, photo.ErrHEIC) != isHEIC {
		t.Errorf("%s: exiftool says %q; refused with %v", name, kind, err)
	}
	if words := named[kind]; !strings.Contains(refusal.Says, words) {
		t.Errorf("%s: exiftool says %q; the refusal says %s", name, kind, refusal.Says)
	}
}

// A sample that is not square, given each orientation by exiftool, comes out
// with its sides as Exif has it (CIPA DC-008, tag 274): 5 to 8 lie on the side.
func TestSamplesStandUpright(t *testing.T) {
	files, found := samples(t)
	program := testenv.Program(t, "exiftool")
	var lying []string // not square
	for _, file := range files {
		s := found[filepath.Base(file)]
		if s.says("File:FileType") == "JPEG" && s.says("File:ImageWidth") != s.says("File:ImageHeight") {
			lying = append(lying, file)
		}
	}
	if len(lying) < 2 {
		t.Fatalf("only %d samples that are not square", len(lying))
	}
	for turn := 1; turn <= 8; turn++ {
		dir := t.TempDir()
		set := append([]string{"-n", fmt.Sprintf("-IFD0:Orientation=%d", turn), "-o", dir + "/"}, lying...)
		if said, err := exec.Command(program, set...).CombinedOutput(); err != nil {
			t.Fatalf("exiftool: %v\n%s", err, said)
		}
		for _, file := range lying {
			name := filepath.Base(file)
			data, err := os.ReadFile(filepath.Join(dir, name))
			if err != nil {
				t.Fatal(err)
			}
			clean, err := photo.Make(data)
			if err != nil {
				t.Errorf("%s, orientation %d: %v", name, turn, err)
				continue
			}
			w, h := found[name].says("File:ImageWidth"), found[name].says("File:ImageHeight")
			if turn >= 5 {
				w, h = h, w
			}
			largest := clean.Renditions[len(clean.Renditions)-1]
			if got, want := fmt.Sprintf("%d x %d", largest.Width, largest.Height), w+" x "+h; got != want {
				t.Errorf("%s, orientation %d: %s, want %s", name, turn, got, want)
			}
		}
	}
}
