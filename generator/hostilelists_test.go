package generator_test

import (
	"fmt"
	"regexp"
	"strings"
	"testing"

	"github.com/spf13/afero"

	"asleft/generator"
	"asleft/generator/logbook"
	"asleft/generator/portable"
)

// measuredFields are fields that hold a figure with a unit, or money.
var measuredFields = []struct{ file, path, unit string }{
	{logbook.FileEntry, "measured/value", " in"},
	{logbook.FileEntry, "measured/gauge", " in"},
	{logbook.FileEntry, "meter", " h"},
	{logbook.FileEntry, "meter_replaced/new", " h"},
	{logbook.FileEntry, "odometer", " mi"},
	{logbook.FileEntry, "parts/qty", " qt"},
	{logbook.FileEntry, "parts/each", ""},
	{logbook.FileEntry, "parts/tax", " %"},
	{logbook.FileEntry, "costs/amount", ""},
	{logbook.FileMachine, "engine/bore", " in"},
	{logbook.FileMachine, "asking", ""},
	{logbook.FileMachine, "limits/limit", " psi"},
	{logbook.FileShop, "altitude", " ft"},
	{logbook.FileShop, "labor_rate", ""},
}

// noFigures are what no figure is written as: those of other programs, other scripts,
// spreadsheets and shells.
var noFigures = []string{
	"1e308", "0x10", "0b1", "0o7", "1_000", "+-1", "--1", "1.2.3", "1,2,3", "1/0", "1/", "/2", "1//2", "1-1/0", "1/2/3", "NaN", "-Inf", "∞", "१२", "١٢", "１２", "²", "½½", "1½/2",
	"=1+1", "@1", "$(id)", "`id`", "%n%s", "1;2", "1 2", "1'000'000", "<b>1</b>", "1\\u00b12", "±1", "~", "about", "1 +/-", "1..2", ".", "-", "1e", "1.0.", "'1'", "1\u00ad0", "1\u200b0", strings.Repeat("9", 400), "0." + strings.Repeat("0", 400) + "1", "1/" + strings.Repeat("9", 60),
}

// noUnits are what no unit is, behind a figure that is one.
var noUnits = []string{"1 zz", "1 in in", "1 psi/", "1 /psi", "1 psi*psi*psi", "1 <i>in</i>", "1 \u0131n", "1 in\u200b", "1 in; rm", "1 ../in", "1 in=", "in", "1 " + strings.Repeat("in", 300)}

// noLimits are what no limit is.
var noLimits = []string{">= <= 60 psi", ">=", "60 psi to 40 psi", "60 psi to", "to 60 psi", "60 psi ± ", "> 60 psi > 50 psi", "=> 60 psi", ">= 60 psi or 70 psi", "60 psi to 40 V", "!= 3 psi", ">= 1/0 psi", ">= NaN psi", "60 .. 40 psi", ">= <b>60</b> psi", "10 psi +/- 200 V"}

// TestHostileFigures writes what is no figure into every kind of field that holds one.
func TestHostileFigures(t *testing.T) {
	t.Parallel()
	held := hostileCount{}
	try := func(area, file, path, value string) {
		at := spoiledFiles[file]
		f := logbook.Field{File: file, Path: path}
		s := spoiled{value: quotedYAML(value)}
		s.line = strings.ContainsAny(value, "\u00ad\u200b")
		front, line := spoiledFront(t, at.base, f, s)
		held.add(t, area, fmt.Sprintf("%s: %q", path, value), namedAt(t, spoiledShop(t, map[string]string{at.name: front}), at.name, line, path, s))
	}
	for _, f := range measuredFields {
		for _, figure := range noFigures {
			if f.path == "measured/gauge" && (figure == "±1" || figure == "+-1") {
				continue // so a gauge may be written
			}
			try("figures", f.file, f.path, figure+f.unit)
		}
		if f.unit != "" && f.path != "parts/tax" {
			for _, unit := range noUnits {
				try("units", f.file, f.path, unit)
			}
		}
	}
	for _, limit := range noLimits {
		try("limits", logbook.FileMachine, "limits/limit", limit)
	}
	held.want(t, 700)
}

