package sheet

import (
	"bytes"
	"errors"
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"unicode/utf16"
)

// The library underneath writes no language, no keywords and no attachment.
// They are added as ISO 32000-1, section 7.5.6, has it: what is written stays,
// and an update with a new catalog follows.

var (
	catalogForm = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`(?s)\n1 0 obj\n<<(.*?)>>\nendobj`) })
	endForm     = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`(?s)/Size (\d+)\n.*startxref\n(\d+)\n%%EOF\n$`) })
)

// completed adds what About says to a PDF.
func completed(pdf []byte, about About) ([]byte, error) {
	catalog, end := catalogForm().FindSubmatch(pdf), endForm().FindSubmatch(pdf)
	if catalog == nil || end == nil {
		return nil, errors.New("the PDF has no catalog where one was expected")
	}
	size, err := strconv.Atoi(string(end[1]))
	if err != nil {
		return nil, fmt.Errorf("the PDF's size: %w", err)
	}
	u := &update{pdf: bytes.NewBuffer(bytes.Clone(pdf)), first: size}
	names := ""
	if about.AttachedName != "" {
		file := u.object(fmt.Sprintf("<< /Type /EmbeddedFile /Subtype /%s /Length %d /Params << /Size %d >> >>\nstream\n%s\nendstream",
			strings.ReplaceAll(about.AttachedType, "/", "#2F"), len(about.Attached), len(about.Attached), about.Attached))
		name := hexText(about.AttachedName)
		spec := u.object(fmt.Sprintf("<< /Type /Filespec /F %s /UF %s /EF << /F %d 0 R >> >>", name, name, file))
		names = fmt.Sprintf(" /Names << /EmbeddedFiles << /Names [ %s %d 0 R ] >> >>", name, spec)
	}
	info := u.object(about.info())
	u.catalog = u.pdf.Len()
	fmt.Fprintf(u.pdf, "1 0 obj\n<<%s /Lang %s /ViewerPreferences << /DisplayDocTitle true >>%s >>\nendobj\n",
		catalog[1], hexText(about.Lang), names)
	u.end(info, string(end[2]))
	return u.pdf.Bytes(), nil
}

// update is what follows the PDF as it was.
type update struct {
	pdf     *bytes.Buffer
	first   int // number of the first new object
	at      []int
	catalog int
}

func (u *update) object(text string) int {
	number := u.first + len(u.at)
	u.at = append(u.at, u.pdf.Len())
	fmt.Fprintf(u.pdf, "%d 0 obj\n%s\nendobj\n", number, text)
	return number
}

func (u *update) end(info int, previous string) {
	xref := u.pdf.Len()
	fmt.Fprintf(u.pdf, "xref\n0 2\n0000000000 65535 f \n%010d 00000 n \n%d %d\n", u.catalog, u.first, len(u.at))
	for _, at := range u.at {
		fmt.Fprintf(u.pdf, "%010d 00000 n \n", at)
	}
	fmt.Fprintf(u.pdf, "trailer\n<< /Size %d /Root 1 0 R /Info %d 0 R /Prev %s >>\nstartxref\n%d\n%%%%EOF\n", u.first+len(u.at), info, previous, xref)
}

func (a About) info() string {
	var b strings.Builder
	b.WriteString("<<")
	for _, f := range []Fact{{"Title", a.Title}, {"Author", a.Author}, {"Subject", a.Subject}, {"Keywords", a.Keywords}} {
		if f.Value != "" {
			fmt.Fprintf(&b, " /%s %s", f.Label, hexText(f.Value))
		}
	}
	if !a.Created.IsZero() {
		date := a.Created.UTC().Format("20060102150405") + "Z"
		fmt.Fprintf(&b, " /CreationDate (D:%s) /ModDate (D:%s)", date, date)
	}
	return b.String() + " >>"
}

// hexText is a text string of a PDF, as UTF-16.
func hexText(text string) string {
	var b strings.Builder
	b.WriteString("<FEFF")
	for _, unit := range utf16.Encode([]rune(text)) {
		fmt.Fprintf(&b, "%04X", unit)
	}
	return b.String() + ">"
}

// Attachment finds the file that a PDF of this package carries; false where
// there is none.
func Attachment(pdf []byte) ([]byte, bool) {
	at := bytes.Index(pdf, []byte("<< /Type /EmbeddedFile "))
	if at < 0 {
		return nil, false
	}
	head, rest, ok := bytes.Cut(pdf[at:], []byte("stream\n"))
	if !ok {
		return nil, false
	}
	length := regexp.MustCompile(`/Length (\d+)`).FindSubmatch(head)
	if length == nil {
		return nil, false
	}
	n, err := strconv.Atoi(string(length[1]))
	if err != nil || n > len(rest) {
		return nil, false
	}
	return rest[:n], true
}
