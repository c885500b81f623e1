package generator_test

import (
	"bytes"
	"compress/zlib"
	"encoding/base64"
	"encoding/binary"
	"encoding/hex"
	"fmt"
	"io"
	"net/http/httptest"
	"net/url"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"unicode/utf16"

	"github.com/spf13/afero"

	"asleft/generator"
	"asleft/generator/desk/preview"
	"asleft/generator/handover"
	"asleft/generator/handover/sheet"
	"asleft/generator/testenv"
)

// Where a photo can carry something that is no pixel: the mark of each place is
// its own, so that a failure names the place.
var (
	jpegPlaces = []string{"JFIFCOMMENT", "DESCRIPTION", "ARTIST", "MAKERNOTE", "USERCOMMENT", "WINDOWSTITLE", "GPSAREA", "THUMBNAIL", "XMPPACKET", "XMPMORE", "IPTCBYLINE", "IRBCAPTION", "PROFILEDESC", "PROFILECOPY", "APPTWELVE", "SECONDPICTURE", "TRAILINGJPEG"}
	pngPlaces  = []string{"PNGTEXT", "PNGZTEXT", "PNGITEXT", "PNGITEXTPACKED", "PNGEXIF", "PNGPROFILENAME", "PROFILEDESC", "PROFILECOPY", "PNGPRIVATE", "TRAILINGPNG"}
)

// markOf is what is put in a place.
func markOf(place string) string { return "ZQX" + place + "QZ" }

// A tag is one entry of an image file directory of TIFF 6.0.
type tag struct {
	id, kind uint16 // kinds: 1 BYTE, 2 ASCII, 4 LONG, 7 UNDEFINED
	data     string
}

// marksTIFF is Exif data (CIPA DC-008) with a mark in each text, a maker note, a
// GPS directory and a thumbnail.
func marksTIFF(places map[string]string, thumbnail string) string {
	title := ""
	for _, u := range utf16.Encode([]rune(places["WINDOWSTITLE"] + "\x00")) {
		title += string([]byte{byte(u), byte(u >> 8)}) //nolint:gosec // the two halves of a unit
	}
	first := []tag{{0x010e, 2, places["DESCRIPTION"] + "\x00"}, {0x013b, 2, places["ARTIST"] + "\x00"}}
	exif := []tag{{0x927c, 7, "Nikon\x00\x02\x10\x00\x00" + places["MAKERNOTE"]}, {0x9286, 7, "ASCII\x00\x00\x00" + places["USERCOMMENT"]}}
	gps := []tag{{0x001c, 7, "ASCII\x00\x00\x00" + places["GPSAREA"]}}
	const long = "\x00\x00\x00\x00"
	first = append(first, tag{0x8769, 4, long}, tag{0x8825, 4, long}, tag{0x9c9b, 1, title})
	second := []tag{{0x0201, 4, long}, {0x0202, 4, le32(len(thumbnail))}}
	size := func(tags []tag) int {
		n := 2 + 12*len(tags) + 4
		for _, t := range tags {
			if len(t.data) > 4 {
				n += len(t.data) + len(t.data)%2
			}
		}
		return n
	}
	exifAt := 8 + size(first)
	gpsAt := exifAt + size(exif)
	secondAt := gpsAt + size(gps)
	thumbAt := secondAt + size(second)
	first[2].data, first[3].data, second[0].data = le32(exifAt), le32(gpsAt), le32(thumbAt)
	return "II*\x00" + le32(8) + directory(first, 8, secondAt) + directory(exif, exifAt, 0) + directory(gps, gpsAt, 0) + directory(second, secondAt, 0) + thumbnail
}

func le32(n int) string { return string(binary.LittleEndian.AppendUint32(nil, uint32(n))) } //nolint:gosec // offsets of a small file

func directory(tags []tag, at, next int) string {
	head, tail := string(binary.LittleEndian.AppendUint16(nil, uint16(len(tags)))), "" //nolint:gosec // a handful
	after := at + 2 + 12*len(tags) + 4
	for _, t := range tags {
		count := len(t.data)
		if t.kind == 4 {
			count = 1
		}
		head += string(binary.LittleEndian.AppendUint16(nil, t.id)) + string(binary.LittleEndian.AppendUint16(nil, t.kind)) + le32(count)
		if len(t.data) <= 4 {
			head += (t.data + "\x00\x00\x00\x00")[:4]
			continue
		}
		head += le32(after + len(tail))
		tail += t.data + strings.Repeat("\x00", len(t.data)%2)
	}
	return head + le32(next) + tail
}

