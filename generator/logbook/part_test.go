package logbook

import (
	"fmt"
	"testing"
)

func TestPartsAsPeopleWriteThem(t *testing.T) {
	for _, c := range []struct{ part, want string }{
		{"source: new", "1|1||0||fitted"},
		{"source: new, qty: 3", "3|3||0||fitted"},
		{"source: new, qty: 1.1 qt", "1.1 qt|1.1||0||fitted"},
		{"source: new, qty: 1/2 pt", "1/2 pt|0.5||0||fitted"},
		{"source: new, qty: 4 ft", "4 ft|4||0||fitted"},
		{"source: new, tax: 6 %", "1|1||6||fitted"},
		{"source: new, tax: 6.25%", "1|1||6.25||fitted"},
		{"source: new, tax: 3.19 USD", "1|1||0|3.19|fitted"},
		{"source: new, tax: 3.19 usd", "1|1||0|3.19|fitted"},
		{"source: new, price unknown: yes", "1|1||0||fitted"},
		{"source: new, supplied by: owner", "1|1|owner|0||fitted"},
		{"source: salvaged, fate: not fitted", "1|1||0||not fitted"},
	} {
		e, says := entry(t, "parts: [{part: p, "+c.part+"}]", "")
		if len(says) > 0 {
			t.Errorf("%s: %v", c.part, says)
			continue
		}
		p := e.Parts[0]
		money := ""
		if p.TaxAmount.Set {
			money = p.TaxAmount.String()
		}
		if got := fmt.Sprintf("%s|%s|%s|%s|%s|%s", p.HowMany(), p.Qty, p.SuppliedBy, p.Tax, money, p.Fate); got != c.want {
			t.Errorf("%s: got %s, want %s", c.part, got, c.want)
		}
	}
}

// The words of a field's name may stand apart; both ways at once are the same field
// twice.
func TestNamesOfFieldsMayStandApart(t *testing.T) {
	e, says := entry(t, "meter replaced: {old: 5 h, new: 0 h}\nchecks: [{item: a, result: works, as found: yes, system: drive}]", "")
	if len(says) > 0 || e.MeterReplaced == nil || !e.Checks[0].AsFound {
		t.Errorf("got %v, %+v", says, e)
	}
	if _, says = entry(t, "worked_on: [drive]\nworked on: [engine]", ""); len(says) != 1 {
		t.Errorf("twice: got %v", says)
	}
}
