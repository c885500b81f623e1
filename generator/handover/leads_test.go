package handover

import (
	"bytes"
	"encoding/json"
	"path"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/spf13/afero"

	"asleft/generator/handover/jcs"
)

// What an altered file was is found by each thing that it still says, the surest first;
// what says none of them is not one of the shop's.
func TestAnAlteredFileIsFoundByWhatItStillSays(t *testing.T) {
	fs, _, made := small(t)
	c := chainOf(t, fs)
	first, second := made[0].Seal, made[1].Seal
	facts := func(key, day string) string {
		return openElement + `{"record":{"machine":{"key":"` + key + `"}},"sealed":"` + day + `"}` + closeElement
	}
	for about, tc := range map[string]struct {
		name, text string
		want       int // number of the report, 0 for none
	}{
		"nothing":                          {"x.html", "<p>A report</p>", 0},
		"the digest":                       {"x", "seal " + first.FactsDigest, 1},
		"the digest in a PDF's texts":      {"x", "%PDF-1.7 <" + utf16Hex(second.FactsDigest) + ">", 2},
		"the digest, a digit of it off":    {"x", "seal " + first.FactsDigest[1:], 0},
		"the code":                         {"x", "code " + second.Code, 2},
		"the code in groups":               {"x", "code " + GroupedCode(second.Code), 2},
		"the code in a PDF's texts":        {"x", "%PDF-1.7 <" + utf16Hex(GroupedCode(first.Code)) + ">", 1},
		"the code in other groups":         {"x", "code " + first.Code[:6] + " " + first.Code[6:], 0},
		"its name":                         {made[1].HTML, "nothing", 2},
		"its name in a folder":             {"/home/" + made[0].PDF, "nothing", 1},
		"the name of its folder":           {first.Code + "/x", "nothing", 0},
		"its name, the code cut off":       {"pump-2026-03-03-" + first.Code[:11] + ".html", "nothing", 0},
		"machine and day":                  {"x.html", facts("pump", "2026-03-04"), 2},
		"another machine":                  {"x.html", facts("saw", "2026-03-04"), 0},
		"another day":                      {"x.html", facts("pump", "2026-03-05"), 0},
		"no machine":                       {"x.html", openElement + `{"sealed":"2026-03-04"}` + closeElement, 0},
		"machine and day of a sealed file": {"x.json", `{"facts":{"record":{"machine":{"key":"pump"}},"sealed":"2026-03-03"}}`, 1},
		"the digest before the code":       {"x", first.Code + " " + second.FactsDigest, 2},
		"the code before the name":         {made[0].HTML, "code " + second.Code, 2},
		"the name before the day":          {made[0].HTML, facts("pump", "2026-03-04"), 1},
	} {
		v := c.VouchFile(tc.name, []byte(tc.text))
		switch {
		case tc.want == 0:
			if v.Answer != NotOurs || v.Link != nil || v.Held || v.Differs != nil {
				t.Errorf("%s: %+v", about, v)
			}
		case v.Answer != Altered || v.Link.Seal.Number != tc.want:
			t.Errorf("%s: %+v", about, v)
		}
	}
}

// Whether an altered file holds facts that can be read, and what differs in them.
func TestWhatAnAlteredFileHolds(t *testing.T) {
	fs, buyer, made := small(t)
	c := chainOf(t, fs)
	html, pdf, file := string(read(t, buyer, made[0].HTML)), string(read(t, buyer, made[0].PDF)), string(read(t, fs, made[0].File))
	facts := string(factsOf(t, made[0].Seal))
	for about, tc := range map[string]struct {
		text string
		held bool
		want []Difference
	}{
		"a page, nothing of its facts":      {html + " ", true, nil},
		"a page, one fact":                  {strings.ReplaceAll(html, `"as_of":"2026-03-02"`, `"as_of":"2026-03-01"`), true, []Difference{{"facts.as_of", `"2026-03-02"`, `"2026-03-01"`}}},
		"a page without facts":              {strings.Replace(html, openElement, "<div>", 1), false, nil},
		"a page of which facts are cut off": {html[:strings.Index(html, openElement)+len(openElement)+20], false, nil},
		"a page that never closes them":     {"<p>" + made[0].Seal.FactsDigest + openElement + facts, true, nil},
		"a print, one fact":                 {strings.Replace(pdf, `"as_of":"2026-03-02"`, `"as_of":"2026-03-01"`, 1), true, []Difference{{"facts.as_of", `"2026-03-02"`, `"2026-03-01"`}}},
		"a print without its facts":         {strings.Replace(pdf, "/EmbeddedFile", "/EmbeddedNone", 1)[:len(pdf)/4] + made[0].Seal.FactsDigest, false, nil},
		"a sealed file, a blank more":       {file + " ", true, nil},
		"a sealed file, blanks before":      {"\n  " + file, true, nil},
		"a sealed file, its number":         {strings.Replace(file, `"number":1`, `"number":7`, 1), true, []Difference{{"number", "1", "7"}}},
		"a sealed file, one fact": {strings.Replace(file, `"as_of":"2026-03-02"`, `"as_of":null`, 1), true, []Difference{
			{"facts.as_of", `"2026-03-02"`, "null"},
		}},
		"a sealed file that is cut off": {file[:len(file)-1], false, nil},
	} {
		v := c.VouchFile("x", []byte(tc.text))
		if v.Answer != Altered || v.Link.Seal.Number != 1 || v.Held != tc.held {
			t.Errorf("%s: %s, %v, held: %v", about, v.Answer, v.Link, v.Held)
		}
		if diff := cmp.Diff(tc.want, v.Differs); diff != "" {
			t.Errorf("%s (-want, +got):\n%s", about, diff)
		}
	}
}

