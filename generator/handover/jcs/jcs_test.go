package jcs

import (
	"bufio"
	"encoding/hex"
	"encoding/json"
	"math"
	"os"
	"reflect"
	"strconv"
	"strings"
	"testing"
)

// The files of testdata are the samples that RFC 8785 prints: values.json with
// values.hex (sections 3.2.2 and 3.2.4), order.json (section 3.2.3) and
// numbers.txt (appendix B). They were typed in from memory.

func TestSampleOfRFC8785(t *testing.T) {
	got, err := Transform(file(t, "values.json"))
	if err != nil {
		t.Fatal(err)
	}
	want, err := hex.DecodeString(strings.Join(strings.Fields(string(file(t, "values.hex"))), ""))
	if err != nil || len(want) == 0 {
		t.Fatalf("the sample cannot be read: %v", err)
	}
	if string(got) != string(want) {
		t.Errorf("got  %s\nwant %s", got, want)
	}
}

func TestOrderOfRFC8785(t *testing.T) {
	got, err := Transform(file(t, "order.json"))
	if err != nil {
		t.Fatal(err)
	}
	want := []string{
		"Carriage Return", "One", "Control", "Latin Small Letter O With Diaeresis",
		"Euro Sign", "Emoji: Grinning Face", "Hebrew Letter Dalet With Dagesh",
	}
	at := -1
	for _, name := range want {
		next := strings.Index(string(got), name)
		if next <= at {
			t.Errorf("%s is not in its place: %s", name, got)
		}
		at = next
	}
}

func TestNumbersOfRFC8785(t *testing.T) {
	lines := bufio.NewScanner(strings.NewReader(string(file(t, "numbers.txt"))))
	n := 0
	for ; lines.Scan(); n++ {
		bits, want, _ := strings.Cut(lines.Text(), " ")
		u, err := strconv.ParseUint(bits, 16, 64)
		if err != nil {
			t.Fatal(err)
		}
		got, err := Number(math.Float64frombits(u))
		if (err != nil) != (want == "error") || err == nil && got != want {
			t.Errorf("%s: got %s, %v; want %s", bits, got, err, want)
		}
	}
	if n != 26 {
		t.Fatalf("%d numbers, want 26", n)
	}
}

func TestTransform(t *testing.T) {
	for in, want := range map[string]string{
		` { "b" : [ ] , "a" : { } } `: `{"a":{},"b":[]}`,
		`"\ud834\udd1e </script>"`:    `"𝄞 </script>"`,
		`"\u001f\u007f\b\t\n\f\r"`:    "\"\\u001f\x7f\\b\\t\\n\\f\\r\"",
		`[-0, 0.0, 1.0, 100e-2, 10]`:  `[0,0,1,1,10]`,
		`{"aa":1,"a":2,"":3}`:         `{"":3,"a":2,"aa":1}`,
		`"é e` + "\u0301" + `"`:       `"é e` + "\u0301" + `"`, // never normalized
	} {
		got, err := Transform([]byte(in))
		if err != nil || string(got) != want {
			t.Errorf("%s: got %s, %v; want %s", in, got, err, want)
		}
	}
}

func TestRefusals(t *testing.T) {
	for _, in := range []string{
		"", " ", "{", "[", `"`, `"\`, `"\u12"`, `{"a":1,"a":2}`, `{"a":1,"\u0061":2}`, `"\ud800"`, `"\ud800\u0041"`, `"\udc00\ud800"`,
		"\"\xff\"", "\"a\nb\"", `"\x"`, `"\u+123"`, "01", "+1", ".5", "1.", "1e", "1e999", "-", "NaN", "nul", "tru", "1 2", `[1,]`, `{"a":1,}`, `{a:1}`, `{"a" 1}`, `[1 2]`,
		"\ufeff1", strings.Repeat("[", 1000) + strings.Repeat("]", 1000),
	} {
		if got, err := Transform([]byte(in)); err == nil {
			t.Errorf("%q was read as %s", in, got)
		}
	}
	if _, err := Encode(map[string]any{"a": 1}); err == nil {
		t.Error("an int was written")
	}
	if _, err := Encode("\xff"); err == nil {
		t.Error("a text that is not UTF-8 was written")
	}
}

// FuzzTransform holds Parse against encoding/json: what is read is read alike,
// and the canonical form is one (it transforms into itself).
func FuzzTransform(f *testing.F) {
	for _, name := range []string{"values.json", "order.json"} {
		f.Add(file(f, name))
	}
	f.Add([]byte(`{"a":[1,{"b":null}],"c":"\ud83d\ude00"}`))
	f.Fuzz(func(t *testing.T, text []byte) {
		v, err := Parse(text)
		if err != nil {
			return
		}
		var other any
		if err := json.Unmarshal(text, &other); err != nil || !reflect.DeepEqual(v, other) {
			t.Fatalf("%q: read as %#v, encoding/json: %#v, %v", text, v, other, err)
		}
		once, err := Encode(v)
		if err != nil {
			t.Fatal(err)
		}
		twice, err := Transform(once)
		if err != nil || string(once) != string(twice) {
			t.Fatalf("%q becomes %q, then %q, %v", text, once, twice, err)
		}
	})
}

func file(t testing.TB, name string) []byte {
	t.Helper()
	data, err := os.ReadFile("testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	return data
}