// marksProfile is an RGB matrix profile of sRGB's colors (ICC.1:2010) whose
// description and copyright are marks.
func marksProfile(places map[string]string) string {
	be := func(ns ...uint32) string {
		var b []byte
		for _, n := range ns {
			b = binary.BigEndian.AppendUint32(b, n)
		}
		return string(b)
	}
	xyz := func(x, y, z uint32) string { return "XYZ \x00\x00\x00\x00" + be(x, y, z) }
	curve := "curv\x00\x00\x00\x00" + be(1) + "\x02\x33\x00\x00"                                                                            // gamma 2.2
	desc := "desc\x00\x00\x00\x00" + be(uint32(len(places["PROFILEDESC"])+1)) + places["PROFILEDESC"] + "\x00" + strings.Repeat("\x00", 78) //nolint:gosec // a short text
	tags := []struct{ name, data string }{
		{"desc", desc}, {"cprt", "text\x00\x00\x00\x00" + places["PROFILECOPY"] + "\x00"}, {"wtpt", xyz(0xf6d6, 0x10000, 0xd32d)},
		{"rXYZ", xyz(0x6fa2, 0x38f5, 0x0390)}, {"gXYZ", xyz(0x6299, 0xb785, 0x18da)}, {"bXYZ", xyz(0x24a0, 0x0f84, 0xb6cf)},
		{"rTRC", curve}, {"gTRC", curve}, {"bTRC", curve},
	}
	table, data := be(uint32(len(tags))), "" //nolint:gosec // nine
	at := 128 + 4 + 12*len(tags)
	for _, t := range tags {
		padded := t.data + strings.Repeat("\x00", (4-len(t.data)%4)%4)
		table += t.name + be(uint32(at+len(data)), uint32(len(t.data))) //nolint:gosec // a small file
		data += padded
	}
	head := be(uint32(at+len(data))) + "\x00\x00\x00\x00\x02\x10\x00\x00mntrRGB XYZ " + strings.Repeat("\x00", 12) + "acsp" + strings.Repeat("\x00", 28) + be(0xf6d6, 0x10000, 0xd32d) + strings.Repeat("\x00", 48) //nolint:gosec // as above
	return head + table + data
}

func marks(places []string) map[string]string {
	all := map[string]string{}
	for _, p := range places {
		all[p] = markOf(p)
	}
	return all
}

func markedJPEG(t *testing.T) []byte {
	m := marks(jpegPlaces)
	thumbnail := string(withJPEGSegment(pictureOf(t, "jpeg", 16, 12), 0xfe, m["THUMBNAIL"]))
	data := pictureOf(t, "jpeg", 640, 480)
	iptc := "\x1c\x02\x50" + be16(len(m["IPTCBYLINE"])) + m["IPTCBYLINE"]
	caption := "8BIM\x03\xf0\x00\x00" + "\x00\x00" + be16(len(m["IRBCAPTION"])+1) + string(rune(len(m["IRBCAPTION"]))) + m["IRBCAPTION"]
	for _, s := range []struct {
		marker byte
		body   string
	}{
		{0xfe, m["JFIFCOMMENT"]},
		{0xec, "Ducky\x00\x02\x00" + be16(len(m["APPTWELVE"])) + m["APPTWELVE"]},
		{0xed, "Photoshop 3.0\x008BIM\x04\x04\x00\x00\x00\x00" + be16(len(iptc)) + iptc + strings.Repeat("\x00", len(iptc)%2) + caption},
		{0xe2, "ICC_PROFILE\x00\x01\x01" + marksProfile(m)},
		{0xe1, "http://ns.adobe.com/xmp/extension/\x00" + strings.Repeat("A", 32) + "\x00\x00\x00\x20\x00\x00\x00\x00" + m["XMPMORE"]},
		{0xe1, "http://ns.adobe.com/xap/1.0/\x00" + `<x:xmpmeta xmlns:x="adobe:ns:meta/"><rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#"><rdf:Description rdf:about="" xmlns:dc="http://purl.org/dc/elements/1.1/" dc:source="` + m["XMPPACKET"] + `"/></rdf:RDF></x:xmpmeta>`},
		{0xe1, "Exif\x00\x00" + marksTIFF(m, thumbnail)},
	} {
		data = withJPEGSegment(data, s.marker, s.body)
	}
	data = append(data, withJPEGSegment(pictureOf(t, "jpeg", 32, 24), 0xfe, m["SECONDPICTURE"])...)
	return append(data, m["TRAILINGJPEG"]...)
}

