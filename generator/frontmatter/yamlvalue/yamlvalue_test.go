package yamlvalue_test

import (
	"strings"
	"testing"

	"go.yaml.in/yaml/v4"
	yaml2 "gopkg.in/yaml.v2"
	"pgregory.net/rapid"

	"asleft/generator/frontmatter/yamlvalue"
)

// Written as a person would: the value in its column, for each of the ways.
func TestWays(t *testing.T) {
	for _, tc := range []struct{ in, text, value, written string }{
		{"", "", "", ""},
		{"new belt", "new belt", "new belt", "new belt"},
		{" new belt\n", "new belt", "new belt", "new belt"},
		{"0.011 in", "0.011 in", "0.011 in", "0.011 in"},
		{"14.25", `"14.25"`, "14.25", "14.25"},
		{"007", `"007"`, `"007"`, `"007"`},
		{"2026-03-02", `"2026-03-02"`, "2026-03-02", "2026-03-02"},
		{"2026-03-02 10:00", `"2026-03-02 10:00"`, `"2026-03-02 10:00"`, `"2026-03-02 10:00"`},
		{"2:30", `"2:30"`, `"2:30"`, `"2:30"`},
		{"0x1f", `"0x1f"`, `"0x1f"`, `"0x1f"`},
		{"1e3", `"1e3"`, `"1e3"`, `"1e3"`},
		{"yes", `"yes"`, `"yes"`, "yes"},
		{"No", `"No"`, `"No"`, `"No"`},
		{"~", `"~"`, `"~"`, `"~"`},
		{"null", `"null"`, `"null"`, `"null"`},
		{"a: b", `"a: b"`, `"a: b"`, `"a: b"`},
		{"a #b", `"a #b"`, `"a #b"`, `"a #b"`},
		{"a, b", `"a, b"`, `"a, b"`, `"a, b"`},
		{`5" pipe \ tee`, `"5\" pipe \\ tee"`, `"5\" pipe \\ tee"`, `"5\" pipe \\ tee"`},
		{"one\r\ntwo\tthree", `"one\ntwo\tthree"`, `"one\ntwo\tthree"`, `"one\ntwo\tthree"`},
		{"\ufeffyes\u202e", `"yes"`, `"yes"`, "yes"},
	} {
		if got := yamlvalue.Text(tc.in); got != tc.text {
			t.Errorf("Text(%q): got %s, want %s", tc.in, got, tc.text)
		}
		if got := yamlvalue.Value(tc.in); got != tc.value {
			t.Errorf("Value(%q): got %s, want %s", tc.in, got, tc.value)
		}
		if got := yamlvalue.Written(tc.in); got != tc.written {
			t.Errorf("Written(%q): got %s, want %s", tc.in, got, tc.written)
		}
	}
}

// What YAML 1.1 takes for a truth, for nothing or for a number stands in quotes
// (its types bool, null and float, yaml.org/type).
func TestWordsOfYAML(t *testing.T) {
	for word := range strings.FieldsSeq("y n yes no on off true false null nan inf Y NO On TRUE Null NaN") {
		if got, want := yamlvalue.Text(word), `"`+word+`"`; got != want {
			t.Errorf("got %s, want %s", got, want)
		}
	}
	for word := range strings.FieldsSeq("yess in oft nul 9z z9 a0") {
		if got := yamlvalue.Text(word); got != word {
			t.Errorf("got %s, want %s", got, word)
		}
	}
}

func TestTidy(t *testing.T) {
	for _, tc := range []struct{ in, want string }{
		{"a\r\nb\rc\u0085d\u2028e\u2029f", "a\nb\nc\nd\ne\nf"},
		{"a\x00\x1fb\x7f\u0080\u0084\u0086\u009fc\u00a0", "abc\u00a0"},
		{"a\u2029b\u202a\u202ec\u202fd", "a\nbc\u202fd"},
		{"a\u2065b\u2066\u2069c\u206ad", "a\u2065bc\u206ad"},
		{"a\ufeff\ufffe\uffffb\xff\xfec", "ab\uFFFDc"},
		{"~ \t", "~ \t"},
	} {
		if got := yamlvalue.Tidy(tc.in); got != tc.want {
			t.Errorf("Tidy(%q): got %q, want %q", tc.in, got, tc.want)
		}
	}
}

func TestSeveralAtOnce(t *testing.T) {
	for _, tc := range []struct{ got, want string }{
		{yamlvalue.List([]string{"a", "", "b, c"}), `[a, "b, c"]`},
		{yamlvalue.List([]string{"", " "}), ""},
		{yamlvalue.ListOf([]string{"4.5", "yes"}, yamlvalue.Written), "[4.5, yes]"},
		{yamlvalue.Flow("key", "belt", "how", "", "of", yamlvalue.Text("x: y")), `{key: belt, of: "x: y"}`},
		{yamlvalue.Flow(), "{}"},
		{yamlvalue.Yes(true) + "/" + yamlvalue.Yes(false), "yes/"},
		{yamlvalue.Answer(" no "), "no"},
		{yamlvalue.Answer("No"), `"No"`},
		{yamlvalue.Block("one line"), "one line"},
		{yamlvalue.Block("one\n\ntwo"), "|\n  one\n\n  two"},
		{yamlvalue.Block("one\n---\ntwo"), `"one\n---\ntwo"`},
		{yamlvalue.Block("one\n two"), `"one\n two"`},
		{yamlvalue.Quoted(" a "), `"a"`},
	} {
		if tc.got != tc.want {
			t.Errorf("got %s, want %s", tc.got, tc.want)
		}
	}
}

// A reader of YAML 1.2 (go.yaml.in/yaml/v4) and one of 1.1 (gopkg.in/yaml.v2) take
// each text for that very text, on a line of its own and between brackets.
func TestReadersTakeATextForATextItself(t *testing.T) {
	texts := rapid.OneOf(
		rapid.SampledFrom([]string{"yes", "on", "NO", "null", "~", "1_000", "0b1", "0o7", "1:30", "+1", ".5", ".inf", "-.INF", "NaN", "2026-03-02", "=", "<<", "- a", "? a", "|", ">", "&a", "*a", "!a", "%a", "@a", "`a"}),
		rapid.StringOf(rapid.SampledFrom([]rune("ab 10:#-'\"\\\n\t,[]{}|>?&*!%@`~._+eExXoO=<é漢\u00a0\u2028"))), rapid.String())
	rapid.Check(t, func(r *rapid.T) {
		s := texts.Draw(r, "text")
		want := strings.TrimSpace(yamlvalue.Tidy(s))
		if want == "" {
			return
		}
		for _, file := range []string{"k: " + yamlvalue.Text(s) + "\n", "k: " + yamlvalue.Quoted(s) + "\n", "k: " + yamlvalue.Block(s) + "\n", yamlvalue.Flow("k", yamlvalue.Text(s)) + "\n"} {
			for name, read := range map[string]func([]byte, any) error{
				"yaml/v4": func(b []byte, into any) error { return yaml.Load(b, into) },
				"yaml.v2": func(b []byte, into any) error { return yaml2.Unmarshal(b, into) },
			} {
				got := map[string]any{}
				if err := read([]byte(file), &got); err != nil || strings.TrimSpace(textOf(got["k"])) != want {
					r.Fatalf("%s reads %q in %q, %v; want %q", name, got["k"], file, err, want)
				}
			}
		}
	})
}

// textOf is a value that a reader took for a text; nothing where it took it for
// anything else.
func textOf(v any) string {
	s, _ := v.(string)
	return s
}
