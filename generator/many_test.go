package generator_test

import (
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"asleft/generator"
	"asleft/generator/testenv"
)

// A shop of 200 machines, made by asleft-fill: its front page goes on over
// several pages, every link leads somewhere, and the HTML checker has nothing
// to say of any page.
func TestManyMachines(t *testing.T) {
	java, jar := testenv.Program(t, "java"), testenv.Module(t, "vnu-jar/build/dist/vnu.jar")
	dir := filepath.Join(t.TempDir(), "shop")
	if out, err := exec.Command("go", "run", "../cmd/asleft-fill", "--out", dir, "--machines", "200", "--entries", "600", "--photos", "2", "--photo-size", "1600x1200", "--seed", "7").CombinedOutput(); err != nil {
		t.Fatalf("asleft-fill: %v\n%s", err, out)
	}
	files := made(t, dir, generator.Options{})
	for _, name := range []string{"index.html", "more/2/index.html", "more/4/index.html"} {
		if files[name] == "" {
			t.Errorf("there is no %s", name)
		}
	}
	everyLink(t, files)
	_, pages := serve(t, files)
	args := append([]string{"-Dnu.validator.servlet.allow-forbidden-hosts=true", "-jar", jar}, pages...)
	if out := toolOutput(t, java, args...); strings.TrimSpace(out) != "" {
		t.Errorf("the HTML checker says:\n%s", out[:min(len(out), 4000)])
	}
}
