package handover

import (
	"errors"
	"path"
	"strings"
	"testing"

	"github.com/spf13/afero"

	"asleft/generator/handover/jcs"
	"asleft/generator/handover/sheet"
	"asleft/generator/rooted"
)

var papers = []sheet.Paper{sheet.Letter, sheet.A4}

func TestSealedFile(t *testing.T) {
	fs, buyer := shopWith(t, nil), afero.NewMemMapFs()
	made := sealed(t, fs, buyer, nil, "2026-03-03")
	data := read(t, fs, made.File)
	canonical, err := jcs.Transform(data)
	if err != nil || string(canonical) != string(data) {
		t.Errorf("the sealed file is not canonical: %v", err)
	}
	facts, err := made.Seal.Facts.canonical()
	if err != nil {
		t.Fatal(err)
	}
	code := digestOf(facts)[:10]
	if want := "handovers/pump-2026-03-03-" + code + ".json"; made.File != want {
		t.Errorf("the sealed file is %s, want %s", made.File, want)
	}
	if made.Seal.Number != 1 || made.Seal.Previous != nil || made.Seal.Key != nil || made.Seal.Signature != nil {
		t.Errorf("the first seal: %+v", made.Seal)
	}
	if made.Seal.Copies.HTML != digestOf(read(t, buyer, made.HTML)) || made.Seal.Copies.Letter != digestOf(read(t, buyer, made.PDF)) {
		t.Error("the digests of the copies are not theirs")
	}
	if len(made.Seal.Facts.Photos) != 1 || made.Seal.Facts.Photos[0].Alt != "oil under the seal" {
		t.Errorf("the photos: %+v", made.Seal.Facts.Photos)
	}
	if err := noParts(fs, folderName); err != nil {
		t.Error(err)
	}
	if err := noParts(buyer, "."); err != nil {
		t.Error(err)
	}
}

// noParts looks for drafts that were left.
func noParts(fs afero.Fs, dir string) error {
	infos, err := afero.ReadDir(fs, dir)
	for _, info := range infos {
		if strings.HasSuffix(info.Name(), ".part") {
			return errors.New(path.Join(dir, info.Name()) + " was left")
		}
	}
	return err
}

func TestTheSameAgain(t *testing.T) {
	fs, buyer := shopWith(t, nil), afero.NewMemMapFs()
	first := sealed(t, fs, buyer, nil, "2026-03-03")
	html, pdf := read(t, buyer, first.HTML), read(t, buyer, first.PDF)
	other := afero.NewMemMapFs()
	again := sealed(t, fs, other, nil, "2026-03-03")
	if !again.Again || again.File != first.File || again.Seal.Digest != first.Seal.Digest {
		t.Errorf("the same report the same day: %+v", again)
	}
	if string(read(t, other, again.HTML)) != string(html) || string(read(t, other, again.PDF)) != string(pdf) {
		t.Error("the buyer's files are not the same to the byte")
	}
	later := sealed(t, fs, buyer, nil, "2026-03-04")
	if later.Again || later.Seal.Number != 2 || later.Seal.Previous == nil || *later.Seal.Previous != first.Seal.Digest {
		t.Errorf("the next day: %+v", later.Seal)
	}
}

func TestBothPapersAreSealed(t *testing.T) {
	fs := shopWith(t, nil)
	for _, paper := range papers {
		buyer := afero.NewMemMapFs()
		made, err := prepared(t, fs, "2026-03-03").Seal(buyer, nil, paper)
		if err != nil {
			t.Fatal(err)
		}
		if v := chainOf(t, fs).VouchFile("x", read(t, buyer, made.PDF)); v.Answer != Unaltered {
			t.Errorf("%s: %s", paper.Name, v.Answer)
		}
	}
}

func TestRefusals(t *testing.T) {
	fs, buyer := shopWith(t, nil), afero.NewMemMapFs()
	sealed(t, fs, buyer, nil, "2026-03-05")
	if _, err := prepared(t, fs, "2026-03-04").Seal(buyer, nil, sheet.A4); !errors.Is(err, ErrClock) {
		t.Errorf("a day before the last: %v", err)
	}
	write(t, fs, "machines/pump/photos/leak.jpg", []byte("no photo"))
	var bad *BadPhoto
	if _, err := Prepare(fs, siteOf(t, fs), 0, "2026-03-06"); !errors.As(err, &bad) || bad.File != "machines/pump/photos/leak.jpg" {
		t.Errorf("a broken photo: %v", err)
	}
}

func TestOpenSafety(t *testing.T) {
	unsafe := strings.Replace(firstEntry, "result: works, system: guards", "result: fails, system: guards", 1)
	r := prepared(t, shopWith(t, map[string]string{"machines/pump/2026-03-02-first.md": unsafe}), "2026-03-03")
	told := ""
	for _, x := range r.Facts.Open() {
		told += x.Told + "\n"
	}
	if !strings.Contains(told, "stops at the switch") {
		t.Errorf("what is open:\n%s", told)
	}
	if r := prepared(t, soundShop(t), "2026-03-03"); len(r.Facts.Open())+len(r.Facts.Wrong()) != 0 {
		t.Errorf("a machine with nothing open or wrong has %+v %+v", r.Facts.Open(), r.Facts.Wrong())
	}
}

// Nothing private may be in a report, and no name of a buyer.
func TestNothingPrivate(t *testing.T) {
	secret := strings.Replace(machineFile, "arrived:", "stage: sold\nsold: {date: 2026-03-08, price: 777.77, buyer: Secretbuyer}\nbought: {from: Secretseller, paid: 11.11}\nprivate: Secretnote\narrived:", 1)
	fs, buyer := shopWith(t, map[string]string{"machines/pump/machine.md": secret}), afero.NewMemMapFs()
	made := sealed(t, fs, buyer, nil, "2026-03-09")
	for name, data := range map[string][]byte{"sealed": read(t, fs, made.File), "html": read(t, buyer, made.HTML)} {
		for _, word := range []string{"Secret", "777.77", "11.11", "AB-1234567"} {
			if strings.Contains(string(data), word) {
				t.Errorf("the %s file holds %s", name, word)
			}
		}
	}
}

// Two runs at once would give two reports the same number.
func TestOneSealsAtATime(t *testing.T) {
	shop, settings, buyer, _, _ := signedShop(t)
	release, err := shop.Lock(folderName + "/.sealing")
	if err != nil {
		t.Fatal(err)
	}
	r := prepared(t, shop, "2026-03-09")
	if _, err := r.Seal(buyer, settings, sheet.A4); !errors.Is(err, rooted.ErrLocked) {
		t.Errorf("while another seals: %v", err)
	}
	if err := release(); err != nil {
		t.Fatal(err)
	}
	if _, err := r.Seal(buyer, settings, sheet.A4); err != nil {
		t.Errorf("after it: %v", err)
	}
}