func be16(n int) string { return string([]byte{byte(n >> 8), byte(n)}) } //nolint:gosec // the two halves

func markedPNG(t *testing.T) []byte {
	m := marks(append(pngPlaces, jpegPlaces...))
	exif := map[string]string{"DESCRIPTION": m["PNGEXIF"], "ARTIST": "x", "MAKERNOTE": "x", "USERCOMMENT": "x", "WINDOWSTITLE": "x", "GPSAREA": "x"}
	data := pictureOf(t, "png", 640, 480)
	for _, c := range [][2]string{
		{"prVt", m["PNGPRIVATE"]},
		{"eXIf", marksTIFF(exif, "")},
		{"iTXt", "XML:com.adobe.xmp\x00\x00\x00\x00\x00" + m["PNGITEXT"]},
		{"iTXt", "Author\x00\x01\x00en\x00\x00" + zipped(m["PNGITEXTPACKED"])},
		{"zTXt", "Comment\x00\x00" + zipped(m["PNGZTEXT"])},
		{"tEXt", "Source\x00" + m["PNGTEXT"]},
		{"iCCP", m["PNGPROFILENAME"] + "\x00\x00" + zipped(marksProfile(m))},
	} {
		data = withPNGChunk(data, c[0], c[1])
	}
	return append(data, m["TRAILINGPNG"]...)
}

func zipped(s string) string {
	var b bytes.Buffer
	w := zlib.NewWriter(&b)
	_, _ = w.Write([]byte(s))
	_ = w.Close()
	return b.String()
}

