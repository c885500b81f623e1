package main

import (
	"testing"

	"github.com/spf13/afero"

	"asleft/generator/testenv"
)

// TestPipesAmongWhatIsRemembered: a folder of somebody else's may hold a pipe where a
// command looks for what it kept there. It is not waited for.
func TestPipesAmongWhatIsRemembered(t *testing.T) {
	for name, read := range map[string]func(afero.Fs){
		deskFile:                    func(folder afero.Fs) { readDesk(folder, nil) },
		answersDir + "/harrow.json": func(folder afero.Fs) { (&opening{folder: folder, key: "harrow"}).answered() },
		"machines/harrow/a.md":      func(folder afero.Fs) { lineOf(folder, "machines/harrow/a.md", 1) },
	} {
		pipe := &testenv.Piped{Fs: afero.NewMemMapFs(), Pipe: name}
		if err := afero.WriteFile(pipe.Fs, name, []byte("{}"), 0o600); err != nil {
			t.Fatal(err)
		}
		if read(pipe); pipe.Opened {
			t.Errorf("%s was opened", name)
		}
	}
}
