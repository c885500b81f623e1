package logbook

import (
	"strings"
	"testing"
	"unsafe"
)

func TestSharedTextsAreOneCopy(t *testing.T) {
	same := func(a, b string) bool { return unsafe.StringData(a) == unsafe.StringData(b) }
	long := strings.Repeat("x", longestShared+1)
	for _, text := range []string{"", "carburetor", long[1:], long} {
		a, b := shared(strings.Clone(text)), shared(strings.Clone(text))
		if a != text || b != text {
			t.Errorf("%q became %q and %q", text, a, b)
		}
		if want := len(text) <= longestShared; text != "" && same(a, b) != want {
			t.Errorf("%q: one copy %v, want %v", text, !want, want)
		}
	}
}
