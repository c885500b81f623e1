package quantity

import "testing"

func TestOffered(t *testing.T) {
	kPa, ok := UnitNamed("kPa")
	if !ok {
		t.Fatal("there is no kPa")
	}
	all := Offered(kPa)
	if len(all) < 3 || all[0] != "kPa" {
		t.Fatalf("for kPa there are %v", all)
	}
	seen := map[string]bool{}
	for _, symbol := range all {
		u, ok := UnitNamed(symbol)
		if !ok || u.Dimension() != kPa.Dimension() || seen[symbol] {
			t.Errorf("%s is offered for kPa", symbol)
		}
		seen[symbol] = true
	}
	if !seen["psi"] || seen["mm"] {
		t.Errorf("for kPa there are %v", all)
	}
}
