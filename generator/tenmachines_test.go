package generator_test

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode"

	"go.yaml.in/yaml/v4"

	"asleft/generator"
	"asleft/generator/testenv"
)

// tenMachines is a shop of ten machines of ten kinds, written as a home mechanic
// writes: by the way, with what was at hand, some of it years later.
const tenMachines = "../testdata/tenmachines/shop"

// TestTenMachines holds the condition report of each against the words that a
// person has read, slowly, as its buyer or owner would.
func TestTenMachines(t *testing.T) {
	files := made(t, tenMachines, generator.Options{})
	machines, err := os.ReadDir(tenMachines + "/machines")
	if err != nil || len(machines) != 10 {
		t.Fatalf("%d machines, %v", len(machines), err)
	}
	for _, m := range machines {
		t.Run(m.Name(), func(t *testing.T) {
			report := files["machines/"+m.Name()+"/condition/index.html"]
			testenv.Golden(t, "../testdata/tenmachines/golden/"+m.Name()+".txt", visible(t, report))
			if twice, _ := saidTwice(t, report); !slices.Equal(distinctOf(twice), twiceToday[m.Name()]) {
				t.Errorf("says twice: %q; known: %q", distinctOf(twice), twiceToday[m.Name()])
			}
			openDefectsStandInFront(t, tellOne(t, files, m.Name()))
			logs := logsOf(t, m.Name())
			noEngineWhereNone(t, visible(t, report), logs["machine.md"])
			for _, page := range []string{report, files["machines/"+m.Name()+"/index.html"]} {
				noSaleWhereNone(t, visible(t, page), logs["machine.md"])
				noPrivateWords(t, page, logs)
			}
		})
	}
}

// openDefectsStandInFront: what is still wrong stands on the front sheet in the log's
// own words.
func openDefectsStandInFront(t *testing.T, told tellings) {
	t.Helper()
	for _, s := range told.record.Subjects {
		if s.Kind == "defect" && s.Standing != "in order" && !strings.Contains(plainWords(told.front), plainWords(s.Name)) {
			t.Errorf("%s, %s, is not on the front sheet", s.Name, s.Standing)
		}
	}
}

// twiceToday are the sentences that stand twice in a report today. They are known to
// be too much; one that is mended goes off this list.
var twiceToday = map[string][]string{
	"fuse": {"This check is in the same entry as work there"},
}

func distinctOf(all []string) []string {
	all = slices.Clone(all)
	slices.Sort(all)
	return slices.Compact(all)
}

// ofAnEngine is what a report says of an engine in its own words.
var ofAnEngine = regexp.MustCompile(`[^.\n]*(the engine ran|work on the engine|on the engine since)[^.\n]*`)

func noEngineWhereNone(t *testing.T, text string, m map[string]any) {
	t.Helper()
	if m["engine"] != nil || m["engines"] != nil {
		return
	}
	if told := ofAnEngine.FindString(strings.ReplaceAll(text, "The engine", "the engine")); told != "" {
		t.Errorf("of a machine without an engine: %q", told)
	}
}

// ofASale is what only a machine has that is offered or sold.
var ofASale = regexp.MustCompile(`(?i)\b(buyers?|before you pay|asking|for sale|sold|as is)\b[^\n]*`)

func noSaleWhereNone(t *testing.T, text string, m map[string]any) {
	t.Helper()
	if stage := m["stage"]; stage != "keeping" && stage != "customer's" {
		return
	}
	if said := ofASale.FindString(text); said != "" {
		t.Errorf("%s, and yet: %s", m["stage"], said)
	}
}

// logsOf are the fields of a machine's files and, under "text", all that stands
// below them.
func logsOf(t *testing.T, machine string) map[string]map[string]any {
	t.Helper()
	all := map[string]map[string]any{"text": {}}
	names, err := filepath.Glob(filepath.Join(tenMachines, "machines", machine, "*.md"))
	if err != nil || len(names) < 5 {
		t.Fatalf("%d files of %s, %v", len(names), machine, err)
	}
	for _, name := range names {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		parts := strings.SplitN(string(data), "---\n", 3)
		fields := map[string]any{}
		if err := yaml.Unmarshal([]byte(parts[1]), &fields); err != nil {
			t.Fatal(name, err)
		}
		all[filepath.Base(name)], all["text"][name] = fields, parts[2]
	}
	return all
}

// noPrivateWords: no name of what is private stands on a page, unless the
// log says the same word where it is public.
func noPrivateWords(t *testing.T, page string, logs map[string]map[string]any) {
	t.Helper()
	var private, public strings.Builder
	for _, fields := range logs {
		for key, value := range fields {
			switch key {
			case "private", "owner", "bought":
				private.WriteString(fmt.Sprintln(value))
			case "sold":
				sold, _ := value.(map[string]any)
				private.WriteString(fmt.Sprintln(sold["buyer"]))
			default:
				public.WriteString(fmt.Sprintln(value))
			}
		}
	}
	secrets := 0
	for _, word := range strings.FieldsFunc(private.String(), func(r rune) bool { return !unicode.IsLetter(r) }) {
		if len(word) < 4 || !unicode.IsUpper([]rune(word)[0]) || strings.Contains(public.String(), word) {
			continue
		}
		secrets++
		if strings.Contains(page, word) {
			t.Errorf("the private word %s is on the page", word)
		}
	}
	if secrets == 0 {
		t.Errorf("the log has no private name: %s", private.String())
	}
}

// TestTenMachinesInTheFeed: a guessed date comes where its time is, not before all
// others, and is told to programs in a form that they know.
func TestTenMachinesInTheFeed(t *testing.T) {
	files := made(t, tenMachines, generator.Options{})
	var titles []string
	for _, m := range regexp.MustCompile(`<title>(.*?)</title>`).FindAllStringSubmatch(files["feed.xml"], -1) {
		titles = append(titles, m[1])
	}
	if titles[1] != "Caddy: Going over" || slices.Contains(titles[:10], "Caddy: Brakes") {
		t.Errorf("the feed begins with %q", titles[:4])
	}
	if strings.Contains(files["sitemap.xml"], "about") || !strings.Contains(files["sitemap.xml"], "<lastmod>2025-03</lastmod>") {
		t.Errorf("the sitemap has dates that no program reads:\n%s", files["sitemap.xml"])
	}
	if strings.Contains(files["feed.xml"], "is keeping") {
		t.Error("the feed says that a machine is keeping")
	}
}
