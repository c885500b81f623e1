package condition

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/spf13/afero"

	"asleft/generator/catalog"
	"asleft/generator/logbook"
)

// shopGaps are what is asked of a shop with these machines, each the front matter of
// its machine.md by its key.
func shopGaps(t *testing.T, files map[string]string) []string {
	t.Helper()
	fs := afero.NewMemMapFs()
	for name, front := range files {
		if err := afero.WriteFile(fs, name, []byte("---\n"+front+"\n---\n"), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	shop, problems, err := logbook.Read(fs, logbook.Options{})
	if err != nil || len(problems) > 0 {
		t.Fatal(err, problems)
	}
	gaps := ShopGaps(shop, catalog.English)
	shop.Pinpoint(gaps)
	var all []string
	for _, g := range logbook.Sort(gaps) {
		all = append(all, fmt.Sprintf("%s: %s", g.Place, g.Says))
	}
	return all
}

func machineNamed(name, more string) string {
	return "name: " + name + "\narrived: 2026-01-01\n" + more
}

// Two machines of one name or one number are remarked on once, at the later one.
func TestTwins(t *testing.T) {
	const shop = "shop: S\ncurrency: USD"
	for _, c := range []struct {
		name  string
		files map[string]string
		want  []string
	}{
		{"all different", map[string]string{"machines/a/machine.md": machineNamed("A saw", "serial: 12"), "machines/b/machine.md": machineNamed("B saw", "serial: 123")}, nil},
		{"one name", map[string]string{"machines/a/machine.md": machineNamed("Harrow tiller", ""), "machines/b/machine.md": "arrived: 2026-01-01\nname: harrow-tiller", "machines/c/machine.md": machineNamed("Harrow Tiller", "")},
			[]string{`machines/b/machine.md:3: name: b and a are both called "harrow-tiller"`, `machines/c/machine.md:2: name: c and a are both called "Harrow Tiller"`}},
		{"one number", map[string]string{"machines/a/machine.md": machineNamed("A", "serial: AB-123 4"), "machines/b/machine.md": machineNamed("B", "serial: ab1234")},
			[]string{`machines/b/machine.md:4: serial: b and a have the same serial number: ab1234`}},
		{"numbers that are none", map[string]string{"machines/a/machine.md": machineNamed("A", "serial: not known"), "machines/b/machine.md": machineNamed("B", "serial: not known")}, nil},
	} {
		c.files["shop.md"] = shop
		if diff := cmp.Diff(c.want, shopGaps(t, c.files)); diff != "" {
			t.Errorf("%s (-want, +got):\n%s", c.name, diff)
		}
	}
}

// The fields that are left alone are told in one word for each file, and apart where
// they may have been meant for something.
func TestAsidesAreTold(t *testing.T) {
	got := shopGaps(t, map[string]string{"shop.md": "shop: S\nlayout: home\ncurrency: USD\ntags: [a]\nauthor: JM\nimage: a.jpg", "sheets/sled.md": "sheet: sled\nlayout: x", "sheets/.own.md": "x: y", "machines/.old/machine.md": "x: y"})
	want := []string{
		"machines/.old: this machine is not read, because the name of its folder begins with a dot",
		"sheets/.own.md: this file is not read, because its name begins with a dot",
		"sheets/sled.md:3: these fields mean nothing here and are left alone: layout",
		"shop.md:3: these fields mean nothing here and are left alone: layout, tags",
		"shop.md:6: author: this is left alone, for it does not say who did the work",
		"shop.md:7: image: this is left alone, so it shows no photo",
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("(-want, +got):\n%s", diff)
	}
	r := rig{machine: "tags: [a]", entries: []string{"date: 2026-02-01\ntitle: T\nlayout: post"}}.judge(t)
	var says []string
	for _, g := range Gaps(&logbook.Shop{}, r, catalog.English) {
		if strings.Contains(g.Says, "left alone") {
			says = append(says, g.Says)
		}
	}
	if diff := cmp.Diff([]string{"these fields mean nothing here and are left alone: tags", "these fields mean nothing here and are left alone: layout"}, says); diff != "" {
		t.Errorf("(-want, +got):\n%s", diff)
	}
}

// A part that came out of a machine for sale is asked for in that machine's own log.
func TestTakenFrom(t *testing.T) {
	taken := func(donor string) map[string]string {
		return map[string]string{
			"shop.md":                 "shop: S\ncurrency: USD",
			"machines/a/machine.md":   machineNamed("A", ""),
			"machines/a/e.md":         "date: 2026-02-01\ntitle: T\nparts: [{part: lever spring, source: salvaged, from: b}]",
			"machines/b/machine.md":   machineNamed("B", donor),
			"machines/b/2026-02-e.md": "date: 2026-02-02\ntitle: T",
		}
	}
	named := taken("stage: for sale")
	named["machines/b/2026-02-e.md"] += "\nchanged: [{what: the Lever  spring is out, system: controls, safety: no}]"
	for _, c := range []struct {
		name  string
		files map[string]string
		want  []string
	}{
		{"for sale", taken("stage: for sale"), []string{"machines/a/e.md:4: parts[0].from: lever spring came out of B, which is for sale, and the log of that machine does not name it, so its report does not tell"}},
		{"sold", taken("stage: sold\nsold: {date: 2026-03-01}"), nil},
		{"to be taken apart", taken("stage: parted out"), nil},
		{"named there", named, nil},
		{"missing there", taken("stage: for sale\nmissing: [lever spring]"), nil},
	} {
		if diff := cmp.Diff(c.want, shopGaps(t, c.files)); diff != "" {
			t.Errorf("%s (-want, +got):\n%s", c.name, diff)
		}
	}
}
