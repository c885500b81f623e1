package logbook

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// TestBodiesLeftInTheirFiles reads them when they are asked for, as they are
// read otherwise.
func TestBodiesLeftInTheirFiles(t *testing.T) {
	files := map[string]string{
		"plain": "The story.\n", "empty": "", "blank": "\n \n", "no-end": "ends so", "dos": "one\r\ntwo\r\n", "rule": "a\n\n---\n\nb\n",
	}
	archive := shopFile + machineFile
	for name, body := range files {
		archive += entryFile("2026-02-01-"+name, "", strings.TrimSuffix(body, "\n")+"\n")
	}
	fs := folder(t, archive)
	put(t, fs, "machines/m/2026-02-01-bom.md", "\xef\xbb\xbf\n---\ndate: 2026-02-01\ntitle: T\n---\nbelow\n")
	want, _ := readAll(t, fs, nil)
	shop, problems, err := Read(fs, Options{Today: today, LeaveBodies: true})
	if err != nil || len(problems) > 0 {
		t.Fatal(err, problems)
	}
	if len(shop.Machines[0].Entries) != len(files)+1 {
		t.Fatalf("%d entries", len(shop.Machines[0].Entries))
	}
	for n, e := range shop.Machines[0].Entries {
		whole := want.Machines[0].Entries[n].Body
		if len(e.Body.Text) > 0 || e.Body.Left != (strings.TrimSpace(string(whole.Text)) != "") {
			t.Errorf("%s: %q was kept", e.File, e.Body.Text)
		}
		got, err := shop.BodyOf(e)
		if err != nil {
			t.Errorf("%s: %v", e.File, err)
		}
		if e.Body.Left {
			if diff := cmp.Diff(whole, got); diff != "" {
				t.Errorf("%s (-read at once, +read later):\n%s", e.File, diff)
			}
		}
	}
	for name, now := range map[string]string{
		"no front matter": "The story.\n", "not text": "---\ndate: 2026-02-01\n---\n\x00", "tangled": "---\ndate: 2026-02-01\n---\n" + strings.Repeat("[", maxBrackets+1), "gone": "",
	} {
		e := shop.Machines[0].Entries[len(files)]
		if put(t, fs, e.File, now); now == "" {
			if err := fs.Remove(e.File); err != nil {
				t.Fatal(err)
			}
		}
		e.Body.Left = true
		if _, err := shop.BodyOf(e); err == nil || !strings.Contains(err.Error(), e.File) {
			t.Errorf("%s: %v", name, err)
		}
	}
}