// factsOf are the facts of a seal as they are sealed.
func factsOf(t *testing.T, s *Seal) []byte {
	t.Helper()
	facts, err := s.Facts.canonical()
	if err != nil {
		t.Fatal(err)
	}
	return facts
}

// Differences are named as the sealed file names them, each once, and what one side has
// alone is empty on the other.
func TestDifferences(t *testing.T) {
	for about, tc := range map[string]struct {
		sealed, here string
		want         []Difference
	}{
		"none":                  {`{"a":[1,"b",true,null,{}]}`, `{"a":[1,"b",true,null,{}]}`, nil},
		"texts":                 {`{"a":"b"}`, `{"a":"c"}`, []Difference{{"a", `"b"`, `"c"`}}},
		"numbers":               {`{"a":1}`, `{"a":2}`, []Difference{{"a", "1", "2"}}},
		"yes and no":            {`{"a":true}`, `{"a":false}`, []Difference{{"a", "true", "false"}}},
		"a number and a text":   {`{"a":1}`, `{"a":"1"}`, []Difference{{"a", "1", `"1"`}}},
		"null and a text":       {`{"a":null}`, `{"a":""}`, []Difference{{"a", "null", `""`}}},
		"null twice":            {`{"a":null}`, `{"a":null}`, nil},
		"one name less":         {`{"a":1,"b":2}`, `{"b":2}`, []Difference{{"a", "1", ""}}},
		"one name more":         {`{"b":2}`, `{"a":[1],"b":2}`, []Difference{{"a", "", "[1]"}}},
		"in the order of names": {`{"c":1,"a":1}`, `{"c":2,"a":2,"b":2}`, []Difference{{"a", "1", "2"}, {"b", "", "2"}, {"c", "1", "2"}}},
		"deep inside":           {`{"a":[{"b":1},{"b":2}]}`, `{"a":[{"b":1},{"b":3}]}`, []Difference{{"a[1].b", "2", "3"}}},
		"one item less":         {`{"a":[1,2]}`, `{"a":[1]}`, []Difference{{"a[1]", "2", ""}}},
		"two items more":        {`{"a":[]}`, `{"a":[1,2]}`, []Difference{{"a[0]", "", "1"}, {"a[1]", "", "2"}}},
		"a list and an object":  {`{"a":[1]}`, `{"a":{"b":1}}`, []Difference{{"a", "[1]", `{"b":1}`}}},
		"an object and a list":  {`{"a":{"b":1}}`, `{"a":[1]}`, []Difference{{"a", `{"b":1}`, "[1]"}}},
	} {
		sealed, err := jcs.Parse([]byte(tc.sealed))
		if err != nil {
			t.Fatal(err)
		}
		here, err := jcs.Parse([]byte(tc.here))
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(tc.want, differences("", sealed, here)); diff != "" {
			t.Errorf("%s (-want, +got):\n%s", about, diff)
		}
	}
}

