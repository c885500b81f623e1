package logbook

import (
	"fmt"
	"strings"
	"testing"
)

func TestPhotosOfListAndBody(t *testing.T) {
	files := "-- machines/m/photos/belt.jpg --\nx\n-- machines/m/meter.jpg --\nx\n-- machines/m/photos/my photo (1).jpg --\nx\n-- machines/m/photos/both.jpg --\nx\n-- machines/m/both.jpg --\nx\n"
	body := `
![new belt](belt.jpg) ![](photos/meter.jpg)

![My *own* \* &amp; ` + "`code`" + ` <http://a.example>](<my photo (1).jpg> "A &quot;title&quot;")
![again](my%20photo%20(1).jpg)
![](both.jpg)
`
	fields := "photos:\n  - {file: photos/belt.jpg, caption: Belt, private: yes}\n  - {file: meter.jpg, alt: the meter, cover: yes}"
	e, says := entry(t, fields, body, files)
	same(t, says)
	var got []string
	for _, p := range e.Photos {
		got = append(got, fmt.Sprintf("%s|%s|%s|%s|cover:%v private:%v body:%v listed:%v line:%d", p.File, p.Path, p.Alt, p.Caption, p.Cover, p.Private, p.InBody, p.Listed, p.Line))
	}
	want := []string{
		"photos/belt.jpg|machines/m/photos/belt.jpg|new belt|Belt|cover:false private:true body:true listed:true line:5",
		"meter.jpg|machines/m/meter.jpg|the meter||cover:true private:false body:true listed:true line:6",
		`my photo (1).jpg|machines/m/photos/my photo (1).jpg|My own * & code http://a.example|A "title"|cover:false private:false body:true listed:false line:11`,
		"both.jpg|machines/m/photos/both.jpg|||cover:false private:false body:true listed:false line:13",
	}
	if strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

func TestPhotoNames(t *testing.T) {
	for name, want := range map[string]bool{
		"belt.jpg": true, "photos/belt.jpg": true, "My belt (2).JPG": true, "Schläuche.jpg": true, "con-rod.jpg": true, "common.jpg": true, "a..b.jpg": true, "com.jpg": true,
		"": false, ".": false, "..": false, "../belt.jpg": false, "photos/../../x.jpg": false, "/etc/passwd": false, "//host/x.jpg": false, "a//b.jpg": false, "a/": false,
		`..\x.jpg`: false, `C:\x.jpg`: false, "C:x.jpg": false, "https://a.example/x.jpg": false, "file:x.jpg": false, "data:image/png;base64,AA": false,
		"con": false, "CON.jpg": false, "nul.jpg": false, "photos/aux.png": false, "com1.jpg": false, "LPT9": false, "com\u00b9.jpg": false, "con .jpg": false, "conin$": false,
		".hidden.jpg": false, "photos/.x/y.jpg": false, "x.jpg.": false, "x.jpg ": false, "a /b.jpg": false,
		"a*.jpg": false, "a?.jpg": false, "a|b.jpg": false, "<a>.jpg": false, "a\"b.jpg": false, "a\x00.jpg": false, "a\n.jpg": false, "a\x1b.jpg": false, "\xff.jpg": false,
		strings.Repeat("a", 200): true, strings.Repeat("a", 201): false,
	} {
		if got := localName(name); got != want {
			t.Errorf("%q: got %v", name, got)
		}
	}
}

func TestPhotosOutside(t *testing.T) {
	body := "para\n![a](../other/photos/x.jpg) and\n![b](%2e%2e/x.jpg)\n\n- item ![](&#46;&#46;/x.jpg)\n\n> ![c](http://a.example/x.jpg)\n> ![](/x.jpg)\n\n[![d](nul)](http://a.example/)\n\n![e][e]\n\n[e]: C:\\x.jpg\n\n`![f](../no.jpg)`\n\n    ![g](../no.jpg)\n"
	e, says := entry(t, "photos:\n  - alt: first\n    file: ../x.jpg\n  - {file: 'aux.jpg'}", body)
	same(t, says, "6:photos[0].file=photo-outside", "7:photos[1].file=photo-outside",
		"10:=photo-outside", "11:=photo-outside", "13:=photo-outside", "15:=photo-outside", "16:=photo-outside", "18:=photo-outside", "20:=photo-outside")
	if len(e.Photos) > 0 {
		t.Errorf("got %v", e.Photos)
	}
}

func TestPhotosThatAreNotThere(t *testing.T) {
	files := "-- machines/m/photos/Belt.JPG --\nx\n-- machines/m/photos/pulley.jpg --\nx\n-- machines/m/photos/e\u0301crou.jpg --\nx\n-- machines/m/photos/sub/deep.jpg --\nx\n-- machines/other/machine.md --\n---\nname: O\narrived: 2026-01-01\n---\n-- machines/other/photos/theirs.jpg --\nx\n"
	for _, c := range []struct{ name, says string }{
		{"belt.jpg", "photo-case"},
		{"photos/belt.jpg", "photo-case"},
		{"Belt.JPG", ""},
		{"pully.jpg", "photo-missing-near"},
		{"crankshaft-bearing.jpg", "photo-missing"},
		{"\u00e9crou.jpg", ""}, // the same letters, joined: some systems write names the other way
		{"deep.jpg", "photo-missing"},
		{"sub/deep.jpg", "photo-missing"},
		{"theirs.jpg", "photo-missing"},
		{"machine.md", "photo-missing"}, // a text is no photo
	} {
		_, says := entry(t, "photos:\n  - alt: a\n    file: "+c.name, "", files)
		got := strings.Join(says, " ")
		if want := c.says; got != "" && got != "6:photos[0].file="+want || got == "" && want != "" {
			t.Errorf("%s: got %s, want %s", c.name, got, want)
		}
		_, says = entry(t, "by: A", "\n![]("+c.name+")\n", files)
		if got := strings.Join(says, " "); got != "" && got != "7:="+c.says || got == "" && c.says != "" {
			t.Errorf("%s in the body: got %s, want %s", c.name, got, c.says)
		}
	}
}

func TestPhotosNamedByFindings(t *testing.T) {
	files := "-- machines/m/photos/a.jpg --\nx\n-- machines/m/photos/b.jpg --\nx\n"
	fields := `photos: [{file: a.jpg}]
defects:
  - {key: a, defect: d, system: drive, photo: photos/a.jpg}
  - key: b
    defect: d
    system: drive
    photo: c.jpg
repaired: [{key: a, how: h, photo: b.jpg}, {key: b, how: h, photo: d.jpg}]
worked_around: [{key: a, how: h, photo: e.jpg}]`
	_, says := entry(t, fields, "![](b.jpg)\n", files)
	same(t, says, "10:defects[1].photo=photo-not-listed", "11:repaired[1].photo=photo-not-listed", "12:worked_around[0].photo=photo-not-listed")
}

func TestPhotosOfShopAndMachine(t *testing.T) {
	archive := "-- shop.md --\n---\nshop: S\ncurrency: USD\n---\n\n![](yard.jpg)\n![](gone.jpg)\n![](sign.jpg)\n-- yard.jpg --\nx\n-- photos/sign.jpg --\nx\n" +
		"-- machines/m/machine.md --\n---\nname: M\narrived: 2026-01-01\n---\n![](a.jpg)\n-- machines/m/photos/a.jpg --\nx\n"
	shop, problems := readAll(t, folder(t, archive), nil)
	if len(problems) != 1 || problems[0].Line != 7 || problems[0].Mend != "put it in photos, or take it out here" {
		t.Errorf("got %v", problems)
	}
	if shop.Photos[0].Path != "yard.jpg" || shop.Photos[1].Path != "" || shop.Photos[2].Path != "photos/sign.jpg" || shop.Machines[0].Photos[0].Path != "machines/m/photos/a.jpg" {
		t.Errorf("got %+v, %+v", shop.Photos, shop.Machines[0].Photos)
	}
}

// Two files whose names differ in their capitals only: which one is named must
// not depend on chance.
func TestPhotoCaseIsTheSameEachTime(t *testing.T) {
	fs := folder(t, shopFile+machineFile+entryFile("e", "photos: [{file: belt.jpg}]", "")+
		"-- machines/m/photos/Belt.jpg --\nx\n-- machines/m/photos/BELT.jpg --\nx\n-- machines/m/BElt.jpg --\nx\n-- machines/m/photos/bELT.jpg --\nx\n")
	for range 20 {
		_, problems := readAll(t, fs, nil)
		if len(problems) != 1 || problems[0].Says != "there is no photo belt.jpg, but there is BElt.jpg; capitals count" {
			t.Fatalf("got %v", problems)
		}
	}
}

func TestPhotoName(t *testing.T) {
	for read, want := range map[string]string{
		"a.jpg": "a.jpg", "a%20b.jpg": "a b.jpg", "100%.jpg": "100%.jpg", "a&amp;b.jpg": "a&b.jpg", `a\(1\).jpg`: "a(1).jpg", `\&amp;.jpg`: "&amp;.jpg", "&#97;.jpg": "a.jpg", "a+b.jpg": "a+b.jpg",
	} {
		if got := PhotoName(read); got != want {
			t.Errorf("%s: got %s, want %s", read, got, want)
		}
	}
}

// A near name is offered only where it is sure to be the same picture.
func TestNearPhoto(t *testing.T) {
	for _, c := range []struct{ name, there, want string }{
		{"IMG_0001.JPG", "IMG_0002.JPG", ""},
		{"IMG_0001.JPG", "IMG_0010.JPG", ""},
		{"IMG_0001.JPG", "IMG_001.JPG", ""},
		{"IMG_1_23.jpg", "IMG_12_3.jpg", ""},
		{"seal 2.jpg", "seal.jpg", ""},
		{"seal.jpg", "seal (1).jpg", ""},
		{"a.jpg", "b.jpg", ""},
		{"left.jpg", "right.jpg", ""},
		{"DSC_0001.JPG", "IMG_0001.JPG", ""},
		{"seal.jpg", "seal.txt", ""},
		{"IMG_0001.JPG", "IMG_0001.jpeg", "IMG_0001.jpeg"},
		{"IMG_0001.jpg", "IMG 0001.HEIC", "IMG 0001.HEIC"},
		{"img0001.jpg", "IMG_0001.JPG", "IMG_0001.JPG"},
		{"tine seal.jpg", "tine_seal.jpg", "tine_seal.jpg"},
		{"photos/tine-seal.png", "tineseal.jpg", "tineseal.jpg"},
		{"crankshfat 2.jpg", "crankshaft 2.jpg", "crankshaft 2.jpg"},
		{"belt.jgp", "belt.jpg", "belt.jpg"},
		{"belt", "belt.jpg", "belt.jpg"},
	} {
		if got := nearPhoto(c.name, []string{c.there}); got != c.want {
			t.Errorf("%s beside %s: got %q", c.name, c.there, got)
		}
	}
}

// A file that a dot hides is noted where it would be read without it, and so is
// a photo that nothing names; what systems leave behind is neither.
func TestHiddenAndUnnamed(t *testing.T) {
	const m = "-- machines/m/"
	fs := folder(t, shopFile+strings.Replace(machineFile, "---\n", "---\nbought: {from: N}\n", 1)+entryFile("e", "photos: [{file: a.jpg, private: yes}]", "![b](b.jpg)\n")+
		m+".2026-02-03-gone.md --\nx\n"+m+"photos/.c.JPG --\nx\n"+m+"._e.md --\nx\n"+m+".asleft-0123456789abcdef --\nx\n"+m+".DS_Store --\nx\n"+
		m+"photos/a.jpg --\nx\n"+m+"photos/b.jpg --\nx\n"+m+"photos/d.jpg --\nx\n"+m+"photos/Thumbs.db --\nx\n"+m+"beside.jpg --\nx\n"+m+"parts list.pdf --\nx\n-- machines/.hidden.md --\nx\n-- machines/.n/machine.md --\nx\n-- machines/.sync/x.md --\nx\n")
	shop, problems := readAll(t, fs, keysOnly)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	got := machine(t, shop, "m")
	same(t, got.Hidden, "machines/m/.2026-02-03-gone.md", "machines/m/photos/.c.JPG")
	same(t, shop.Hidden, "machines/.hidden.md", "machines/.n/")
	same(t, got.Unnamed, "machines/m/beside.jpg", "machines/m/photos/d.jpg")
}

func TestOneLetterFrom(t *testing.T) {
	known := []string{"winch", "hoist"}
	for name, want := range map[string]string{"winsh": "winch", "Wincch": "winch", "wihnc": "", "hosit": "hoist", "winch": "", "crane": ""} {
		if got := OneLetterFrom(name, known); got != want {
			t.Errorf("%s: got %q, want %q", name, got, want)
		}
	}
}
