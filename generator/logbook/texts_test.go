package logbook

import (
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"asleft/generator/catalog"
)

// jargon is what a mechanic should not have to know.
var jargon = regexp.MustCompile(`(?i)\b(yaml|json|parse|parser|parsing|string|strings|integer|int|float|boolean|bool|null|nil|array|struct|mapping|sequence|scalar|token|node|alias|anchor|syntax|invalid|error|unmarshal|decode|regex|identifier|delimiter|front ?matter|key-value|enum|byte|bytes)\b|%[svdq]`)

// Each problem and each mending is one line that follows a file and a line
// number: no capital at its start, no period at its end, nothing but its own
// words and at most two sentences' worth of them.
func TestProblemTexts(t *testing.T) {
	source, err := os.ReadFile("../catalog/en_logbook.go")
	if err != nil {
		t.Fatal(err)
	}
	found := regexp.MustCompile(`"((?:problem|number)\.[a-z0-9.-]+)":`).FindAllStringSubmatch(string(source), -1)
	if len(found) < 150 {
		t.Fatalf("only %d texts", len(found))
	}
	for _, m := range found {
		key, text := m[1], catalog.English.Sentences[m[1]]
		first, _ := utf8.DecodeRuneInString(text)
		switch {
		case text == "":
			t.Errorf("%s is empty", key)
		case text != strings.TrimSpace(text) || strings.Contains(text, "  ") || strings.Contains(text, "\n"):
			t.Errorf("%s has spaces that are not needed: %q", key, text)
		case unicode.IsUpper(first):
			t.Errorf("%s begins with a capital: %s", key, text)
		case strings.ContainsAny(text[len(text)-1:], ".!,;:"):
			t.Errorf("%s ends in a stop: %s", key, text)
		case len(strings.Fields(text)) > 24:
			t.Errorf("%s takes %d words: %s", key, len(strings.Fields(text)), text)
		case jargon.MatchString(text):
			t.Errorf("%s says %q: %s", key, jargon.FindString(text), text)
		case strings.Count(text, "(") != strings.Count(text, ")") || strings.Count(text, `"`)%2 != 0:
			t.Errorf("%s has a bracket or a quote too many: %s", key, text)
		}
		if !strings.HasSuffix(key, ".mend") && strings.HasPrefix(key, "problem.") && catalog.English.Sentences[key+".mend"] == "" {
			t.Errorf("%s does not say how to mend it", key)
		}
	}
}

// What a sentence has a place for is given to it: no brace is left in any
// problem of the whole shop of mistakes and of the others.
func TestNoPlaceIsLeftOpen(t *testing.T) {
	places := regexp.MustCompile(`\{[a-z]+\}`)
	for key, archive := range rest {
		_, problems := readAll(t, folder(t, archive), nil)
		if len(problems) == 0 {
			t.Errorf("%s: no problem", key)
		}
		for _, p := range problems {
			if left := places.FindString(p.Says + p.Mend); left != "" && !slices.Contains([]string{"{date}"}, left) {
				t.Errorf("%s: %s\n    %s", key, p, p.Mend)
			}
		}
	}
	golden, err := os.ReadFile(mistakes + "/problems.golden")
	if err != nil {
		t.Fatal(err)
	}
	if left := places.FindString(string(golden)); left != "" {
		t.Errorf("the golden file has %s in it", left)
	}
}
