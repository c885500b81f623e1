package entry_test

import (
	"bytes"
	"image"
	"image/jpeg"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"asleft/generator/entry"
	"asleft/generator/testenv"
)

// The example's photos carry what phones write; exiftool says when each was
// taken.
func TestNamesAreExiftoolsTimes(t *testing.T) {
	exiftool := testenv.Program(t, "exiftool")
	files, err := filepath.Glob("../../content-example/machines/*/photos/*.jpg")
	if err != nil || len(files) == 0 {
		t.Fatalf("no photos: %v", err)
	}
	for _, file := range files {
		out, err := exec.Command(exiftool, "-s3", "-d", "%Y-%m-%d-%H%M%S", "-DateTimeOriginal", file).Output()
		if err != nil {
			t.Fatal(err)
		}
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		shot, err := entry.Look(filepath.Base(file), data, time.Unix(0, 0), nil)
		if err != nil {
			t.Fatal(err)
		}
		if want := strings.TrimSpace(string(out)); shot.Stem() != want || want == "" {
			t.Errorf("%s: got %s, exiftool has %s", file, shot.Stem(), want)
		}
	}
}

// plainJPEG is a picture that says nothing of itself.
func plainJPEG(t *testing.T, w, h int) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := jpeg.Encode(&b, image.NewGray(image.Rect(0, 0, w, h)), nil); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestPhotosAreKeptOnce(t *testing.T) {
	folder, _ := onDisk(t)
	at := time.Date(2026, 3, 2, 18, 30, 12, 0, time.UTC)
	one := entry.Shot{Data: []byte("one"), Taken: at, Ending: ".jpg"}
	two := entry.Shot{Data: []byte("two"), Taken: at, Ending: ".jpg"}
	put(t, folder, "machines/harrow/beside.jpg", "three")
	for _, tc := range []struct {
		shot  entry.Shot
		name  string
		there bool
	}{
		{one, "2026-03-02-183012.jpg", false},
		{two, "2026-03-02-183012-2.jpg", false},
		{one, "2026-03-02-183012.jpg", true},
		{entry.Shot{Data: []byte("three"), Taken: at, Ending: ".jpg"}, "beside.jpg", true},
	} {
		name, there, err := entry.KeepPhoto(folder, "harrow", tc.shot)
		if err != nil || name != tc.name || there != tc.there {
			t.Errorf("got %s, %v, %v, want %s, %v", name, there, err, tc.name, tc.there)
		}
	}
	if files := filesIn(t, folder); len(files) != 3 {
		t.Errorf("files: %v", files)
	}
}

func TestTimes(t *testing.T) {
	zone, err := time.LoadLocation("America/New_York")
	if err != nil {
		t.Fatal(err)
	}
	// The file's time, by the shop's clock: an hour that is the day before there.
	shot, err := entry.Look("a.jpg", plainJPEG(t, 8, 8), time.Date(2026, 3, 3, 3, 0, 0, 0, time.UTC), zone)
	if err != nil || shot.Stem() != "2026-03-02-220000" {
		t.Errorf("got %s, %v", shot.Stem(), err)
	}
}
