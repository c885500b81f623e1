package tally

import (
	"testing"

	"github.com/govalues/decimal"

	"asleft/generator/logbook"
	"asleft/generator/quantity"
)

// TestPieces: a line of two bearings is two parts, and one of 1.1 qt of oil is one.
func TestPieces(t *testing.T) {
	oil, err := quantity.Parse("3 qt")
	if err != nil {
		t.Fatal(err)
	}
	for _, tc := range []struct {
		qty     string
		measure quantity.Quantity
		want    int
	}{
		{"1", quantity.Quantity{}, 1}, {"2", quantity.Quantity{}, 2}, {"2.00", quantity.Quantity{}, 2}, {"1.5", quantity.Quantity{}, 1},
		{"0.5", quantity.Quantity{}, 1}, {"1000001", quantity.Quantity{}, 1}, {"3", oil, 1},
	} {
		if got := pieces(logbook.Part{Qty: decimal.MustParse(tc.qty), Measure: tc.measure}); got != tc.want {
			t.Errorf("%s %s: %d pieces, want %d", tc.qty, tc.measure, got, tc.want)
		}
	}
	b := &book{digits: 2}
	priced := logbook.Amount{Decimal: decimal.MustParse("8"), Set: true}
	in := b.fitted([]Line{{Fitted: true, Pieces: 2, Amount: priced}, {Fitted: true, Pieces: 3}, {Pieces: 4, Amount: priced}})
	if in.All != 5 || in.Priced != 2 {
		t.Errorf("%d of %d parts are priced, want 2 of 5", in.Priced, in.All)
	}
}
