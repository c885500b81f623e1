package page

import (
	"strings"
	"testing"

	"asleft/generator/catalog"
)

// TestSealedSays: the log has changed since the last report only where it says another
// thing than that one did. What an older one said and none does now is told beside it.
func TestSealedSays(t *testing.T) {
	older := Sealed{Now: "saw", Date: "2026-03-02", Code: "older", Since: Since{Changed: true, Gone: []string{"the log does not list a seal"}}}
	other := Sealed{Now: "pump", Date: "2026-03-09", Code: "other", Since: Since{Changed: true, Gone: []string{"of a pump"}}}
	last := func(since Since) []Sealed {
		return []Sealed{older, {Now: "saw", Date: "2026-03-05", Code: "last", Since: since}, other}
	}
	for _, tc := range []struct {
		about  string
		sealed []Sealed
		says   string
		gone   int
	}{
		{"never", []Sealed{other}, "", 0},
		{"not changed", last(Since{Same: true})[1:], "The log has not changed since.", 0},
		{"not changed, and one before it said more", last(Since{Same: true}), "One that was sealed before it said more.", 1},
		{"the same but for other text, and one before it said more", last(Since{}), "One that was sealed before it said more.", 1},
		{"changed", last(Since{Changed: true}), "The log has changed since.", 1},
		{"changed, and the last one said more too", last(Since{Changed: true, Gone: []string{"nor a belt"}}), "The log has changed since.", 2},
	} {
		s := &Site{Words: catalog.English, Sealed: tc.sealed}
		says, gone := s.sealedSays("saw")
		if !strings.HasSuffix(says, tc.says) || (says == "") != (tc.says == "") || says != "" && !strings.Contains(says, "code last") || len(gone) != tc.gone {
			t.Errorf("%s: %q, %q", tc.about, says, gone)
		}
	}
}

// A code stands on the page as it stands on paper: twelve digits in groups of four.
func TestACodeIsPrintedInGroups(t *testing.T) {
	for code, want := range map[string]string{"476e715fca29": "with the code 476e 715f ca29.", "5f9b6925bd": "with the code 5f9b6925bd."} {
		s := &Site{Words: catalog.English, Sealed: []Sealed{{Now: "saw", Date: "2026-03-05", Code: code, Since: Since{Same: true}}}}
		if says, _ := s.sealedSays("saw"); !strings.Contains(says, want) {
			t.Errorf("%q, want %q", says, want)
		}
		row := s.composer(verifyPath).sealedRow(s.Sealed[0])
		if row.Code != GroupedCode(code) || row.ID != "sealed-"+code {
			t.Errorf("the row of %s: %q, %q", code, row.Code, row.ID)
		}
	}
}
