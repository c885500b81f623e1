package desk_test

import (
	"testing"

	"asleft/generator/desk"
)

func TestTitleOf(t *testing.T) {
	for _, tc := range []struct{ story, want string }{
		{"", ""},
		{"New plug.", "New plug"},
		{"\n\nPut in a new plug. It starts.\nMore.", "Put in a new plug"},
		{"Plug out: black and wet", "Plug out"},
		{"Took the carburetor off the engine again, and", "Took the carburetor off the engine again…"},
		{"Took the carburetor off the engine again,", "Took the carburetor off the engine again"},
		{"Took the carburetor off the engine again", "Took the carburetor off the engine again"},
		{"Took the carburetor off the engine again. Then", "Took the carburetor off the engine again"},
		{"Öl läuft, 油漏れ", "Öl läuft, 油漏れ"},
	} {
		if got := desk.TitleOf(tc.story); got != tc.want {
			t.Errorf("%q: got %q, want %q", tc.story, got, tc.want)
		}
	}
}
