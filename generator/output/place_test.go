package output_test

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"asleft/generator/output"
	"asleft/generator/testenv"
)

// shopAt makes a shop folder with a neighbour and a home folder around both:
//
//	home/shop/{shop.md,machines/harrow,site}   home/other   elsewhere/machines
func shopAt(t *testing.T) (top, shop string) {
	t.Helper()
	top, err := filepath.EvalSymlinks(t.TempDir())
	must(t, err)
	shop = filepath.Join(top, "home", "shop")
	for _, dir := range []string{"home/shop/machines/harrow", "home/shop/site", "home/other", "elsewhere/machines"} {
		must(t, os.MkdirAll(filepath.Join(top, filepath.FromSlash(dir)), 0o755))
	}
	must(t, os.WriteFile(filepath.Join(shop, "shop.md"), nil, 0o644))
	t.Setenv("HOME", filepath.Join(top, "home"))
	t.Setenv("USERPROFILE", filepath.Join(top, "home")) // what Windows calls it
	return top, shop
}

func TestCheckPlace(t *testing.T) {
	cases := map[string]string{ // the place, below the top: a word of the refusal, or "" where it is fine
		"home/shop/site":              "",
		"home/shop/new":               "",
		"home/shop/deep/er/site":      "",
		"home/other":                  "",
		"home/other/site":             "",
		"home/shop-site":              "",
		"elsewhere":                   "",
		"elsewhere/machines":          "",
		"not/there/yet":               "",
		"home/shop":                   "that is the shop folder",
		"home/shop/":                  "that is the shop folder",
		"home/shop/site/..":           "that is the shop folder",
		"home":                        "home folder",
		".":                           "home folder",
		"home/shop/machines":          "machines",
		"home/shop/machines/harrow":   "machines",
		"home/shop/machines/new/site": "machines",
		"home/shop/Machines":          "machines",
		"home/shop/Machines/new/site": "machines",
		"home/machines":               "",
		"home/machines/site":          "",
		"home/shop/sheets":            "sheets",
		"home/shop/sheets/site":       "sheets",
		"home/shop/handovers":         "handovers",
		"home/shop/handovers/2026":    "handovers",
		"home/shop/themes/own":        "themes",
		"home/shop/shop.md":           "file",
		"home/shop/shop.md/site":      "file",
	}
	for place, word := range cases {
		t.Run(strings.ReplaceAll(place, "/", " "), func(t *testing.T) {
			top, shop := shopAt(t)
			err := output.CheckPlace(shop, top+string(filepath.Separator)+filepath.FromSlash(place))
			if word == "" {
				must(t, err)
				return
			}
			wantRefusal(t, err, word)
		})
	}
}

func TestCheckPlaceThroughLinks(t *testing.T) {
	cases := map[string]struct{ link, target, out, word string }{
		"to the shop":          {"home/other/way", "home/shop", "home/other/way", "that is the shop folder"},
		"to a machine":         {"home/other/way", "home/shop/machines/harrow", "home/other/way/site", "machines"},
		"to a file":            {"home/other/way", "home/shop/shop.md", "home/other/way", "file"},
		"to nothing":           {"home/other/way", "home/none", "home/other/way", "leads nowhere"},
		"below nothing":        {"home/other/way", "home/none", "home/other/way/deep/site", "leads nowhere"},
		"to home":              {"home/other/way", "home", "home/other/way", "home folder"},
		"the shop's sheets":    {"home/shop/sheets", "elsewhere", "elsewhere/site", "sheets"},
		"what the sheets are":  {"home/shop/sheets", "elsewhere", "elsewhere", "sheets"},
		"what holds handovers": {"home/shop/handovers", "elsewhere/machines", "elsewhere", "handovers"},
		"to a fine place":      {"home/other/way", "elsewhere", "home/other/way/site", ""},
		"the site":             {"home/shop/public", "elsewhere", "home/shop/public", ""},
	}
	for name, c := range cases {
		t.Run(name, func(t *testing.T) {
			top, shop := shopAt(t)
			symlink(t, filepath.Join(top, filepath.FromSlash(c.target)), filepath.Join(top, filepath.FromSlash(c.link)))
			err := output.CheckPlace(shop, filepath.Join(top, filepath.FromSlash(c.out)))
			if c.word == "" {
				must(t, err)
				return
			}
			wantRefusal(t, err, c.word)
		})
	}
}

