package quantity

import "testing"

func TestApart(t *testing.T) {
	for _, tc := range []struct {
		one, other string
		apart      bool
	}{
		{"<= 3 s", ">= 4 s", true}, {"<= 3 s", ">= 3 s", false}, {"< 3 s", ">= 3 s", true}, {"<= 3 s", "> 3 s", true},
		{"<= 3 s", "<= 9 s", false}, {">= 3 s", ">= 9 s", false}, {"1 s to 2 s", "3 s to 4 s", true}, {"1 s to 3 s", "3 s to 4 s", false},
		{"3600 rpm +- 50 rpm", "<= 3500 rpm", true}, {"3600 rpm +- 50 rpm", "<= 3550 rpm", false}, {"<= 3 s", ">= 4 psi", false},
	} {
		one, err := ParseLimit(tc.one)
		if err != nil {
			t.Fatal(err)
		}
		other, err := ParseLimit(tc.other)
		if err != nil {
			t.Fatal(err)
		}
		if got, back := Apart(one, other), Apart(other, one); got != tc.apart || back != tc.apart {
			t.Errorf("%s and %s: apart %v and %v, want %v", tc.one, tc.other, got, back, tc.apart)
		}
	}
	if Apart(Limit{}, Limit{}) {
		t.Error("no limits are apart")
	}
}