// Of two links that a file leads to, the whole one is taken, wherever it stands; where
// none is whole, the first, and nothing is proven.
func TestAWholeLinkIsTakenBeforeOthers(t *testing.T) {
	fs, buyer, made := small(t)
	html := read(t, buyer, made[0].HTML)
	whole := read(t, fs, made[0].File)
	spoiled := bytes.Replace(whole, []byte("Seal leaks"), []byte("Seal LEAKS"), 1)
	for _, name := range []string{"0.json", "zzz.json"} {
		write(t, fs, path.Join(folderName, name), spoiled)
	}
	if v := chainOf(t, fs).VouchFile("x", html); v.Answer != Unaltered || v.Link.File != made[0].File {
		t.Errorf("beside the whole one: %+v", v)
	}
	if err := fs.Remove(made[0].File); err != nil {
		t.Fatal(err)
	}
	write(t, fs, path.Join(folderName, "zzz.json"), bytes.Replace(whole, []byte("Seal leaks"), []byte("Seal Leaks"), 1))
	for about, data := range map[string][]byte{"its own": html, "an altered one": append(html, ' ')} {
		if v := chainOf(t, fs).VouchFile("x", data); v.Answer != NoProof || v.Link.File != folderName+"/0.json" || v.Differs != nil {
			t.Errorf("%s, and no link is whole: %+v", about, v)
		}
	}
}

// A code is read as people type it, of ten digits up to all sixty-four.
func TestAsCode(t *testing.T) {
	for typed, want := range map[string]string{
		"0123456789": "0123456789", "012 345\u00a06789": "0123456789", "0123-4567-89AB": "0123456789ab",
		strings.Repeat("f", 64): strings.Repeat("f", 64), strings.Repeat("f", 65): "", "012345678": "", "012345678g": "", "": "", "0123456789\n": "",
	} {
		if code, ok := AsCode(typed); ok != (want != "") || ok && code != want {
			t.Errorf("%q: %q, %v", typed, code, ok)
		}
	}
}

// A sealed file that cannot be read is led to by the digits of its name alone: by a
// beginning of them, and by more of the digest than the name has. Nine are no digits of a
// report, and of a whole file the digest itself decides.
func TestCodesAndNames(t *testing.T) {
	for about, tc := range map[string]struct {
		name, code string
		whole      bool
		want       string
	}{
		"its digits":            {"pump-2026-03-03-0123456789abcdef", "0123456789abcdef", false, NoProof},
		"a beginning of them":   {"pump-2026-03-03-0123456789abcdef", "0123456789", false, NoProof},
		"more than the name":    {"pump-2026-03-03-0123456789abcdef", "0123456789abcdef01", false, NoProof},
		"others":                {"pump-2026-03-03-0123456789abcdef", "1123456789abcdef", false, ""},
		"ten digits in a name":  {"pump-2026-03-03-0123456789", "0123456789ab", false, NoProof},
		"nine digits in a name": {"pump-2026-03-03-012345678", "0123456789ab", false, ""},
		"a name without digits": {"mine", "0123456789", false, ""},
		"no hyphen in the name": {"0123456789", "0123456789", false, NoProof},
		"a whole file's name says no more than its digest": {"pump-2026-03-03-0123456789", "0123456789ab", true, ""},
		"a whole file's digest":                            {"pump-2026-03-03-0123456789", "ffff456789ab", true, Unaltered},
	} {
		l := &Link{File: path.Join(folderName, tc.name+".json"), flaw: unreadable}
		if tc.whole {
			l.Seal, l.flaw = &Seal{FactsDigest: "ffff456789abcd"}, noFlaw
		}
		got := ""
		for _, v := range (&Chain{Links: []*Link{l}}).VouchCode(tc.code) {
			got += v.Answer
		}
		if got != tc.want {
			t.Errorf("%s: %q, want %q", about, got, tc.want)
		}
	}
}

