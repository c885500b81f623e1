package logbook

import (
	"fmt"
	"strings"
	"testing"
)

// one reads a shop whose only entry is these bytes, and gives back the entry
// and what was said about it.
func one(t testing.TB, data string) (*Entry, []string) {
	t.Helper()
	fs := folder(t, shopFile+machineFile)
	put(t, fs, "machines/m/e.md", data)
	shop, problems := readAll(t, fs, keysOnly)
	return machine(t, shop, "m").Entries[0], said(problems, "machines/m/e.md")
}

const sound = "---\ndate: 2026-02-01\ntitle: Täglich\nnumber: x\n---\n\nBody.\n"

func TestFrontMatter(t *testing.T) {
	whole := "---\ndate: 2026-02-01\ntitle: T\n---\n"
	for _, c := range []struct{ name, data, says, body string }{
		{"plain", whole + "\nBody.\n", "", "\nBody.\n"},
		{"byte-order mark", "\ufeff" + whole + "Body.\n", "", "Body.\n"},
		{"CRLF", strings.ReplaceAll(whole+"Body.\nMore.\n", "\n", "\r\n"), "", "Body.\nMore.\n"},
		{"CR alone", strings.ReplaceAll(whole+"Body.\n", "\n", "\r"), "", "Body.\n"},
		{"byte-order mark and CRLF", "\ufeff" + strings.ReplaceAll(whole+"Body.\n", "\n", "\r\n"), "", "Body.\n"},
		{"spaces after the hyphens", "---  \ndate: 2026-02-01\ntitle: T\n---\t\nBody.\n", "", "Body.\n"},
		{"a no-break space after the hyphens", "---\ndate: 2026-02-01\ntitle: T\n---\u00a0\nhours: 2\n---\n", "", "hours: 2\n---\n"},
		{"empty lines first", "\n \n" + whole + "Body.\n", "", "Body.\n"},
		{"closing line ends the file", strings.TrimSuffix(whole, "\n"), "", ""},
		{"rule in the body", whole + "One.\n\n---\n\nTwo.\n", "", "One.\n\n---\n\nTwo.\n"},
		{"indented rule in the body", whole + "One.\n\n  ---\n", "", "One.\n\n  ---\n"},
		{"tabs in the body", whole + "\tcode\n", "", "\tcode\n"},
		{"empty front matter", "---\n---\nBody.\n", "1:date=required 1:title=required", "Body.\n"},
		{"only comments", "---\n# nothing\n\n  # yet\n---\nBody.\n", "1:date=required 1:title=required", "Body.\n"},
		{"only null", "---\n~\n---\n", "2:date=required 2:title=required", ""},
		{"a remark after a value", "---\ndate: 2026-02-01 # a Sunday\ntitle: T\n---\n", "2:=yaml-hash", ""},
		{"a hash in a title", "---\ndate: 2026-02-01\ntitle: New seal # for the tiller\n---\n", "3:=yaml-hash", ""},
		{"a hash after a tab", "---\ndate: 2026-02-01\ntitle: New seal\t# for the tiller\n---\n", "3:=yaml-hash", ""},
		{"a hash in brackets", "---\ndate: 2026-02-01\ntitle: T\ncosts: [{for: plug # 4, amount: 1}]\n---\n", "4:=yaml-hash", ""},
		{"a hash in brackets on two lines", "---\ndate: 2026-02-01\ntitle: T\ncosts: [{for: plug # 4\n  , amount: 1}]\n---\n", "4:=yaml-hash", ""},
		{"a hash in an item", "---\ndate: 2026-02-01\ntitle: T\nworked_on:\n  - engine # all of it\n  - drive\n---\n", "5:=yaml-hash", ""},
		{"a hash in a field of an item", "---\ndate: 2026-02-01\ntitle: T\ncosts:\n  - for: plug # 4\n    amount: 1\n---\n", "5:=yaml-hash", ""},
		{"a hash in a value of two lines", "---\ndate: 2026-02-01\ntitle: T # one\n  and two\nby: A\n---\n", "3:=yaml-hash", ""},
		{"a hash that begins a value", "---\ndate: 2026-02-01\ntitle: T\nby: #4417\n---\n", "4:=yaml-hash", ""},
		{"a hash that begins a value in brackets", "---\ndate: 2026-02-01\ntitle: T\nworked_on: [#4]\n---\n", "4:=yaml-hash", ""},
		{"a hash on the second line of a value", "---\ndate: 2026-02-01\ntitle: T\n  \"one\" # two\nby: A\n---\n", "4:=yaml-hash", ""},
		{"a hash before a bar at the end", "---\ndate: 2026-02-01\ntitle: New seal #4 - |\n---\n", "3:=yaml-hash", ""},
		{"two hashes", "---\ndate: 2026-02-01\ntitle: T # 1\nby: A # 2\n---\n", "3:=yaml-hash 4:=yaml-hash", ""},
		{"hashes that cut nothing off", "---\n# mine\ndate: 2026-02-01\ntitle: \"T # 1\" # mine\nby: 'A''s # 2'\nworked_on: # mine\n  # mine\n  - engine\ncosts: #mine\n  - {for: plug C#4, amount: 1} # mine\n  - for: x#\n    amount: 1\nprivate: | # mine\n  One # two.\n\n  #3\n---\n", "", ""},
		{"a block of text in an item", "---\ndate: 2026-02-01\ntitle: T\ndiagnosis:\n  - tried: |\n      one # two\n    saw: three\n---\n", "", ""},
		{"a hash below a block of text in an item", "---\ndate: 2026-02-01\ntitle: T\ndiagnosis:\n  - tried: |\n      one # two\n    saw: three # four\n---\n", "7:=yaml-hash", ""},
		{"empty file", "", "1:=no-front-matter", ""},
		{"only empty lines", "\n\n", "1:=no-front-matter", ""},
		{"no front matter", "The story.\n", "1:=no-front-matter", ""},
		{"text first", "\nThe story.\n---\ndate: 2026-02-01\n---\n", "2:=no-front-matter", ""},
		{"indented opening", " ---\ndate: 2026-02-01\n---\n", "1:=no-front-matter", ""},
		{"four hyphens", "----\ndate: 2026-02-01\n----\n", "1:=no-front-matter", ""},
		{"hyphens and more", "---yaml\ndate: 2026-02-01\n---\n", "1:=no-front-matter", ""},
		{"other front matter", "+++\ndate = 2026-02-01\n+++\n", "1:=toml", ""},
		{"unclosed", "---\ndate: 2026-02-01\ntitle: T\n", "1:=unclosed-front-matter", ""},
		{"unclosed after an empty line", "\n---\ndate: 2026-02-01\n", "2:=unclosed-front-matter", ""},
		{"closed by four hyphens", "---\ndate: 2026-02-01\n----\nBody.\n", "1:=unclosed-front-matter", ""},
		{"closed by dots", "---\ndate: 2026-02-01\n...\nBody.\n", "1:=unclosed-front-matter", ""},
		{"unclosed and long", "---\ndate: 2026-02-01\n" + strings.Repeat("word word\n", maxFront/5), "1:=unclosed-front-matter", ""},
		{"indented closing", "---\ndate: 2026-02-01\n ---\nhours: 2\n---\n", "3:=indented-rule", ""},
		{"rule in a block of text", "---\ndate: 2026-02-01\nprivate: |\n  One.\n  ---\n  Two.\nhours: 2\n---\n", "5:=indented-rule", ""},
		{"rule behind a no-break space", "---\ndate: 2026-02-01\n\u00a0---\nhours: 2\n---\n", "3:=indented-rule", ""},
		{"a list", "---\n- date: 2026-02-01\n---\n", "2:=not-fields", ""},
		{"a text", "---\njust words\n---\n", "2:=not-fields", ""},
		{"NUL", whole + "a\x00b\n", "5:=control-character", ""},
		{"NUL in the front matter", "---\ndate: 2026-02-01\ntitle: a\x00b\n---\n", "3:=control-character", ""},
		{"not UTF-8", "---\ndate: 2026-02-01\ntitle: 20\xb0C\n---\n", "3:=not-utf8", ""},
		{"not UTF-8, CRLF", "---\r\ndate: 2026-02-01\r\ntitle: T\r\n---\r\n\r\n20\xb0C\r\n", "6:=not-utf8", ""},
		{"a surrogate", whole + "a\n\xed\xa0\x80\n", "6:=not-utf8", ""},
		{"UTF-16", "\xff\xfe-\x00-\x00-\x00\n\x00", "1:=not-utf8", ""},
		{"another byte-order mark", whole + "a\ufeffb\n", "5:=control-character", ""},
		{"no character at all", "---\ndate: 2026-02-01\ntitle: a\ufffeb\n---\n", "3:=control-character", ""},
		{"line separator", "---\ndate: 2026-02-01\ntitle: a\u2028b: c\n---\n", "3:=control-character", ""},
		{"next line", "---\ndate: 2026-02-01\ntitle: a\u0085b: c\n---\n", "3:=control-character", ""},
		{"form feed", whole + "\f\n", "5:=control-character", ""},
		{"an escaped NUL", "---\ndate: 2026-02-01\ntitle: T\nby: \"a\\0b\"\n---\n", "4:=control-character", ""},
		{"an escape in a name", "---\ndate: 2026-02-01\ntitle: T\n\"b\\e[31my\": A\n---\n", "4:=control-character", ""},
		{"a character by its number", whole + "\n&#x1b;[31m\n", "6:=control-character", ""},
		{"harmless numbers", whole + "20 &#176;C &#xB0; &#abc; &#9;\n", "", "20 &#176;C &#xB0; &#abc; &#9;\n"},
		{"anchor and alias", "---\ndate: 2026-02-01\ntitle: &a T\nby: *a\n---\n", "3:=alias", ""},
		{"anchor on a name", "---\ndate: 2026-02-01\n&a title: T\n---\n", "3:=alias", ""},
		{"unknown alias", "---\ndate: 2026-02-01\ntitle: T\nby: *nobody\n---\n", "4:=alias", ""},
		{"merge key", "---\ndate: 2026-02-01\ntitle: T\nparts:\n  - &p {part: p, source: new}\n  - {<<: *p}\n---\n", "5:=alias", ""},
		{"tag", "---\ndate: 2026-02-01\ntitle: !!binary VA==\n---\n", "3:=tag", ""},
		{"empty tag", "---\ndate: 2026-02-01\ntitle: ! T\n---\n", "3:=tag", ""},
		{"tag on a list", "---\ndate: 2026-02-01\ntitle: T\nparts: !!set {a, b}\n---\n", "4:=tag", ""},
		{"exclamation marks in text", "---\ndate: 2026-02-01\ntitle: Hot! Do not touch!\n---\n", "", ""},
		{"nested to the limit", "---\ndate: 2026-02-01\ntitle: T\ntests: [{test: t, a: " + strings.Repeat("[", 10) + strings.Repeat("]", 10) + "}]\n---\n", "", ""},
		{"nested past it", "---\ndate: 2026-02-01\ntitle: T\ntests: [{test: t, a: " + strings.Repeat("[", 11) + strings.Repeat("]", 11) + "}]\n---\n", "4:=too-deep", ""},
		{"a field twice", "---\ndate: 2026-02-01\ntitle: T\nby: A\n\"by\": B\n---\n", "5:by=twice", ""},
		{"a field of an item twice", "---\ndate: 2026-02-01\ntitle: T\ncosts:\n  - for: a\n    amount: 1\n    for: b\n---\n", "7:costs[0].for=twice", ""},
		{"two documents", "---\ndate: 2026-02-01\n...\ntitle: T\n---\n", "3:=yaml-end", ""},
	} {
		e, says := one(t, c.data)
		if got := strings.Join(says, " "); got != c.says || string(e.Body.Text) != c.body {
			t.Errorf("%s: got %s, body %q; want %s, %q", c.name, got, e.Body.Text, c.says, c.body)
		}
	}
}

