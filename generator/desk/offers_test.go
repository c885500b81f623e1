package desk_test

import (
	"encoding/json"
	"net/url"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// TestPickedNotTyped: a donor is picked from the shop's machines, a defect from those that
// are open and from those of the same evening, units from what was measured before, and a
// point comes with how to look.
func TestPickedNotTyped(t *testing.T) {
	b := newTable(t)
	at := "/desk/m/harrow/new/20261128T193000-abcdef"
	page := b.get(at)
	choice := func(page, name string) string {
		t.Helper()
		all := regexp.MustCompile(`(?s)<select[^>]* name="` + regexp.QuoteMeta(name) + `".*?</select>`).FindString(page)
		if all == "" {
			t.Fatalf("there is no choice %s", name)
		}
		return all
	}
	donors := choice(page, "f.parts.0.from")
	if !strings.Contains(donors, `<option value="heron">`) || strings.Contains(donors, `value="harrow"`) {
		t.Errorf("donors: %s", donors)
	}
	if open := choice(page, "f.repaired.0.key"); !strings.Contains(open, "left handle grip torn") {
		t.Errorf("defects: %s", open)
	}
	units := regexp.MustCompile(`data-units="([^"]*)"`).FindStringSubmatch(page)
	var known map[string][]string
	if units == nil || json.Unmarshal([]byte(strings.ReplaceAll(units[1], "&#34;", `"`)), &known) != nil {
		t.Fatalf("units: %v", units)
	}
	if of := known["compression"]; len(of) < 3 || of[0] != "psi" || !slices.Contains(of, "kPa") {
		t.Errorf("compression is offered in %v; all: %v", of, known)
	}
	point := regexp.MustCompile(`(?s)<fieldset class="point".*?</fieldset>`).FindString(page)
	if !strings.Contains(point, `<p class="fine">`) || strings.Count(point, `type="radio"`) != 4 {
		t.Errorf("a point: %s", point)
	}
	// A defect that this evening found is put right in the same evening.
	v := formOf(t, page)
	v.Set("f.title", "Found and mended")
	v.Set("f.defects.0.defect", "fuel line cracked")
	v.Set("f.defects.0.system", "fuel")
	v.Set("f.defects.0.safety", "yes")
	v.Set("do", "try")
	var live struct {
		Defects []struct{ Row, Key, Name string }
	}
	if err := json.Unmarshal(b.post(at, v).Body.Bytes(), &live); err != nil || len(live.Defects) != 1 || live.Defects[0].Row != "f.defects.0" || live.Defects[0].Key != "fuel-line-cracked" {
		t.Fatalf("the script is told %+v (%v)", live, err)
	}
	if open := choice(b.get(at), "f.repaired.0.key"); !strings.Contains(open, `<option value="fuel-line-cracked">fuel line cracked</option>`) {
		t.Errorf("without the script it is offered %s", open)
	}
	v.Set("f.repaired.0.key", "fuel-line-cracked")
	v.Set("f.repaired.0.how", "new line")
	v.Set("do", "keep")
	b.post(at, v)
	if text := b.file("machines/harrow/2026-11-28-found-and-mended.md"); strings.Count(text, "key: fuel-line-cracked") != 2 {
		t.Errorf("it says\n%s", text)
	}
}

// TestBeforeYouSeal: what is unanswered, unproven and unsaid, what would change the report
// most first, with where it is said.
func TestBeforeYouSeal(t *testing.T) {
	b := newTable(t)
	page := b.get("/desk/m/gannet/seal")
	at := -1
	for _, title := range []string{"Safety points without an answer", "Defects without a repair", "Other points without an answer", "What else could be said"} {
		next := strings.Index(page, "<summary>"+title)
		if next <= at {
			t.Errorf("%q stands at %d, after %d", title, next, at)
		}
		at = next
	}
	if !strings.Contains(page, `href="/desk/m/gannet/list"`) {
		t.Error("nothing leads to the list")
	}
	// A repair without proof is told of until it has one.
	v := url.Values{"do": {"keep"}, "f.date": {"2026-11-28"}, "f.title": {"Cover"}, "f.defects.0.defect": {"seat torn"}, "f.defects.0.system": {"frame"}, "f.defects.0.safety": {"no"}, "f.repaired.0.key": {"seat-torn"}, "f.repaired.0.how": {"sewn"}}
	b.post("/desk/m/gannet/new/20261128T193000-abcdef", v)
	page = b.get("/desk/m/gannet/seal")
	proof := regexp.MustCompile(`(?s)<summary>Repairs without proof.*?</details>`).FindString(page)
	if !strings.Contains(proof, "seat torn") {
		t.Errorf("repairs without proof: %q", proof)
	}
}
