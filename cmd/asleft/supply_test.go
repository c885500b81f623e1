package main

import (
	"fmt"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"asleft/generator/testenv"
)

// A module is something of somebody else that the program is built from.
type module struct {
	version string
	texts   []string // its license files and notices
}

// systems are those that .ci/run builds the program for. What it is built from
// differs between them.
var systems = []string{"linux/amd64", "windows/amd64", "darwin/arm64"}

// linked are the modules whose packages stand in the program on any of the
// systems, by path, with every license file between each package's folder and
// the module's own. It asks the go command, which fetches what is not here.
func linked(t *testing.T) map[string]module {
	t.Helper()
	testenv.NeedsGo(t)
	const line = "{{with .Module}}{{if not .Main}}{{.Path}}\t{{.Version}}\t{{.Dir}}\t{{$.Dir}}{{end}}{{end}}"
	files := map[string]map[string]bool{} // module path -> its license files
	found := map[string]module{}
	for _, system := range systems {
		goos, goarch, _ := strings.Cut(system, "/")
		list := exec.Command("go", "list", "-deps", "-f", line, ".")
		list.Env = append(os.Environ(), "GOOS="+goos, "GOARCH="+goarch, "CGO_ENABLED=0")
		var said strings.Builder
		list.Stderr = &said
		out, err := list.Output()
		if err != nil {
			t.Fatalf("go list for %s: %v\n%s", system, err, said.String())
		}
		for row := range strings.Lines(string(out)) {
			field := strings.Split(strings.TrimSpace(row), "\t")
			if len(field) != 4 {
				continue // a package of ours or of Go itself
			}
			path, top, dir := field[0], field[2], field[3]
			found[path] = module{version: field[1]}
			if files[path] == nil {
				files[path] = map[string]bool{}
			}
			for ; strings.HasPrefix(dir, top); dir = filepath.Dir(dir) {
				for _, file := range licenseFiles(t, dir) {
					files[path][file] = true
				}
			}
			// The fonts' license stands beside their sources, not beside the
			// packages that hold their bytes.
			if path == "golang.org/x/image" {
				files[path][filepath.Join(top, "font", "gofont", "ttfs", "README")] = true
			}
		}
	}
	for path, m := range found {
		for _, file := range slices.Sorted(maps.Keys(files[path])) {
			text, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			m.texts = append(m.texts, string(text))
		}
		found[path] = m
	}
	if len(found) < 20 {
		t.Fatalf("only %d modules found", len(found))
	}
	return found
}

var licenseName = regexp.MustCompile(`(?i)^(licen[cs]e|copying|notice)`)

func licenseFiles(t *testing.T, dir string) []string {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var files []string
	for _, e := range entries {
		if !e.IsDir() && licenseName.MatchString(e.Name()) && !strings.HasSuffix(e.Name(), ".go") {
			files = append(files, filepath.Join(dir, e.Name()))
		}
	}
	return files
}

// allowed are the licenses that a module may have, by their SPDX names.
var allowed = []string{"Apache-2.0", "BSD-2-Clause", "BSD-3-Clause", "ISC", "MIT"}

// licenseOf is the SPDX name of the license that a text is or speaks of, told
// by words of the texts on the SPDX list (spdx.org/licenses); "" when it is
// none of these. .ci/supply holds the same table against another program's
// reading of the same files.
func licenseOf(text string) string {
	flat := strings.Join(strings.Fields(text), " ")
	has := func(part string) bool { return strings.Contains(flat, part) }
	switch {
	case has("GNU "), has("advertising materials"), has("Commons Clause"):
		return ""
	case has("Permission is hereby granted, free of charge, to any person"), has("covered by their original MIT license"):
		return "MIT"
	case has("Permission to use, copy, modify, and/or distribute this software for any purpose"):
		return "ISC"
	case has("Apache License") && has("Version 2.0"):
		return "Apache-2.0"
	case has("Redistributions in binary form must reproduce") && has("Neither the name"):
		return "BSD-3-Clause"
	case has("Redistributions in binary form must reproduce"):
		return "BSD-2-Clause"
	}
	return ""
}

// Each module of the program has its row in DEVELOPERS.md, with the license
// that its own files give; no row is left over, and no license is new to us.
func TestEveryModuleIsInTheTable(t *testing.T) {
	page, err := os.ReadFile("../../DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	rows := map[string]string{} // path -> licenses as written
	for _, m := range regexp.MustCompile(`(?m)^\| ([a-z0-9-]+\.[a-z0-9.-]+/\S+) \| ([^|]+) \| `).FindAllStringSubmatch(string(page), -1) {
		rows[m[1]] = m[2]
	}
	modules := linked(t)
	for _, path := range slices.Sorted(maps.Keys(modules)) {
		var licenses []string
		for _, text := range modules[path].texts {
			name := licenseOf(text)
			if !slices.Contains(allowed, name) {
				t.Errorf("%s: a license file with none of %s:\n%.300s", path, strings.Join(allowed, ", "), text)
			}
			if !slices.Contains(licenses, name) {
				licenses = append(licenses, name)
			}
		}
		slices.Sort(licenses)
		want := strings.Join(licenses, ", ")
		switch row, there := rows[path]; {
		case want == "":
			t.Errorf("%s has no license file", path)
		case !there:
			t.Errorf("%s is in the program and not in the tables of DEVELOPERS.md; its license is %s", path, want)
		case row != want:
			t.Errorf("DEVELOPERS.md says that %s is under %s; its files say %s", path, row, want)
		}
	}
	for path := range rows {
		if _, there := modules[path]; !there {
			t.Errorf("DEVELOPERS.md has a row for %s, which is not in the program", path)
		}
	}
}

// floors are versions that go.mod must not fall below. What asks for these
// modules asks for versions of 2017 to 2019; advisories on reading hostile
// TIFF and YAML are against those (from memory: the data cannot be reached
// from where CI runs).
var floors = map[string]string{
	"golang.org/x/image":         "v0.47.0",
	"gopkg.in/yaml.v2":           "v2.4.0",
	"github.com/BurntSushi/toml": "v1.5.0",
}

func TestModulesAreAboveTheirFloors(t *testing.T) {
	modules := linked(t)
	for path, floor := range floors {
		m, there := modules[path]
		if !there {
			t.Errorf("%s is no longer in the program; take its floor out", path)
			continue
		}
		if slices.Compare(number(t, m.version), number(t, floor)) < 0 {
			t.Errorf("%s is at %s; go.mod must hold it at %s or above", path, m.version, floor)
		}
	}
}

// number is the three parts of a version, without what may follow them.
func number(t *testing.T, version string) []int {
	t.Helper()
	parts := make([]int, 3)
	if _, err := fmt.Sscanf(version, "v%d.%d.%d", &parts[0], &parts[1], &parts[2]); err != nil {
		t.Fatalf("version %q: %v", version, err)
	}
	return parts
}