// privateShop is the marked shop with a defect that is open and shown, so that
// its photos go into the buyer's report too.
func privateShop(t *testing.T) afero.Fs {
	folder := markedShop(t)
	for name, data := range map[string][]byte{
		"machines/m/photos/whole.jpg": markedJPEG(t), "machines/m/photos/whole.png": markedPNG(t), "machines/m/photos/hidden.png": append(markedPNG(t), "another"...),
		"machines/m/2026-03-05-b.md": []byte("---\ndate: 2026-03-05\ntitle: Another evening\nprivate: " + mark + "\nphotos:\n  - {file: whole.jpg, alt: seen}\n  - {file: whole.png, alt: seen too}\n  - {file: hidden.png, alt: " + mark + ", private: yes}\n" +
			"defects:\n  - {key: j, defect: one, system: drive, photo: whole.jpg}\n  - {key: p, defect: two, system: drive, photo: whole.png}\n  - {key: h, defect: three, system: guards, safety: yes, photo: hidden.png}\n---\nWords.\n"),
	} {
		if err := afero.WriteFile(folder, name, data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return folder
}

// published is everything that leaves the shop: the site, what preview shows,
// and the buyer's report with its sealed facts.
func published(t *testing.T) map[string]string {
	t.Helper()
	folder, parent := privateShop(t), afero.NewMemMapFs()
	_, r, err := generator.Writeup(folder, parent, "site", generator.Options{})
	if says := saidOf(r, err); says != "" {
		t.Fatal(says)
	}
	out := map[string]string{}
	p := preview.New(folder, preview.Options{})
	p.Build()
	pages := p.Pages()
	for name, data := range siteFiles(t, parent) {
		out["site/"+name] = data
		answer := httptest.NewRecorder()
		pages.ServeHTTP(answer, httptest.NewRequest("GET", "/"+strings.TrimSuffix(name, "index.html"), nil))
		if answer.Code == 200 {
			out["preview/"+name] = answer.Body.String()
		}
	}
	r, err = generator.Read(folder, generator.Options{Today: "2026-11-25"})
	if says := saidOf(r, err); says != "" {
		t.Fatal(says)
	}
	report, err := handover.Prepare(folder, handedOver(r), 0, "2026-11-25")
	if err != nil {
		t.Fatal(err)
	}
	for _, paper := range []sheet.Paper{sheet.A4, sheet.Letter} {
		buyer := afero.NewMemMapFs()
		made, err := report.Seal(buyer, afero.NewMemMapFs(), paper)
		if err != nil {
			t.Fatal(err)
		}
		for name, from := range map[string]afero.Fs{made.HTML: buyer, made.PDF: buyer, made.File: folder} {
			data, err := afero.ReadFile(from, name)
			if err != nil {
				t.Fatal(err)
			}
			out["handover/"+paper.Name+"/"+path.Base(name)] = string(data)
		}
	}
	return out
}

// written are the forms in which a text may stand in a file.
func written(s string) []string {
	wide := func(swap bool) string {
		var b strings.Builder
		for _, u := range utf16.Encode([]rune(s)) {
			if swap {
				u = u<<8 | u>>8
			}
			b.WriteString(string([]byte{byte(u), byte(u >> 8)})) //nolint:gosec // the two halves
		}
		return b.String()
	}
	all := []string{s, wide(false), wide(true)}
	for _, form := range all[:3] {
		all = append(all, hex.EncodeToString([]byte(form)), url.QueryEscape(form))
		for shift := range 3 { // base64 of the text wherever it begins
			code := base64.RawStdEncoding.EncodeToString([]byte("xxx"[:shift] + form))
			// Only letters that hang on the text alone; a short text says too little.
			if code = code[(shift*8+5)/6 : (shift+len(form))*8/6]; len(code) > 8 {
				all = append(all, code)
			}
		}
	}
	return all
}

// opened is a file and all that is packed in it: the streams of a PDF, and
// what a page carries as data addresses.
func opened(text string) []string {
	all := []string{text}
	for _, part := range strings.Split(text, "stream")[1:] {
		r, err := zlib.NewReader(strings.NewReader(strings.TrimLeft(part, "\r\n")))
		if err != nil {
			continue
		}
		data, _ := io.ReadAll(r) // as much as there is
		all = append(all, string(data))
	}
	for _, part := range strings.Split(text, ";base64,")[1:] {
		code, _, _ := strings.Cut(part, `"`)
		if data, err := base64.StdEncoding.DecodeString(code); err == nil {
			all = append(all, string(data))
		}
	}
	return all
}

func TestNothingPrivateLeavesTheShop(t *testing.T) {
	out := published(t)
	kinds := map[string]int{}
	var forms []string
	for _, secret := range append([]string{mark, "8273.64", "8,273.64", "7364.55", "7,364.55", "6455.46", "6,455.46", "71.37"}, placeMarks()...) {
		forms = append(forms, written(secret)...)
	}
	for i := range forms {
		forms[i] = strings.ToLower(forms[i])
	}
	for name, text := range out {
		kinds[strings.SplitN(name, "/", 2)[0]+path.Ext(name)]++
		for _, inner := range opened(text) {
			inner = strings.ToLower(inner)
			for _, form := range forms {
				if strings.Contains(inner, form) {
					t.Errorf("%s holds the private %q", name, form)
				}
			}
		}
	}
	for _, kind := range []string{"site.html", "site.json", "site.xml", "site.jpg", "preview.html", "preview.json", "preview.jpg", "handover.html", "handover.pdf", "handover.json"} {
		if kinds[kind] == 0 {
			t.Errorf("no %s was looked at: %v", kind, kinds)
		}
	}
	for name, text := range out {
		if !strings.HasPrefix(name, "handover/") || path.Ext(name) != ".html" {
			continue
		}
		pictures := map[string]bool{} // one of them stands on the front sheet too
		for _, rest := range strings.Split(text, "data:image/jpeg;base64,")[1:] {
			picture, _, _ := strings.Cut(rest, `"`)
			pictures[picture] = true
		}
		if len(pictures) != 3 {
			t.Errorf("%s has %d photos, want the three public ones: that of the machine, and those of two defects", name, len(pictures))
		}
	}
}

func placeMarks() []string {
	var all []string
	for _, p := range append(append([]string{}, jpegPlaces...), pngPlaces...) {
		all = append(all, markOf(p))
	}
	return all
}

// The buyer's PDF as a reader of PDFs sees it.
func TestNothingPrivateIsPrinted(t *testing.T) {
	pdftotext := testenv.Program(t, "pdftotext")
	read := 0
	for name, text := range published(t) {
		if path.Ext(name) != ".pdf" {
			continue
		}
		file := filepath.Join(t.TempDir(), "x.pdf")
		if err := os.WriteFile(file, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		words := toolOutput(t, pdftotext, file, "-")
		if !strings.Contains(words, "Marked machine") {
			t.Fatalf("%s was not read:\n%.300s", name, words)
		}
		read++
		for _, secret := range append([]string{mark, "ZQX", "7364", "7,364"}, placeMarks()...) {
			if strings.Contains(words, secret) {
				t.Errorf("%s prints %s", name, secret)
			}
		}
	}
	if read != 2 {
		t.Errorf("%d PDFs", read)
	}
}

// exiftool finds every mark in the photos that go in, which shows that they
// carry what they should, and nothing but the picture in those that come out.
func TestExiftoolFindsNothing(t *testing.T) {
	exiftool := testenv.Program(t, "exiftool")
	in, out := t.TempDir(), t.TempDir()
	put := func(dir, name string, data []byte) {
		if err := os.WriteFile(filepath.Join(dir, name), data, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	put(in, "a.jpg", markedJPEG(t))
	put(in, "a.png", markedPNG(t))
	photos := 0
	for name, data := range published(t) {
		for _, inner := range opened(data) {
			if strings.HasPrefix(inner, "\xff\xd8\xff") {
				photos++
				put(out, fmt.Sprintf("%d%s.jpg", photos, path.Base(path.Dir(name))), []byte(inner))
			}
		}
	}
	if photos < 8 {
		t.Fatalf("%d photos came out", photos)
	}
	// Unknown blocks, doubled ones, embedded ones, the bytes of the thumbnail.
	found := toolOutput(t, exiftool, "-a", "-u", "-U", "-ee", "-b", "-G1", in)
	raw := string(markedJPEG(t)) + string(markedPNG(t))
	for _, p := range append(append([]string{}, jpegPlaces...), pngPlaces...) {
		if !strings.Contains(found, markOf(p)) && !strings.Contains(raw, markOf(p)) {
			t.Errorf("the photos that go in do not carry %s", p)
		}
	}
	named := toolOutput(t, exiftool, "-a", "-u", "-G1", "-s", in)
	for _, group := range []string{"[IFD0]", "[ExifIFD]", "[GPS]", "[IFD1]", "[XMP-dc]", "[IPTC]", "[ICC_Profile]", "[PNG]", "MakerNote"} {
		if !strings.Contains(named, group) {
			t.Errorf("exiftool does not see %s in the photos that go in", group)
		}
	}
	left := toolOutput(t, exiftool, "-a", "-u", "-U", "-G1", "-s", out)
	// Every picture says the same of itself: that it is a JPEG with square pixels.
	jfif := []string{"[JFIF] JFIFVersion : 1.01", "[JFIF] ResolutionUnit : None", "[JFIF] XResolution : 1", "[JFIF] YResolution : 1"}
	for line := range strings.Lines(left) {
		group, _, _ := strings.Cut(line, "]")
		if slices.Contains(jfif, strings.Join(strings.Fields(line), " ")) {
			continue
		}
		switch group {
		case "[ExifTool", "[System", "[File", "[Composite":
			if strings.Contains(line, "Warning") || strings.Contains(line, "Comment") {
				t.Errorf("something is left: %s", line)
			}
		default:
			if strings.HasPrefix(line, "[") {
				t.Errorf("something is left: %s", line)
			}
		}
	}
	if !strings.Contains(left, "ImageWidth") {
		t.Fatalf("exiftool read nothing:\n%.500s", left)
	}
}
