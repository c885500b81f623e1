package handover

import (
	"errors"
	"path"
	"strings"
	"testing"

	"github.com/spf13/afero"

	"asleft/generator/handover/jcs"
	"asleft/generator/handover/sheet"
	"asleft/generator/record"
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
	digest := digestOf(facts)
	if want := "handovers/pump-2026-03-03-" + digest[:16] + ".json"; made.File != want {
		t.Errorf("the sealed file is %s, want %s", made.File, want)
	}
	if made.Seal.Code != digest[:12] || GroupedCode(made.Seal.Code) != digest[:4]+" "+digest[4:8]+" "+digest[8:12] {
		t.Errorf("the code is %s, of %s", made.Seal.Code, digest)
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

// What is open, what else is wrong, and of what the shop did not say if it can hurt
// someone: each wants the buyer to be told, at whatever stage the machine is.
func TestTheSealAsksAboutAllThatIsOpenOrWrong(t *testing.T) {
	names := func(all []record.Subject) string {
		var said []string
		for _, s := range all {
			said = append(said, s.Name)
		}
		return strings.Join(said, ", ")
	}
	for name, tc := range map[string]struct{ was, now, open, wrong, unsaid string }{
		"a defect that cannot hurt": {"", "", "", "seal leaks", ""},
		"a point that fails":        {"result: works, system: guards", "result: fails, system: guards", "stops at the switch", "seal leaks", ""},
		"safety not said":           {"system: engine, safety: no, photo", "system: engine, photo", "seal leaks", "", "seal leaks"},
	} {
		for _, stage := range []string{"in the shop", "for sale", "keeping"} {
			r := prepared(t, shopWith(t, map[string]string{
				firstFile:                  strings.Replace(firstEntry, tc.was, tc.now, 1),
				"machines/pump/machine.md": strings.Replace(machineText, "arrived:", "stage: "+stage+"\narrived:", 1),
			}), "2026-03-03")
			open, wrong, unsaid := known(names(r.Facts.Open())), names(r.Facts.Wrong()), known(names(r.Facts.NotSaid()))
			if open != tc.open || wrong != tc.wrong || unsaid != tc.unsaid || !r.Facts.TellBuyer() {
				t.Errorf("%s, %s: open %q, wrong %q, not said %q", name, stage, open, wrong, unsaid)
			}
		}
	}
}

// known leaves out the points of the built-in list, which nobody answered here.
func known(names string) string {
	var all []string
	for _, one := range strings.Split(names, ", ") {
		if one == "seal leaks" || one == "stops at the switch" {
			all = append(all, one)
		}
	}
	return strings.Join(all, ", ")
}

// Nothing private may be in a report, and no name of a buyer.
func TestNothingPrivate(t *testing.T) {
	secret := strings.Replace(machineText, "arrived:", "stage: sold\nsold: {date: 2026-03-08, price: 777.77, buyer: Secretbuyer}\nbought: {from: Secretseller, paid: 11.11}\nprivate: Secretnote\narrived:", 1)
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

// The buyer's files name the program that printed them; the facts do not.
func TestProgramIsNoFact(t *testing.T) {
	fs, buyer := shopWith(t, nil), afero.NewMemMapFs()
	plain := prepared(t, fs, "2026-03-03")
	without, _, err := plain.print(sheet.Letter)
	if err != nil {
		t.Fatal(err)
	}
	r := prepared(t, fs, "2026-03-03")
	r.Program = "v1.2.3"
	made, err := r.Seal(buyer, nil, sheet.Letter)
	if err != nil {
		t.Fatal(err)
	}
	if made.Seal.FactsDigest != plain.digest || strings.Contains(string(read(t, fs, made.File)), "v1.2.3") {
		t.Error("the program is in the sealed facts")
	}
	if !strings.Contains(string(read(t, buyer, made.HTML)), "<p>Printed by asleft, v1.2.3.</p>") {
		t.Error("the HTML does not name the program")
	}
	if made.Seal.Copies.Letter == without.Letter {
		t.Error("the PDF does not name the program")
	}
}
