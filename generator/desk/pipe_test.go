package desk_test

import (
	"net/http"
	"net/http/httptest"
	"testing"

	"github.com/spf13/afero"

	"asleft/generator/desk"
	"asleft/generator/testenv"
)

// TestPipesKeepNoPageWaiting: in a folder of somebody else's a pipe may stand where the
// desk looks for a draft, a photo or what it kept. No page opens it.
func TestPipesKeepNoPageWaiting(t *testing.T) {
	for name, at := range map[string]string{
		".asleft/desk/x.json":             "/desk/",
		".asleft/kept/1.json":             "/desk/?said=kept-1.json",
		"machines/harrow/photos/pipe.jpg": "/desk/m/harrow/photo/pipe.jpg",
		"machines/harrow/machine.md":      "/desk/m/harrow",
	} {
		b := newTable(t)
		if err := afero.WriteFile(b.folder, name, []byte("x"), 0o600); err != nil {
			t.Fatal(err)
		}
		pipe := &testenv.Piped{Fs: b.folder, Pipe: name}
		b.handle = desk.New(pipe, desk.Options{Reading: b.reading, Now: b.now}).Handler(host)
		w := b.ask(httptest.NewRequest(http.MethodGet, at, nil))
		if pipe.Opened || at == "/desk/" && w.Code != http.StatusOK {
			t.Errorf("%s for %s: opened %v, %d", at, name, pipe.Opened, w.Code)
		}
	}
}