// symlink makes a link; Windows lets only some users do so.
func symlink(t *testing.T, target, name string) {
	t.Helper()
	testenv.NeedsLinks(t)
	must(t, os.Symlink(target, name))
}

func TestCheckPlaceThatHoldsTheShop(t *testing.T) {
	top, shop := shopAt(t)
	t.Setenv("HOME", filepath.Join(top, "elsewhere"))
	t.Setenv("USERPROFILE", filepath.Join(top, "elsewhere"))
	wantRefusal(t, output.CheckPlace(shop, filepath.Join(top, "home")), "inside it")
}

// TestCheckPlaceWithoutAHome: where no home folder is known, or none is there, none is
// in the way; least of all the folder that the program was started in.
func TestCheckPlaceWithoutAHome(t *testing.T) {
	top, shop := shopAt(t)
	t.Chdir(filepath.Join(top, "elsewhere"))
	for _, home := range []string{"", filepath.Join(top, "none")} {
		t.Setenv("HOME", home)
		t.Setenv("USERPROFILE", home)
		for _, place := range []string{".", filepath.Join("machines", "site")} {
			if err := output.CheckPlace(shop, place); err != nil {
				t.Errorf("home is %q: %v", home, err)
			}
		}
	}
}

// TestCheckPlaceBehindALoop: a link that leads to itself is the disk's fault, told
// with the name that was asked for.
func TestCheckPlaceBehindALoop(t *testing.T) {
	top, shop := shopAt(t)
	loop := filepath.Join(top, "loop")
	symlink(t, loop, loop)
	for _, c := range [][2]string{{shop, loop}, {shop, filepath.Join(loop, "site")}, {loop, filepath.Join(top, "site")}} {
		var refusal *output.Refusal
		err := output.CheckPlace(c[0], c[1])
		if err == nil || errors.As(err, &refusal) || !strings.Contains(err.Error(), "cannot follow "+loop) {
			t.Errorf("%s for %s: %v", c[1], c[0], err)
		}
	}
}

func TestCheckPlaceOfAWholeDisk(t *testing.T) {
	_, shop := shopAt(t)
	root := filepath.VolumeName(shop) + string(filepath.Separator)
	wantRefusal(t, output.CheckPlace(shop, root), "whole disk")
}

func TestCheckPlaceWithoutAShop(t *testing.T) {
	top, shop := shopAt(t)
	for _, bad := range []string{filepath.Join(top, "none"), filepath.Join(shop, "shop.md")} {
		wantRefusal(t, output.CheckPlace(bad, filepath.Join(top, "site")), bad)
	}
}

func TestCheckPlaceOfRelativeNames(t *testing.T) {
	_, shop := shopAt(t)
	t.Chdir(shop)
	must(t, output.CheckPlace(".", "site"))
	wantRefusal(t, output.CheckPlace(".", "."), "shop folder")
	wantRefusal(t, output.CheckPlace(".", ".."), "home folder")
	wantRefusal(t, output.CheckPlace(".", "machines/harrow"), "machines")
}

func TestPlace(t *testing.T) {
	top, _ := shopAt(t)
	symlink(t, filepath.Join(top, "elsewhere"), filepath.Join(top, "way"))
	cases := map[string][2]string{
		"home/other":    {"home", "other"},
		"way":           {"", "elsewhere"},
		"way/site":      {"elsewhere", "site"},
		"not/there/yet": {"not/there", "yet"},
	}
	for out, want := range cases {
		parent, name, err := output.Place(filepath.Join(top, filepath.FromSlash(out)))
		must(t, err)
		if parent != filepath.Join(top, filepath.FromSlash(want[0])) || name != want[1] {
			t.Errorf("%s: got %s and %s", out, parent, name)
		}
	}
	var refusal *output.Refusal
	if _, _, err := output.Place(string(filepath.Separator)); !errors.As(err, &refusal) {
		t.Errorf("the root: %v", err)
	}
}
