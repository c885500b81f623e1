package handover

import (
	"path"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/spf13/afero"
)

// What the chain cannot miss by itself, with its tail and its note cut off or with
// all of it gone, is missed as far as the site's list or a copy still shows it.
func TestMissed(t *testing.T) {
	fs, _, made := three(t)
	name := func(i int) string { return strings.TrimSuffix(path.Base(made[i].File), ".json") }
	list := func(of ...int) string {
		var all []string
		for _, i := range of {
			s := made[i].Seal
			all = append(all, `{"number":`+string(rune('0'+s.Number))+`,"machine":"`+s.Facts.Record.Machine.Key+`","date":"`+s.Facts.Sealed+`","code":"`+s.Code+`","facts_digest":"`+s.FactsDigest+`","digest":"`+s.Digest+`"}`)
		}
		return `{"format":"asleft list of sealed reports 1","shop":"x","reports":[` + strings.Join(all, ",") + `]}`
	}
	for about, tc := range map[string]struct {
		gone           []string
		put            map[string]string
		listed, copied []string
	}{
		"nothing gone":        {put: map[string]string{listFile: list(0, 1, 2), name(2) + ".html": "x", "handovers/" + name(1) + ".pdf": "x"}},
		"nothing shows it":    {gone: []string{made[2].File, headFile}},
		"the site lists it":   {[]string{made[2].File, headFile}, map[string]string{listFile: list(0, 1, 2), name(2) + ".html": "x"}, []string{"The sealed report handovers/" + name(2) + ".json, number 3, is gone; site/sealed.json still lists it."}, nil},
		"a copy shows it":     {[]string{made[2].File, headFile}, map[string]string{name(2) + ".html": "x", name(2) + ".pdf": "x"}, nil, []string{name(2) + ".html is a buyer's copy of a sealed report, and its sealed file handovers/" + name(2) + ".json is not here."}},
		"a copy beside seals": {[]string{made[2].File}, map[string]string{"handovers/" + name(2) + ".pdf": "x"}, nil, []string{"handovers/" + name(2) + ".pdf is a buyer's copy of a sealed report, and its sealed file handovers/" + name(2) + ".json is not here."}},
		"all of it is gone":   {[]string{"handovers"}, map[string]string{listFile: list(0)}, []string{"The sealed report handovers/" + name(0) + ".json, number 1, is gone; site/sealed.json still lists it."}, nil},
		"damage is no loss":   {nil, map[string]string{made[2].File: "{}", listFile: list(0, 1, 2)}, nil, nil},
		"no list":             {put: map[string]string{listFile: "[1]"}},
		"a hostile list":      {put: map[string]string{listFile: `{"reports":[{"number":1,"machine":"../../x","date":"2026-03-02","code":"0123456789"},{"machine":"\u001b[31m"}]}`}},
		"no report by name":   {put: map[string]string{"harrow-2026-03-02-notes.html": "x", "harrow.pdf": "x", "a-2026-03-02-0123456789.txt": "x"}},
		"a folder by name":    {put: map[string]string{"a-2026-03-02-0123456789.html/x": "x"}},
	} {
		c := copied(t, fs)
		for _, file := range tc.gone {
			if err := c.RemoveAll(file); err != nil {
				t.Fatal(err)
			}
		}
		for file, text := range tc.put {
			if err := afero.WriteFile(c, file, []byte(text), 0o600); err != nil {
				t.Fatal(err)
			}
		}
		listed, copies, err := chainOf(t, c).Missed(c)
		if err != nil {
			t.Errorf("%s: %v", about, err)
		}
		if diff := cmp.Diff([][]string{tc.listed, tc.copied}, [][]string{saysOf(listed), saysOf(copies)}); diff != "" {
			t.Errorf("%s (-want, +got):\n%s", about, diff)
		}
	}
}

func saysOf(breaks []Break) (all []string) {
	for _, b := range breaks {
		all = append(all, b.Says)
	}
	return all
}
