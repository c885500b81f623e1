package logbook

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"unicode"

	"asleft/generator/catalog"
)

func firstHidden(text string) (at int, r rune) {
	for at, r := range hidden(text) {
		return at, r
	}
	return -1, 0
}

func TestHiddenCharacters(t *testing.T) {
	for text, want := range map[string]string{
		"Fern\u200bhollow":         "Fern[U+200B]hollow",
		"Har\u00adrow":             "Har[U+00AD]row",
		"Har\u200drow":             "Har[U+200D]row", // a joiner between Latin letters does nothing
		"Har\u200crow":             "Har[U+200C]row",
		"Harrow\u200e":             "Harrow[U+200E]",
		"\u200fHarrow":             "[U+200F]Harrow",
		"\u061cHarrow":             "[U+061C]Harrow",
		"A\ufe0fB":                 "A[U+FE0F]B",
		"7\u20607":                 "7[U+2060]7",
		"A\u3164":                  "A[U+3164]", // Hangul filler
		"A\u2800":                  "A[U+2800]", // Braille without a point
		"A\U000e0041":              "A[U+E0041]",
		"A\U000e0100":              "A[U+E0100]",
		"Motor \u2615\ufe0f\ufe0f": "Motor \u2615\ufe0f[U+FE0F]",
		"\u200b\u200b":             "[U+200B][U+200B]",
	} {
		if got := ShowHidden(text); got != want {
			t.Errorf("%+q is shown as %+q, want %+q", text, got, want)
		}
		if bare := WithoutHidden(text); bare != WithoutHidden(bare) || strings.Contains(ShowHidden(bare), "[U+") {
			t.Errorf("%+q without it is %+q", text, bare)
		}
		if at, r := firstHidden(text); at != strings.IndexByte(want, '[') || r == 0 {
			t.Errorf("%+q: %d, %U", text, at, r)
		}
	}
	// Written as people write: none of it is hidden. The Persian word and the ligature
	// of Devanagari are from memory.
	for _, text := range []string{
		"", "Harrow tiller", "Müller & Söhne", "N\u00famero 7 \u2116", "\u0645\u06cc\u200c\u062e\u0648\u0627\u0647\u0645", "\u0915\u094d\u200d\u0937",
		"Tom's \u2615\ufe0f", "\u2764\ufe0f\u200d\U0001f525", "\u845b\U000e0100\u98fe", "\u06dd\u0661", "\u4e2d\u3000\u6587", "a\u00a0b", "e\u0301",
	} {
		if at, r := firstHidden(text); at >= 0 {
			t.Errorf("%+q: %U at %d", text, r, at)
		}
		if got := ShowHidden(text); got != text {
			t.Errorf("%+q is shown as %+q", text, got)
		}
	}
	// The isolates that the program puts around a name are its own.
	if got := ShowHidden("\u2068\u05d0\u2069."); got != "\u2068\u05d0\u2069." {
		t.Errorf("got %+q", got)
	}
}

// Every character that Unicode says to show nothing for is found between letters.
func TestEveryIgnorableCharacterIsHidden(t *testing.T) {
	n := 0
	for r := rune(0); r <= unicode.MaxRune; r++ {
		shows := r >= 0xfff9 && r <= 0xfffb || r >= 0x13430 && r <= 0x13440 || unicode.Is(unicode.Prepended_Concatenation_Mark, r)
		if !unicode.In(r, unicode.Cf, unicode.Other_Default_Ignorable_Code_Point, unicode.Variation_Selector) || shows {
			continue
		}
		n++
		if at, got := firstHidden("a" + string(r) + "b"); at != 1 || got != r {
			t.Errorf("%U between letters: %U at %d", r, got, at)
		}
	}
	if n < 300 {
		t.Errorf("only %d of them were tried", n)
	}
}