// What is wrong with a sealed file by itself: each thing that the digests cover, each
// that they do not, and the form.
func TestFlawsOfASealedFile(t *testing.T) {
	shop, settings := afero.NewMemMapFs(), afero.NewMemMapFs()
	if _, err := MakeKey(shop, settings); err != nil {
		t.Fatal(err)
	}
	signed := string(read(t, shop, smallIn(t, shop, afero.NewMemMapFs(), settings)[1].File))
	fs, _, made := small(t)
	plain := string(read(t, fs, made[1].File))
	again := func(was, now string) string {
		return string(closedAgain(t, []byte(strings.Replace(plain, was, now, 1))))
	}
	key := *mustOpen(t, signed).Key
	for about, tc := range map[string]struct {
		text string
		want flaw
	}{
		"whole":                        {plain, noFlaw},
		"whole and signed":             {signed, noFlaw},
		"empty":                        {"", unreadable},
		"no JSON":                      {"seal", unreadable},
		"a list":                       {"[]", unreadable},
		"no form":                      {"{}", unreadable},
		"another form":                 {again(sealFormat, "asleft sealed report 3"), unreadable},
		"a number as a text":           {again(`"number":2`, `"number":"2"`), unreadable},
		"a name in capitals":           {again(`"number":2`, `"NUMBER":2`), unreadable},
		"a name in capitals in a list": {again(`"subjects":[{`, `"subjects":[{"Key":"x",`), unreadable},
		"a blank more":                 {plain + " ", changedFile},
		"closed again":                 {again(`"number":2`, `"number":3`), noFlaw},
		"another number":               {strings.Replace(plain, `"number":2`, `"number":3`, 1), changedFile},
		"another fact":                 {strings.Replace(plain, "Seal leaks", "Seal LEAKS", 1), changedFile},
		"another digest":               {strings.Replace(plain, made[1].Seal.Digest, strings.Repeat("0", 64), 1), changedFile},
		"no signature":                 {strings.Replace(plain, `,"signature":null`, "", 1), changedFile},
		"a signature without a key":    {strings.Replace(plain, `"signature":null`, `"signature":"00"`, 1), badSignature},
		"a key without a signature":    {again(`"key":null`, `"key":"`+key+`"`), badSignature},
		"a signature of nobody":        {strings.Replace(signed, *mustOpen(t, signed).Signature, strings.Repeat("0", 128), 1), badSignature},
	} {
		s, flaw, err := opened([]byte(tc.text))
		if flaw != tc.want || (s == nil) != (flaw == unreadable) || (err != nil) != (flaw == unreadable) {
			t.Errorf("%s: %q, %v, %v", about, flaw, s != nil, err)
		}
	}
	// Facts of which the digest is right and the code is not, and the other way round, in a
	// file that is closed again around them; and one that is not.
	for field, value := range map[string]any{"code": "", "facts_digest": strings.Repeat("0", 64), "digest": ""} {
		var tree map[string]any
		if err := json.Unmarshal([]byte(plain), &tree); err != nil {
			t.Fatal(err)
		}
		tree[field] = value
		data, err := jcs.Encode(tree)
		if err != nil {
			t.Fatal(err)
		}
		if field != "digest" {
			data = underItsDigest(t, tree)
		}
		if s, flaw, err := opened(data); flaw != changedFile || s == nil || err != nil {
			t.Errorf("another %s: %q, %v", field, flaw, err)
		}
	}
}

func mustOpen(t *testing.T, text string) *Seal {
	t.Helper()
	s, flaw, err := opened([]byte(text))
	if err != nil || flaw != noFlaw {
		t.Fatalf("%s, %v", flaw, err)
	}
	return s
}

// Codes and names by the form, and of a digest that is too short to have them.
func TestCodesOfEachForm(t *testing.T) {
	const digest = "0123456789abcdef0123"
	for of, want := range map[[2]string]string{
		{sealFormat, digest}: "0123456789ab", {firstFormat, digest}: "0123456789",
		{sealFormat, digest[:12]}: "0123456789ab", {sealFormat, digest[:11]}: "",
		{firstFormat, digest[:10]}: "0123456789", {firstFormat, digest[:9]}: "", {sealFormat, ""}: "",
	} {
		if got := codeOf(of[0], of[1]); got != want {
			t.Errorf("%v: %q, want %q", of, got, want)
		}
	}
	for code, want := range map[string]string{"0123456789ab": "0123 4567 89ab", "0123456789": "0123456789", "": "", "0123456789abc": "0123456789abc"} {
		if got := GroupedCode(code); got != want {
			t.Errorf("%s: %q, want %q", code, got, want)
		}
	}
	for of, want := range map[[3]string]string{
		{sealFormat, digest, "0123456789ab"}: "pump-2026-03-03-0123456789abcdef",
		{sealFormat, "01", ""}:               "pump-2026-03-03-01",
		{firstFormat, digest, "0123456789"}:  "pump-2026-03-03-0123456789",
	} {
		s := &Seal{Format: of[0], FactsDigest: of[1], Code: of[2]}
		s.Facts.Record.Machine.Key, s.Facts.Sealed = "pump", "2026-03-03"
		if got := s.name(); got != want {
			t.Errorf("%v: %q, want %q", of, got, want)
		}
	}
}