// oddKeys are names of folders of machines, each refused or read under that very name.
var oddKeys = func() []string {
	keys := []string{"Harrow", "HARROW", "har row", "har_row", "-harrow", "harrow-", "har--row", ".harrow", "harrow.", "harrow ", " harrow", "h\u00e4rrow", "ha\u0308rrow", "\u043e", "\u0131", "\u212a", "\u017f", "\ufb01", "\u00df", "\u03c2", "a\u200bb", "a\u200db", "a\u00adb", "a\ufeffb", "a\u202eb", "a\u2066b", "a\u0301", "\u0301", "\U0001f527", "a\x1b[31m", "a\nb", "a\rb", "a\tb", "a\x7fb", "a\u0085b", "a\u2028b", "a\xffb", "a:b", "a*b", "a?b", "a|b", "a<b>", `a"b`, "a'b", "a`b", "a\\b", "a;b", "a&b", "a#b", "a%2fb", "%2e%2e", "a@b", "$(id)", "..a", "...", "~", "constructor", "__proto__", "machine.md", "index.html", strings.Repeat("a", 300), strings.Repeat("a-", 99) + "a"}
	for _, device := range []string{"con", "prn", "aux", "nul", "conin$", "conout$"} {
		keys = append(keys, device, strings.ToUpper(device), device+".txt", device+" ")
	}
	for _, of := range []string{"com", "lpt"} {
		for _, n := range []string{"0", "1", "2", "3", "4", "5", "6", "7", "8", "9", "\u00b9", "\u00b2", "\u00b3"} {
			keys = append(keys, of+n)
		}
	}
	return keys
}()

// TestHostileKeys names a machine's folder, a machine's old name, a donor, a defect and
// a sheet by each of them: it is a problem that names the file, or there is a page of
// that name and no other.
func TestHostileKeys(t *testing.T) {
	t.Parallel()
	held := hostileCount{}
	try := func(area, key string, with map[string]string, file string, must bool) {
		t.Helper()
		parent := afero.NewMemMapFs()
		_, r, err := generator.Writeup(spoiledShop(t, with), parent, "site", generator.Options{Today: "2026-11-25"})
		says, wrong := saidOf(r, err), ""
		if r != nil { // where a file stands is for whoever prints it to clean
			for _, p := range r.Problems {
				wrong += unprintable(p.Says + p.Mend)
			}
		}
		made, _ := afero.Exists(parent, "site")
		switch {
		case wrong != "":
		case says == "" && must:
			wrong = "it was taken as it is"
		case says == "":
			wrong = strayPages(t, parent, key)
		case made:
			wrong = "a site was made all the same"
		case !strings.Contains(says, file):
			wrong = "its file is not named: " + says
		}
		held.add(t, area, fmt.Sprintf("%.40q", key), wrong)
	}
	entry := spoiledFiles[logbook.FileEntry].name
	for _, key := range oddKeys {
		slug := regexp.MustCompile(`^[a-z0-9]+(-[a-z0-9]+)*$`).MatchString(strings.TrimSpace(key))
		name := slug && !portable.Device(key)
		if !strings.ContainsAny(key, "\\") {
			try("folders of machines", key, map[string]string{"machines/" + key + "/machine.md": "---\nname: N\narrived: 2026-03-01\n---\n"}, "machines/", false)
			try("files of entries", key, map[string]string{"machines/m/" + key + ".md": "---\ndate: 2026-03-02\ntitle: T\n---\n"}, "machines/m/", false)
		}
		quoted := fmt.Sprintf("%+q", key)
		if strings.Contains(quoted, `\x`) && !strings.Contains(quoted, `\x1b`) && !strings.Contains(quoted, `\x7f`) {
			continue // YAML has no bytes
		}
		try("old names of machines", key, map[string]string{"machines/m/machine.md": "---\nname: M\narrived: 2026-03-01\nwas: [" + quoted + "]\n---\n"}, "machines/m/machine.md", !name)
		try("donors", key, map[string]string{entry: "---\ndate: 2026-03-02\ntitle: T\nparts: [{part: p, source: salvaged, system: drive, from: " + quoted + "}]\n---\n"}, entry, true)
		try("keys of defects", key, map[string]string{entry: "---\ndate: 2026-03-02\ntitle: T\ndefects: [{key: " + quoted + ", defect: it leaks, system: drive}]\n---\n"}, entry, !slug)
		try("sheets", key, map[string]string{"machines/m/machine.md": "---\nname: M\narrived: 2026-03-01\nsheet: " + quoted + "\n---\n"}, "machines/m/machine.md", true)
	}
	held.want(t, 500)
}

// strayPages tells of a page that is not one of the shop's, or that is not safe.
func strayPages(t *testing.T, parent afero.Fs, key string) string {
	t.Helper()
	files, err := filesIn(parent)
	if err != nil {
		return err.Error()
	}
	for name, text := range files {
		if rest, of := strings.CutPrefix(name, "machines/"); of {
			folder, _, _ := strings.Cut(rest, "/")
			if folder != "m" && folder != "o" && folder != "index.html" && folder != key {
				return "there is a page of " + name
			}
		}
		if strings.HasSuffix(name, ".html") {
			checkSeen(t, name, text)
		}
	}
	return ""
}