// Names and places are refused with what nobody sees in them; every such field by its
// line.
func TestHiddenCharactersInNamesAndPlaces(t *testing.T) {
	for _, field := range []string{"shop", "place", "contact"} {
		text := "---\nshop: Test\ncurrency: USD\n---\n"
		line := "2"
		if field != "shop" {
			text, line = strings.Replace(text, "currency", field+": Test\ncurrency", 1), "3"
		}
		text = strings.Replace(text, field+": Te", field+": Te\u200b", 1)
		wantHidden(t, map[string]string{"shop.md": text, "machines/m/machine.md": "---\nname: M\narrived: 2026-01-01\n---\n"}, "shop.md:"+line+"="+field)
	}
	for _, field := range []string{"name", "maker", "model", "serial", "year"} {
		text, line := "---\nname: Test\narrived: 2026-01-01\n---\n", "2"
		if field != "name" {
			text, line = strings.Replace(text, "arrived", field+": Test\narrived", 1), "3"
		}
		text = strings.Replace(text, field+": Te", field+": Te\u200e", 1)
		wantHidden(t, map[string]string{"shop.md": "---\nshop: Test\ncurrency: USD\n---\n", "machines/m/machine.md": text}, "machines/m/machine.md:"+line+"="+field)
	}
}

func wantHidden(t *testing.T, files map[string]string, want string) {
	t.Helper()
	archive := ""
	for name, text := range files {
		archive += "-- " + name + " --\n" + text
	}
	_, problems := readAll(t, folder(t, archive), catalog.English)
	if len(problems) != 1 {
		t.Errorf("%s: %v", want, problems)
		return
	}
	p := problems[0]
	if got := fmt.Sprintf("%s:%d=%s", p.File, p.Line, p.Field); got != want || !strings.Contains(p.Says, "character 3 of this text") {
		t.Errorf("got %s: %s, want %s", got, p.Says, want)
	}
}

// What a thing is called has a letter or a digit that can be seen: signs and letters that
// show nothing would be told as a blank.
func TestANameIsSeen(t *testing.T) {
	fields := map[string]string{ // what stands where the name would
		"defects[0].defect": "defects: [{key: k, defect: %, system: engine, safety: no}]", "parts[0].part": "parts: [{part: %, source: new, each: 1.00}]",
		"changed[0].what": "changed: [{what: %, why: it had to be so}]", "measured[0].what": "measured: [{what: %, value: 3 psi}]",
		"checks[0].item": "checks: [{item: %, result: works, system: engine}]", "service[0].what": "service: [{what: %}]",
	}
	for text, seen := range map[string]bool{
		`"..."`: false, `"---"`: false, `"\u3164"`: false, `"\u2800"`: false, `"\u115f \u1160"`: false, `"\u200b"`: false, `"?!"`: false, `"\U0001f527"`: false, `"\u0301"`: false, `"\uffa0"`: false, `"\ue000"`: false,
		"x": true, `"3"`: true, `"... x"`: true, "\u0431": true, "\u5200": true, "\u00bd": true, "\u0663": true,
	} {
		for at, field := range fields {
			_, says := entry(t, strings.ReplaceAll(field, "%", text), "")
			bad := slices.ContainsFunc(says, func(s string) bool { return strings.Contains(s, at+"=name-unseen") })
			if bad == seen {
				t.Errorf("%s: %s of %s", text, says, field)
			}
		}
		for _, field := range []string{"missing: [%]", "missing: [{part: %}]", "attachments: [{name: %}]"} {
			_, problems := readAll(t, folder(t, shopFile+machineOf(strings.ReplaceAll(field, "%", text))), keysOnly)
			if bad := strings.Contains(strings.Join(said(problems, "machines/m/machine.md"), " "), "name-unseen"); bad == seen {
				t.Errorf("%s: %s of %s", text, said(problems, "machines/m/machine.md"), field)
			}
		}
	}
	_, problems := readAll(t, folder(t, strings.Replace(shopFile, "shop: Test shop", "shop: ...", 1)+strings.Replace(machineFile, "name: M", "name: \"!\"", 1)), keysOnly)
	same(t, said(problems, "shop.md"), "machines/m/machine.md:2:name=name-unseen", "2:shop=name-unseen")
}
