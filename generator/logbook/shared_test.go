package logbook

import (
	"strconv"
	"strings"
	"sync"
	"testing"
	"unsafe"
)

func TestSharedTextsAreOneCopy(t *testing.T) {
	kept := newShared()
	same := func(a, b string) bool { return unsafe.StringData(a) == unsafe.StringData(b) }
	long := strings.Repeat("x", longestShared+1)
	for _, text := range []string{"", "carburetor", long[1:], long} {
		a, b := kept.of(strings.Clone(text)), kept.of(strings.Clone(text))
		if a != text || b != text {
			t.Errorf("%q became %q and %q", text, a, b)
		}
		if want := len(text) <= longestShared; text != "" && same(a, b) != want {
			t.Errorf("%q: one copy %v, want %v", text, !want, want)
		}
	}
	if none := (*shared)(nil).of("carburetor"); none != "carburetor" {
		t.Errorf("without a store: %q", none)
	}
	var all sync.WaitGroup
	for range 8 {
		all.Go(func() {
			for i := range 1000 {
				if text := strconv.Itoa(i % 300); kept.of(text) != text {
					t.Errorf("%s is another", text)
				}
			}
		})
	}
	all.Wait()
}