func TestBodyKnowsItsLine(t *testing.T) {
	for _, c := range []struct {
		data string
		line int
	}{
		{"---\ndate: 2026-02-01\ntitle: T\n---\nBody.\n", 5},
		{"\ufeff\r\n---\r\ndate: 2026-02-01\r\ntitle: T\r\n---\r\n\r\nBody.", 6},
		{"---\ndate: 2026-02-01\ntitle: T\n---", 4},
		{"---\ndate: 2026-02-01\ntitle: T\n---\nOne\n\n---\n\nTwo\n", 5},
	} {
		e, says := one(t, c.data)
		if e.Body.Line != c.line || len(says) > 0 {
			t.Errorf("%q: line %d, %v", c.data, e.Body.Line, says)
		}
	}
}

// Numbers are kept as they were written; YAML would take 0123 for 83 and cut
// the zero off 1.10.
func TestValuesAreKeptAsWritten(t *testing.T) {
	for _, written := range []string{"0123", "1.10", "1e3", "0x1F", "1_000", "+5", "2026-03-02", "18:30", "yes", "0o17", ".inf", "1.0", "007-1", "No. 4"} {
		e, says := entry(t, "parts: [{part: "+written+", number: "+written+", source: new}]\nby: "+written, "")
		if p := e.Parts[0]; p.Number != written || p.Part != written || e.By != written || len(says) > 0 {
			t.Errorf("%s: got %+v, %v", written, p, says)
		}
	}
	shop, _ := readAll(t, folder(t, shopFile+"-- machines/m/machine.md --\n---\nname: 1.10\nserial: 00042\nyear: 1974\nmodel: 5e2\narrived: 2026-01-01\n---\n"), nil)
	if m := shop.Machines[0]; m.Name != "1.10" || m.Serial != "00042" || m.Year != "1974" || m.Model != "5e2" {
		t.Errorf("got %+v", m)
	}
}

