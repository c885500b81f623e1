package generator_test

import (
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"asleft/generator"
	"asleft/generator/catalog"
	"asleft/generator/handover"
	"asleft/generator/rooted"
)

// A diskCase is something in the shop folder that is no plain file.
type diskCase struct {
	name, does string // what is put there: "link NAME TARGET", "pipe NAME" or "folder NAME"
	problem    string // part of what is said of it; empty for a safe page
}

// diskCases: links that lead out or round in circles, pipes and folders where
// files should be. A link that stays inside is what a mechanic may use.
var diskCases = []diskCase{
	{"entry linked outside", "link machines/m/e.md ../../../secret.md", "cannot read machines/m/e.md"},
	{"entry linked to an absolute path", "link machines/m/e.md /etc/hostname", "cannot read machines/m/e.md"},
	{"entry linked to a device", "link machines/m/e.md /dev/zero", "cannot read machines/m/e.md"},
	{"entry linked to itself", "link machines/m/e.md e.md", "cannot read machines/m/e.md"},
	{"entry linked to nothing", "link machines/m/e.md nowhere.md", "cannot read machines/m/e.md"},
	{"entry that is a pipe", "pipe machines/m/e.md", "not an ordinary file"},
	{"entry linked to a pipe", "pipe machines/m/p; link machines/m/e.md p", "not an ordinary file"},
	{"entry that is a folder", "folder machines/m/e.md", ""},
	{"shop linked outside", "link shop.md ../secret.md", "cannot read shop.md"},
	{"shop that is a pipe", "pipe shop.md", "no shop.md"},
	{"machine linked outside", "link machines/m/machine.md ../../../secret.md", "cannot read machines/m/machine.md"},
	{"machine that is a pipe", "pipe machines/m/machine.md", "not an ordinary file"},
	{"folder of machines linked outside", "link machines ../outside", "cannot look at the folder machines"},
	{"folder of a machine linked to the shop", "link machines/loop ..", "machines/loop"},
	{"folder of a machine linked to itself", "link machines/loop loop", "machines/loop"},
	{"photo linked outside", "link machines/m/photos/a.jpg ../../../../secret.md", "a.jpg"},
	{"photo linked to a device", "link machines/m/photos/a.jpg /dev/zero", "a.jpg"},
	{"photo that is a pipe", "pipe machines/m/photos/a.jpg", "a pipe or a device and not a file"},
	{"photo that is a folder", "folder machines/m/photos/a.jpg", "there is no photo"},
	{"photo linked to itself", "link machines/m/photos/a.jpg a.jpg", "a.jpg"},
	{"photo linked inside", "link machines/m/photos/a.jpg ../b.jpg", ""},
	{"photos linked outside", "link machines/m/photos ../../../outside", "cannot look at the folder machines/m/photos"},
	{"sheet that is a pipe", "pipe sheets/x.md", "not an ordinary file"},
	{"sheets linked outside", "link sheets ../outside", "cannot look at the folder sheets"},
	{"theme linked outside", "link themes/own ../../outside", "theme"},
	{"style that is a pipe", "folder themes/own; pipe themes/own/style.css; pipe themes/own/x.html", "a pipe or a device"},
	{"theme with a link in it to the shop", "folder themes/own; link themes/own/style.css ../../shop.md", "themes/own/style.css: this is a link"},
	{"theme with a link in it to a device", "folder themes/own; link themes/own/style.css /dev/zero", "themes/own/style.css: this is a link"},
	{"theme linked inside of the shop", "link themes/own ../machines", "themes/own: this is a link"},
	{"theme with a folder for a template", "folder themes/own; folder themes/own/x.html; link themes/own/style.css x", "theme"},
	{"sealed report that is a pipe", "pipe handovers/x.json", "a pipe or a device"},
	{"last sealed that is a pipe", "pipe handovers/last-sealed.json", "a pipe or a device"},
	{"key that is a pipe", "pipe handovers/shop-key.pub", "a pipe or a device"},
}

// TestHostileDisk reads shops on a real disk with links, pipes and devices in
// place of files: none is waited for, none leads out of the shop.
func TestHostileDisk(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("Windows has no pipes in folders, and links need a right there")
	}
	if len(diskCases) < 20 {
		t.Fatal("cases are missing")
	}
	for _, c := range diskCases {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			within(t, patience, func() { c.judge(t) })
		})
	}
}

func (c diskCase) judge(t *testing.T) {
	top := t.TempDir()
	shop := filepath.Join(top, "shop")
	theme := ""
	if strings.Contains(c.name, "theme") || strings.Contains(c.name, "style") {
		theme = "theme: own\n"
	}
	const outside = "ZQXOUTSIDE"
	for name, data := range map[string]string{
		"secret.md": "---\ndate: 2026-03-02\ntitle: " + outside + "\nshop: " + outside + "\nname: " + outside + "\n---\n" + outside, "outside/style.css": outside, "outside/x.md": outside, "outside/a.jpg": outside,
		"shop/shop.md": "---\nshop: Plain\ncurrency: USD\n" + theme + "---\n", "shop/machines/m/machine.md": "---\nname: M\narrived: 2026-03-01\n---\n",
		"shop/machines/m/2026-03-02-a.md": "---\ndate: 2026-03-02\ntitle: T\nphotos: [{file: a.jpg, alt: x}]\n---\n", "shop/machines/m/photos/a.jpg": string(pictureOf(t, "jpeg", 64, 48)), "shop/machines/m/b.jpg": string(pictureOf(t, "jpeg", 60, 48)),
	} {
		file := filepath.Join(top, name)
		if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
			t.Error(err)
		}
		if err := os.WriteFile(file, []byte(data), 0o600); err != nil {
			t.Error(err)
		}
	}
	for step := range strings.SplitSeq(c.does, "; ") {
		place(t, shop, strings.Fields(step))
	}
	logs, err := rooted.Open(shop)
	if err != nil {
		t.Error(err)
		return
	}
	defer logs.Close()
	site := openDisk(t)
	_, r, err := generator.Writeup(logs, site, "site", generator.Options{})
	says := saidOf(r, err)
	if strings.Contains(says, outside) || c.problem == "" && says != "" || !strings.Contains(says, c.problem) {
		t.Errorf("want %q, got:\n%s", c.problem, says)
	}
	for name, data := range tree(t, site, "site") {
		if strings.Contains(data, outside) {
			t.Errorf("%s holds what lies outside", name)
		}
	}
	// What is wrong with the folder of sealed reports is told, not waited for.
	if _, err := handover.ReadChain(logs, catalog.English, ""); strings.Contains(c.does, "handovers") && err == nil {
		t.Error("the pipe among the sealed reports was passed over")
	}
}

// place puts a thing in the shop folder, in place of what is there.
func place(t *testing.T, shop string, do []string) {
	at := filepath.Join(shop, do[1])
	err := os.RemoveAll(at)
	if err == nil {
		err = os.MkdirAll(filepath.Dir(at), 0o755)
	}
	if err == nil {
		switch do[0] {
		case "link":
			err = os.Symlink(do[2], at)
		case "pipe":
			err = exec.Command("mkfifo", at).Run()
		case "folder":
			err = os.Mkdir(at, 0o755)
		}
	}
	if err != nil {
		t.Error(err)
	}
}
