package logbook

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/spf13/afero"
	"go.yaml.in/yaml/v4"
	"pgregory.net/rapid"

	"asleft/generator/catalog"
)

// seeds are entries and machines, sound and hostile ones; each field of the
// design is in one of them.
var seeds = []string{
	"",
	"---\n---\n",
	"---\ndate: 2026-02-01\ntitle: T\n---\nBody ![a](b.jpg)\n",
	"\ufeff---\r\ndate: 2026-02-01\r\ntitle: \"T\"\r\n---\r\n\r\nBody\r\n---\r\n",
	"---\ndate: 2026-02-01\ntitle: T\ntime: 18:30\nby: A\nhours: [{from: 18:30, to: 0:15, less: 0:20, task: t, by: B}]\nmeter: 4 h\nmeter_replaced: {old: 4 h, new: 0 h}\nran: 0:45\nprivate: |\n  x\n---\n",
	"---\ndate: 2026-02-01\ntitle: T\nhours: 2.5\nchecks: [{item: a, result: works, note: n, system: frame, safety: yes}]\ndiagnosis: [{tried: a, saw: b, so: c, system: fuel}]\nmeasured: [{what: a, where: b, value: 1 V, gauge: 1 %, state: cold, system: electrical}]\ntests: [{test: t, where: w, a: 1 V, b: [1, {c: 2}]}]\n---\n",
	"---\ndate: 2026-02-01\ntitle: T\nparts: [{part: p, number: 0123, qty: 1.5, each: 1.10, source: salvaged, from: o, system: drive, tax: 6 %, shipping: 1, core: {deposit: 1, returned: 2026-02-02}}]\ncosts: [{for: a, amount: 1}]\ndefects: [{key: a, defect: b, effect: c, system: drive, safety: no, photo: b.jpg}]\nrepaired: [{key: a, how: h, proof: p}]\nworked_around: [{key: a, how: h, left: l}]\nchanged: [{what: w, why: y, system: drive, affects: [a, b], caution: c}]\nphotos: [{file: b.jpg, alt: a, caption: c, cover: yes, private: no}]\n---\n",
	"---\nname: N\nkind: chainsaw\nsheet: s\nmaker: m\nmodel: m\nserial: s\nyear: y\nstage: sold\narrived: 2026-01-01\nasking: 1\nsold: {date: 2026-02-01, price: 1, buyer: b}\nbought: {from: f, paid: 1}\nstory: s\nengine: {strokes: 4, cylinders: 1, bore: 1 mm, stroke: 1 mm, fuel: f}\nmissing: [a]\nlimits: [{what: a, where: b, limit: \"1 V +- 1 %\", source: s}]\nprivate: p\n---\n[a]: b\n\n![c][a] > - 1. `x` *y* <z@a.example> &#65; \\*\n",
	"---\nshop: S\nplace: p\ncontact: c\nweb: https://a.example/\ncurrency: KWD\nlabor_rate: 1.234\naltitude: 1 ft\ntimezone: UTC\nshow: {hours: no, parts_cost: no, serial: all}\nterms: t\ntheme: t\nlanguage: de\nsystems: [a]\n---\n",
	"---\nsheet: s\nalso: [a]\nitems: [{item: i, system: drive, safety: yes, how: h}]\n---\n",
	"---\ndate: &a 2026-02-01\ntitle: *a\n<<: *a\n? [x]\n: !!str y\n---\n",
	"---\ndate: 2026-02-01\n  ---\ntitle: \"T\n---\n",
	"---\ntitle: [[[[[[[[[[[[[[[[{{{{{{\n---\n",
	"---\ndate: 2026-02-30\ntitle: 'it's'\nby:A\n\tx: @\n--- x\n...\n%YAML\n---\n",
	"---\nprivate: >-\n  a \"\n b\n---\n",
	"---\ntitle: \"\\0\\xff\\uD800 \\\n  x\"\n---\n",
	"---\n\x00\xff\u2028\u0085---\n",
	"---\nno closing",
	"---\ndate: 2026-02-01\ntitle: T\n---\n>>>> > - 1. 2) + * [a](<b ![c](\\\n",
	"---\ndate: 2026-02-01T18:30:00Z\ntitle: T # t\nlayout: x\ndraft: yes\ncosts: [{for: a #4\n, amount: 1}]\nby: #4\n# mine\nprivate: | # x\n  a # b\n---\n| a | b |\n|:-:|--:|\n| `c\\|d` | ![e](f g.jpg \"h\") <!-- i --> |\n\n<!-- j\n\nk --> l <!-- m\n",
	"---\ndate: 2026-02-01\ntitle: T\n---\n![](%2e%2e/a) ![](nul.jpg) ![a\nb](c&amp;d.jpg \"t\") <b>&#7;\n",
}

// holds is what must be true of every reading: it ends without a panic, each
// problem names a file of the folder and a line inside it, and a second
// reading says the same.
func holds(t interface{ Fatalf(string, ...any) }, fs afero.Fs) {
	shop, problems, err := Read(fs, Options{Today: today})
	if err != nil {
		t.Fatalf("reading: %v", err)
	}
	for _, p := range problems {
		data, err := afero.ReadFile(fs, p.File)
		if err != nil {
			t.Fatalf("%s names no file: %v", p, err)
		}
		text := strings.ReplaceAll(strings.ReplaceAll(string(data), "\r\n", "\n"), "\r", "\n")
		if last := max(1, strings.Count(strings.TrimSuffix(text, "\n"), "\n")+1); p.Line < 1 && p.Says != "the file is larger than 2 MB" || p.Line > last {
			t.Fatalf("%s: the file has %d lines", p, last)
		}
		if s := p.String() + p.Mend; strings.ContainsFunc(s, func(r rune) bool { return r == '\n' || unseen(r) && r != 0x2068 && r != 0x2069 }) || !catalog.Balanced(s) || strings.Contains(s, "[problem.") {
			t.Fatalf("not one line of text: %q", s)
		}
	}
	for _, m := range shop.Machines {
		for _, e := range m.Entries {
			for _, s := range e.Sessions {
				if s.Work < 0 || s.Work > maxMinutes {
					t.Fatalf("%s: %d minutes", s.Place, s.Work)
				}
			}
		}
	}
	_, again, err := Read(fs, Options{Today: today})
	if err != nil || !slices.Equal(problems, again) {
		t.Fatalf("the second time: %v, %v; the first time: %v", again, err, problems)
	}
}