// bomb is an alias bomb: each level holds the one before it nine times.
func bomb(levels int) string {
	var b strings.Builder
	b.WriteString("---\ndate: 2026-02-01\ntitle: T\na0: &a0 [x]\n")
	for i := 1; i < levels; i++ {
		fmt.Fprintf(&b, "a%d: &a%d [%s]\n", i, i, strings.TrimSuffix(strings.Repeat(fmt.Sprintf("*a%d, ", i-1), 9), ", "))
	}
	return b.String() + "---\n"
}

// Every one of these keeps some reader of YAML or Markdown busy for minutes or
// hours, or kills it: a test that does not end is one that has failed.
func TestHostileFilesEndInOneProblem(t *testing.T) {
	whole := "---\ndate: 2026-02-01\ntitle: T\n---\n"
	for _, c := range []struct{ name, data, says string }{
		{"alias bomb", bomb(30), "4:=alias"},
		{"merge bomb", "---\na: &a {x: 1}\nb: &b {<<: [*a, *a, *a, *a, *a, *a, *a, *a, *a]}\nc: {<<: [*b, *b, *b, *b]}\n---\n", "2:=alias"},
		{"brackets", "---\ndate: 2026-02-01\ntitle: " + strings.Repeat("[", 30000) + "\n---\n", "3:=too-deep"},
		{"braces", "---\ndate: 2026-02-01\ntitle: " + strings.Repeat("{a: ", 15000) + "\n---\n", "3:=too-deep"},
		{"hyphens", "---\ndate: 2026-02-01\ntitle:\n  " + strings.Repeat("- ", 30000) + "\n---\n", "4:=too-deep"},
		{"many names", "---\ndate: 2026-02-01\n" + manyNames(maxFront), "1:=front-matter-too-big"},
		{"3 MB", whole + strings.Repeat("word ", 600_000), "0:=file-too-big"},
		{"long body", whole + strings.Repeat("word\n", maxBody/5+1), "5:=body-too-big"},
		{"links", whole + "\nOne.\n\n" + strings.Repeat("[a](", 20_000), "8:=body-tangled"},
		{"links in angle brackets", whole + strings.Repeat("[x](<", 20_000), "5:=body-tangled"},
		{"links on many lines", whole + strings.Repeat("[a](\n", 20_000), fmt.Sprintf("%d:=body-tangled", 5+maxBrackets)},
		{"stars and underlines", whole + strings.Repeat("*a_", 20_000), "5:=body-tangled"},
		{"stars on many lines", whole + strings.Repeat("*a\n", 20_000), fmt.Sprintf("%d:=body-tangled", 5+maxStars)},
		{"quotes", whole + strings.Repeat(">", 80_000), "5:=body-tangled"},
		{"lists", whole + strings.Repeat("1. ", 20_000) + "a\n", "5:=body-tangled"},
		{"lists and quotes", whole + strings.Repeat("+ > ", 20_000) + "a\n", "5:=body-tangled"},
	} {
		_, says := one(t, c.data)
		if got := strings.Join(says, " "); got != c.says {
			t.Errorf("%s: got %s, want %s", c.name, got, c.says)
		}
	}
}

