package logbook

import (
	"maps"
	"slices"
	"strings"
	"testing"

	"asleft/generator/catalog"
)

// The list of fields is that of the reader, which tells it of itself: at each place a
// field that nobody knows is told with those that are known there.
func TestFieldsAreThoseOfTheReader(t *testing.T) {
	odd := func(file string) string {
		var b strings.Builder
		b.WriteString("nobodys: 1\n")
		groups := map[string]bool{}
		for _, f := range Fields {
			if parent, _, nested := strings.Cut(f.Path, "/"); f.File == file && nested && !groups[parent] {
				groups[parent] = true
				open, end := "{", "}"
				if f := fieldOf(t, file, parent); strings.HasPrefix(f.Example, "[") {
					open, end = "[{", "}]"
				}
				if parent == "parts" {
					open += "core: {nobodys: 1}, "
				}
				b.WriteString(parent + ": " + open + "nobodys: 1" + end + "\n")
			}
		}
		return b.String()
	}
	files := "-- shop.md --\n---\nshop: S\ncurrency: USD\n" + odd(FileShop) + "---\n" +
		"-- machines/m/machine.md --\n---\nname: M\narrived: 2026-01-01\n" + odd(FileMachine) + "---\n" +
		entryFile("e", odd(FileEntry), "") + "-- sheets/s.md --\n---\nsheet: s\n" + odd(FileSheet) + "---\n"
	_, problems := readAll(t, folder(t, files), nil)
	read := map[string]bool{}
	for _, p := range problems {
		at, isOdd := strings.CutSuffix(p.Field, "nobodys")
		_, known, lists := strings.Cut(p.Mend, "the fields here are ")
		if !isOdd || !lists {
			continue
		}
		file := map[string]string{"shop.md": FileShop, "machines/m/machine.md": FileMachine, "machines/m/e.md": FileEntry, "sheets/s.md": FileSheet}[p.File]
		for name := range strings.SplitSeq(known, ", ") {
			read[file+" "+strings.NewReplacer("[0]", "", ".", "/").Replace(at)+name] = true
		}
	}
	listed := map[string]bool{}
	for _, f := range Fields {
		if listed[f.File+" "+f.Path] {
			t.Errorf("%s of %s stands twice", f.Path, f.File)
		}
		listed[f.File+" "+f.Path] = true
	}
	for _, name := range slices.Sorted(maps.Keys(read)) {
		if !listed[name] {
			t.Errorf("the list lacks %s", name)
		}
	}
	for _, name := range slices.Sorted(maps.Keys(listed)) {
		if !read[name] {
			t.Errorf("the reader does not know %s", name)
		}
	}
}

func fieldOf(t *testing.T, file, path string) Field {
	t.Helper()
	i := slices.IndexFunc(Fields, func(f Field) bool { return f.File == file && f.Path == path })
	if i < 0 {
		t.Fatalf("%s of %s is not listed before what stands in it", path, file)
	}
	return Fields[i]
}

// All examples together are a shop that the reader has nothing against, each stands
// as it is in that of the field that it is part of, and each is explained.
func TestFieldExamples(t *testing.T) {
	lines := map[string]string{}
	for _, f := range Fields {
		word := map[string]string{FileShop: "shop", FileMachine: "machine", FileEntry: "entry", FileSheet: "sheet"}[f.File]
		if says := catalog.English.Say("field." + word + "." + strings.ReplaceAll(f.Path, "/", ".")); says == "" || !strings.HasSuffix(says, ".") {
			t.Errorf("%s of %s is explained as %q", f.Path, f.File, says)
		}
		if i := strings.LastIndex(f.Path, "/"); i >= 0 {
			if whole := fieldOf(t, f.File, f.Path[:i]); !strings.Contains(whole.Example, f.Path[i+1:]+": "+f.Example) {
				t.Errorf("%s of %s is %q, which does not stand in %q", f.Path, f.File, f.Example, whole.Example)
			}
			continue
		}
		lines[f.File] += f.Path + ": " + f.Example + "\n"
	}
	// The machine is sold, which its stage has to say.
	lines[FileMachine] = strings.Replace(lines[FileMachine], "stage: for sale", "stage: sold", 1)
	before := "date: 2026-03-01\ntitle: Before\ndefects: [{key: grip, defect: grip torn, system: controls, safety: no}, {key: lamp, defect: lamp dim, system: electrical, safety: no}]\n" +
		"parts: [{part: new lamp, source: new, system: electrical}]\nchanged: [{key: reverse, what: reverse is blocked off, why: a gear is broken, system: drive, safety: no}]\nchecks: [{item: the bell rings, result: works, system: controls, safety: no}]\n"
	_, problems := readAll(t, folder(t, "-- shop.md --\n---\n"+lines[FileShop]+"---\n-- machines/harrow/machine.md --\n---\n"+lines[FileMachine]+"---\n"+
		"-- machines/harrow/a.md --\n---\n"+before+"---\n-- machines/harrow/b.md --\n---\n"+lines[FileEntry]+"---\n-- machines/harrow/photos/seal.jpg --\nx\n"+
		"-- machines/heron/machine.md --\n---\nname: Heron\narrived: 2026-01-01\nstage: parted out\n---\n-- sheets/press.md --\n---\n"+lines[FileSheet]+"---\n"), nil)
	for _, p := range problems {
		t.Errorf("%s (%s)", p, p.Mend)
	}
}