// pieces are what a slip of the pen may put in or leave out.
var pieces = []string{"\"", "'", "[", "]", "{", "}", ":", ": ", ",", "- ", "\n", "\n  ", "\n---\n", "\t", "#", " #", "&", "*", "!", "|", ">", "%", "@", "\\", "~", "yes", "2.5", "-1", "1e9", "2026-02-30", "key", "a", "![](b.jpg)", "![a](b c.jpg)", "<!--", "-->", "|", "|-|-|\n", "> ", "[a](", "&#7;", "\r\n", "\x00", "\xff", "\u2028", "\ufeff"}

// slipped is one of the seeds with a few slips in it.
func slipped(t *rapid.T) string {
	text := rapid.SampledFrom(seeds).Draw(t, "seed")
	for range rapid.IntRange(0, 4).Draw(t, "slips") {
		from := rapid.IntRange(0, len(text)).Draw(t, "from")
		to := rapid.IntRange(from, min(len(text), from+6)).Draw(t, "to")
		put := ""
		if rapid.Bool().Draw(t, "puts in") {
			put = rapid.SampledFrom(pieces).Draw(t, "piece")
		}
		text = text[:from] + put + text[to:]
	}
	return text
}

func TestSlipsAnywhere(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		fs := folder(t, shopFile+machineFile+donorAndPhoto)
		for _, name := range []string{"shop.md", "machines/m/machine.md", "machines/m/e.md", "machines/m/f.md", "sheets/s.md"} {
			if rapid.Bool().Draw(r, name) {
				put(t, fs, name, slipped(r))
			}
		}
		holds(r, fs)
	})
}

func fuzzFile(f *testing.F, name string, others string) {
	for _, s := range seeds {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		fs := folder(t, others)
		put(t, fs, name, string(data))
		holds(t, fs)
	})
}

const donorAndPhoto = "-- machines/o/machine.md --\n---\nname: O\narrived: 2026-01-01\n---\n-- machines/m/photos/b.jpg --\nx\n"

func FuzzEntry(f *testing.F) {
	fuzzFile(f, "machines/m/e.md", shopFile+machineFile+dayFile(1, findsA)+donorAndPhoto)
}

func FuzzMachine(f *testing.F) {
	fuzzFile(f, "machines/m/machine.md", shopFile+dayFile(1, findsA+"\nmeasured: [{what: a, value: 1 V}]\nchecks: [{item: a, result: works}]")+donorAndPhoto)
}

func FuzzShop(f *testing.F) {
	fuzzFile(f, "shop.md", machineFile+dayFile(1, findsA+"\nparts: [{part: p, each: 1.25, source: new, system: drive}]")+donorAndPhoto)
}

// noName is a line that begins with the colon behind a name that is not there.
var noName = regexp.MustCompile(`(?m)^[\s-]*:`)

// FuzzHashes holds the finder of # that cut values off to what the reader of YAML
// takes for a remark behind a value without quotes.
func FuzzHashes(f *testing.F) {
	for _, s := range seeds {
		f.Add(s)
	}
	f.Add("a: b # c\nd: [x # y\n , z]\n- e # f\ng:\n  h: i\t# j\n")
	f.Add("title: # as it came\n  the mower\n")
	f.Fuzz(func(t *testing.T, text string) {
		if strings.ContainsFunc(text, unseen) || strings.ContainsAny(text, "&*!?%") || noName.MatchString(text) || len(text) > 2000 {
			return // refused before or after
		}
		lines := strings.Split(text, "\n")
		found := hashes(lines)
		for _, l := range found {
			if l.line < 1 || l.line > len(lines) || !strings.Contains(lines[l.line-1], "#") {
				t.Fatalf("line %d of %d", l.line, len(lines))
			}
		}
		var root yaml.Node
		if yaml.Load([]byte(text), &root) != nil || len(root.Content) != 1 || root.Content[0].Kind != yaml.MappingNode {
			return
		}
		var walk func(n *yaml.Node)
		walk = func(n *yaml.Node) {
			cut := n.Kind == yaml.ScalarNode && n.Style == 0 && n.Value != "" && n.LineComment != ""
			if cut && !slices.ContainsFunc(found, func(l lost) bool { return l.line >= n.Line }) {
				t.Fatalf("%q on line %d loses %q", n.Value, n.Line, n.LineComment)
			}
			for i, c := range n.Content {
				if n.Kind != yaml.MappingNode || i%2 == 1 { // behind a name alone nothing is cut off
					walk(c)
				}
			}
		}
		walk(&root)
	})
}

// FuzzUnclosed holds the finder of unclosed quotes and brackets to its lines.
func FuzzUnclosed(f *testing.F) {
	for _, s := range seeds {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		lines := strings.Split(text, "\n")
		if s := unclosed(lines); s.line < 0 || s.line > len(lines) {
			t.Fatalf("line %d of %d", s.line, len(lines))
		}
	})
}