func manyNames(size int) string {
	var b strings.Builder
	for i := 0; b.Len() < size+10; i++ {
		fmt.Fprintf(&b, "n%d: 1\n", i)
	}
	return b.String() + "---\n"
}

// The largest texts that are let through are read in less than a second, though
// the parser of Markdown takes the square of the brackets of one passage.
func TestTheWorstThatIsLetThrough(t *testing.T) {
	whole := "---\ndate: 2026-02-01\ntitle: T\n---\n"
	passage := strings.Repeat("[a](", maxBrackets-1) + "![](a.jpg)\n\n"
	nest := strings.Repeat("> ", maxNesting-1) + "![](a.jpg)\n\n"
	for name, body := range map[string]string{
		"brackets": strings.Repeat(passage, maxBody/len(passage)),
		"one line": strings.Repeat("[a](", maxBrackets-1) + strings.Repeat("x", maxBody-5000) + "![](a.jpg)\n",
		"quotes":   strings.Repeat(nest, maxBody/len(nest)),
		"lists":    strings.Repeat(strings.ReplaceAll(nest, "> ", "1. "), maxBody/len(nest)/2),
		"deeper":   deeper(maxBody),
		"images":   strings.Repeat("![](a.jpg)\n\n", maxBody/12),
		"names":    "![](a.jpg)\n\n" + strings.Repeat("[a]: b\n\n", maxBody/9),
		"stars":    "![](a.jpg)\n\n" + strings.Repeat(strings.Repeat("*a_", maxStars/2)+"\n\n", maxBody/(3*maxStars/2+2)-1),
		"ticks":    "![](a.jpg)\n\n" + strings.Repeat("`a``b```", maxBody/9),
		"angles":   "![](a.jpg)\n\n" + strings.Repeat("<a:", maxBody/4),
	} {
		e, says := one(t, whole+body)
		if len(e.Body.Text) == 0 {
			t.Errorf("%s: nothing was read: %v", name, says)
		}
	}
}

// deeper is a list in which each item lies in the one before it.
func deeper(size int) string {
	b := strings.Builder{}
	b.WriteString("![](a.jpg)\n\n")
	for i := 0; b.Len()+i < size; i++ {
		fmt.Fprintf(&b, "%*s- a\n", 2*i, "")
	}
	return b.String()
}

func TestSoundFile(t *testing.T) {
	e, says := one(t, strings.Replace(sound, "number: x\n", "", 1))
	if e.Title != "Täglich" || e.Line != 2 || len(says) > 0 {
		t.Errorf("got %+v, %v", e, says)
	}
}
