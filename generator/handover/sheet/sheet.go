package sheet

import (
	"fmt"
	"time"

	"github.com/signintech/gopdf"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
)

// A Paper is a size of paper in points.
type Paper struct {
	Name          string
	Width, Height float64
}

// The papers (ANSI/ASME Y14.1 size A, ISO 216 A4 to the nearest hundredth).
var (
	Letter = Paper{"letter", 612, 792}
	A4     = Paper{"a4", 595.28, 841.89}
)

// Margins and sizes. Body text is 10 on 12.5 points, the smallest is 8.
const (
	side     = 50.0
	top      = 42.0
	bottom   = 48.0 // the foot stands in it
	bodySize = 10.0
	noteSize = 8.5
	leading  = 1.25 // of the size
	indent   = 14.0 // of a statement, for its mark
)

type face string

const (
	regular face = "regular"
	bold    face = "bold"
)

// A Sheet is a printed sheet being set.
type Sheet struct {
	// About is written into the file, for whoever catalogs it.
	About   About
	paper   Paper
	pdf     *gopdf.GoPdf
	pieces  []*piece
	bar     bool
	keep    bool // what is added stays with what follows
	turn    bool // what is added next begins a page
	missing bool
	failed  error // the first
	known   map[face]map[rune]float64
}

// About is the document's own data.
type About struct {
	Title, Author, Subject, Keywords, Lang string
	Created                                time.Time
	// Attached is a file inside the PDF; no name, no file.
	AttachedName, AttachedType string
	Attached                   []byte
}

// New begins a sheet.
func New(paper Paper, about About) (*Sheet, error) {
	s := &Sheet{About: about, paper: paper, pdf: &gopdf.GoPdf{}, known: map[face]map[rune]float64{regular: {}, bold: {}}}
	s.pdf.Start(gopdf.Config{PageSize: gopdf.Rect{W: paper.Width, H: paper.Height}})
	for _, f := range []struct {
		name face
		data []byte
	}{{regular, goregular.TTF}, {bold, gobold.TTF}} {
		if err := s.pdf.AddTTFFontData(string(f.name), f.data); err != nil {
			return nil, fmt.Errorf("the font %s: %w", f.name, err)
		}
	}
	return s, nil
}

// Missing tells whether a sign was set as the replacement sign.
func (s *Sheet) Missing() bool { return s.missing }

func (s *Sheet) width() float64 { return s.paper.Width - 2*side }

func (s *Sheet) body() float64 { return s.paper.Height - top - bottom }

func (s *Sheet) fail(err error) {
	if s.failed == nil {
		s.failed = err
	}
}
