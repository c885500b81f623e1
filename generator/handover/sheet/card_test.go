package sheet

import (
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// Whatever stands on a card, all that is set lies on it, beside the QR code and above
// the foot, and what nobody may overlook is there to the letter, in type that never shrinks.
func TestCardHoldsItAll(t *testing.T) {
	s := begun(t, CardPaper)
	const width, height = cardWidth - 2*cardEdge, cardHeight - 2*cardEdge
	rapid.Check(t, func(t *rapid.T) {
		text := func(name string, most int) string {
			long := rapid.IntRange(0, most).Draw(t, name+" long")
			return rapid.StringOfN(rapid.RuneFrom([]rune("abWWW ij.-±Ωžя  ")), long, long, -1).Draw(t, name)
		}
		c := Card{
			Name: "Harrow " + text("name", 400), Under: text("under", 120), Price: text("price", 30),
			Heavy: "128 safety matters are open. For 17 of them, nobody said if that can hurt someone. The report names each.",
			Title: "Look for yourself before you pay",
			Foot:  []string{"Fernhollow " + text("shop", 200), "A report was sealed on September 28, 2026, code 5f9b-6925-bd01. The log has changed since."},
		}
		for range rapid.IntRange(0, 3).Draw(t, "lines") {
			c.Lines = append(c.Lines, "Look "+text("line", 300))
		}
		if rapid.Bool().Draw(t, "web") {
			c.Code = &Code{Text: "https://shop.example/machines/" + strings.Repeat("k", rapid.IntRange(1, 60).Draw(t, "address")) + "/condition/", Under: "Scan for the whole report."}
		}
		if _, fits := s.cardAt(c, cardScales[len(cardScales)-1], 1); !fits {
			t.Fatal("not even the smallest type leaves room for the foot")
		}
		heavy := ""
		for _, d := range s.card(c) {
			if d, ok := d.(words); ok {
				right := d.x + s.long(d.face, d.size, d.text)
				if d.x < 0 || right > width+0.01 || d.y-d.size*0.8 < 0 || d.y+d.size*0.22 > height+0.01 {
					t.Fatalf("beyond the card: %+v ends at %.1f", d, right)
				}
				if c.Code != nil && d.x < width-cardCode && right > width-cardCode-11 && d.y-d.size*0.8 < cardCode {
					t.Fatalf("in the QR code: %+v ends at %.1f", d, right)
				}
				if d.face == bold && d.size == 11 && strings.Contains(c.Heavy, d.text) {
					heavy += d.text + " "
				}
			}
		}
		if !strings.Contains(strings.Join(strings.Fields(heavy), " "), c.Heavy) {
			t.Fatalf("what nobody may overlook is %q", heavy)
		}
	})
}

func TestCardsOnTheirPapers(t *testing.T) {
	card := Card{Name: "Harrow", Heavy: "1 safety matter is open.", Foot: []string{"Fernhollow"}}
	cards := []Card{card, card, card, card, card}
	for _, c := range []struct {
		paper Paper
		box   string
		pages int
	}{{CardPaper, "360.00 216.00", 5}, {Letter, "792.00 612.00", 2}, {A4, "841.89 595.28", 2}} {
		pdf, missing, err := Cards(c.paper, About{Title: "Tags", Lang: "en"}, cards)
		if err != nil || missing {
			t.Fatal(err, missing)
		}
		if n := strings.Count(string(pdf), "/Type /Page\n"); n != c.pages {
			t.Errorf("%s: %d pages, want %d", c.paper.Name, n, c.pages)
		}
		if !strings.Contains(string(pdf), c.box) {
			t.Errorf("%s: no page of %s points", c.paper.Name, c.box)
		}
	}
}
