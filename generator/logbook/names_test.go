package logbook

import (
	"strings"
	"testing"
)

// The rules are those of Microsoft's "Naming Files, Paths, and Namespaces"; a
// folder written on one system has to mean the same on the others.
func TestLocalName(t *testing.T) {
	for _, good := range []string{"a.jpg", "IMG_0001.JPG", "photos/a.jpg", "über.jpg", "u\u0308ber.jpg", "油.jpg", "two words.jpg", "console.jpg", "com.jpg", "com10.jpg", "a.con.jpg", "null.jpg", "a'b (1).jpg", "-x.jpg", strings.Repeat("n", 196) + ".jpg"} {
		if !localName(good) {
			t.Errorf("%q is refused", good)
		}
	}
	for _, bad := range []string{
		"", ".", "..", "../a.jpg", "a/../b.jpg", "a/./b.jpg", "/a.jpg", "//host/share/a.jpg", "a//b.jpg", "a/", "./a.jpg",
		"C:a.jpg", `C:\a.jpg`, `\\?\C:\a.jpg`, `\\host\share\a.jpg`, `a\b.jpg`, `..\a.jpg`, "a.jpg:stream", "a.jpg::$DATA",
		"con", "CON.jpg", "con.tar.gz", "Nul.jpg", "nul .jpg", "prn.png", "aux", "com1.jpg", "COM0.jpg", "com\u00b9.jpg", "lpt9.jpg", "LPT\u00b3", "conin$.jpg", "CONOUT$", "photos/aux.jpg", "con/a.jpg",
		"a.jpg.", "a.jpg ", "a. /b.jpg", ".hidden.jpg", "photos/.a.jpg", "a?.jpg", "a*.jpg", "a|b.jpg", "a<b.jpg", "a>b.jpg", `a"b.jpg`,
		"a\nb.jpg", "a\tb.jpg", "a\x00.jpg", "a\x1b[31m.jpg", "a\x7f.jpg", "a\u0085.jpg", "gpj.\u202eexe.jpg", "\u2066a.jpg", "\ufeffa.jpg", "a\xff.jpg",
		"https://elsewhere.example/a.jpg", "data:image/png;base64,AAAA", "file:///etc/passwd", strings.Repeat("n", 201),
	} {
		if localName(bad) {
			t.Errorf("%q is let through", bad)
		}
	}
}

func TestMachineKeysForEverySystem(t *testing.T) {
	for name, good := range map[string]bool{
		"harrow": true, "m-2": true, "con2": true, "console": true,
		"Harrow": false, "con": false, "nul": false, "com1": false, "lpt0": false, "a b": false, "a.b": false, "a_b": false, "a-": false, "-a": false, "über": false, "h\u0430rrow": false, "a\\b": false,
	} {
		archive := shopFile + strings.ReplaceAll(machineFile, "/m/", "/"+name+"/")
		shop, problems := readAll(t, folder(t, archive), keysOnly)
		if ok := len(problems) == 0 && len(shop.Machines) == 1; ok != good {
			t.Errorf("%q: %v", name, problems)
		}
	}
}

// Names that differ in capitals, or in how an accent is put together, are one
// file on Windows and on a Mac.
func TestNamesThatOnlySomeSystemsTellApart(t *testing.T) {
	same(t, namesFound(t, entryFile("first", "", "")+entryFile("First", "", "")), "machines/m/first.md:0:=names-alike")
	same(t, namesFound(t, entryFile("u\u0308", "", "")+entryFile("\u00fc", "", "")), "machines/m/\u00fc.md:0:=names-alike")
	same(t, namesFound(t, entryFile("\u212a", "", "")+entryFile("k", "", "")), "machines/m/\u212a.md:0:=names-alike")
	same(t, namesFound(t, entryFile("first", "", "")+entryFile("first-2", "", "")))
	same(t, namesFound(t, entryFile("com1", "", "")), "machines/m/com1.md:0:=file-name")
	same(t, namesFound(t, entryFile("a: b", "", "")), "machines/m/a: b.md:0:=file-name")
	same(t, namesFound(t, "-- sheets/Saw.md --\n---\nsheet: a\n---\n-- sheets/saw.md --\n---\nsheet: b\n---\n"), "sheets/saw.md:0:=names-alike")
}

func TestPhotosThatOnlySomeSystemsTellApart(t *testing.T) {
	photo := func(name string) string { return "-- machines/m/" + name + " --\nx\n" }
	fields := "photos: [{file: a.jpg}]"
	_, got := entry(t, fields, "", photo("photos/a.jpg"), photo("photos/A.JPG"))
	same(t, got, "4:photos[0].file=names-alike")
	_, got = entry(t, "photos: [{file: A.JPG}]", "", photo("photos/a.jpg"), photo("photos/A.JPG"))
	same(t, got, "4:photos[0].file=names-alike")
	_, got = entry(t, fields, "", photo("photos/a.jpg"), photo("photos/B.jpg"), photo("photos/b.jpg"), photo("A.jpg"))
	same(t, got) // the others are no photos of an entry
	_, got = entry(t, "", "![x](a.jpg)\n", photo("photos/a.jpg"), photo("photos/A.jpg"))
	same(t, got, "6:=names-alike")
}

func namesFound(t *testing.T, files string) []string {
	t.Helper()
	_, problems := readAll(t, folder(t, shopFile+machineFile+files), keysOnly)
	return said(problems, "machines/m/e.md")
}
