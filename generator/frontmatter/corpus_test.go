package frontmatter

import (
	"bytes"
	"errors"
	"strings"
	"testing"
)

// corpus are files that are hard to change, by what is hard about them. Each is
// one that package logbook takes apart too.
var corpus = map[string]string{
	"comments everywhere": "---\n# first\ndate: 2026-03-02 # of the title page\n\n# above the title\ntitle: First look   # behind it\n  # indented\nby: JM\n# at the end\n---\n\nStory.\n",
	"comments in a list":  "---\nchecks: # all of them\n  # the first\n  - item: a # one\n    # its result\n    result: works\n  # the second\n  - item: b\n    result: fails # two\n  # after all\nby: JM\n---\nStory\n",
	"flow in block":       "---\nhours:\n  - {from: \"18:10\", to: \"19:50\"} # evening\n  - {from: '20:00', to: 22:00}\nshow: {hours: yes, parts: [a, b, {c: d}]}\n---\nx\n",
	"flow on lines":       "---\nparts: [\n  a, # first\n  # about b\n  b,\n  {c: d,\n   e: f},\n  g # last\n]\nhas: {\n  reverse: no,\n  clutch: yes,\n}\n---\n",
	"flow with commas":    "---\na: [x, y, ]\nb: {c: d, }\nc: [\n  x,\n  y,\n]\nd: [x,\n  y, z]\n---\n",
	"flow empty":          "---\na: []\nb: {}\nc: [ ]\nd: { }\ne: [ # nothing\n  ]\n---\n",
	"flow without values": "---\na: {b, c: , \"d\":e, f:}\ng: [h: i, j, {k: l}]\n---\n",
	"flow at the top":     "---\n{date: 2026-03-02, title: First look,\n  by: JM}\n---\nStory\n",
	"block in block":      "---\na:\n  b:\n    c:\n      - d:\n          e: f\n          g: h\n        i: j\n      - k\nl: m\n---\n",
	"block in flow no":    "---\nengine:\n  bore: {at: {top: 68 mm, base: [1, 2]}}\n---\n",
	"double quotes":       "---\na: \"x \\\"y\\\" # z\"  # b\nc: \"one\n  two\n\n  three\"\nd: \"\\\\\"\ne: \"tab\\tnew\\nline \\u00e9\"\n---\n",
	"single quotes":       "---\na: 'it''s'  # b\nc: 'one\n  two\n\n  three'\nd: ''''\ne: '\"'\n---\n",
	"quoted names":        "---\n\"a\": 1\n'b c': 2\n\"d\" : 3\ne  : 4\n---\n",
	"names with spaces":   "---\nas found: yes\nworked around:\n  - key: a b\n    as found: no\n---\n",
	"literal":             "---\nprivate: |\n  One.\n\n  Two: # no comment\n    indented\nby: JM\n---\n",
	"literal stripped":    "---\nprivate: |- # remark\n  One.\n  Two.\n\n\nby: JM\n---\n",
	"literal kept":        "---\nprivate: |+\n  One.\n  Two.\n\n\nby: JM\n---\n",
	"literal indented":    "---\nprivate: |2\n    One.\n  Two.\nlist:\n  - |1\n    a\n   b\n  - |\n   c\n---\n",
	"folded":              "---\nstory: >\n  One\n  two.\n\n  Three.\nother: >-\n  a\n  b\nby: JM\n---\n",
	"folded indented":     "---\nstory: >\n  One\n    indented\n  two.\nby: JM\n---\n",
	"literal last":        "---\nby: JM\nprivate: |\n  One.\n\n---\n\nStory\n",
	"literal empty":       "---\na: |\nb: >-\nc: x\n---\n",
	"plain on lines":      "---\nstory: one\n  two\n\n  three\nother:\n  on its own\n  line\nby: JM\n---\n",
	"CRLF":                "---\r\ndate: 2026-03-02\r\nprivate: |\r\n  One.\r\n  Two.\r\nchecks:\r\n  - {item: a, result: works}\r\n---\r\n\r\nStory\r\nof two lines.\r\n",
	"mixed ends":          "---\r\ndate: 2026-03-02\ntitle: x\r\nprivate: |\n  One.\r\n  Two.\n---\r\n\nStory\r\nof three\nlines.\r\n",
	"lone CR":             "---\rdate: 2026-03-02\rlist:\r  - a\r  - b\r---\rStory\r",
	"byte-order mark":     "\ufeff---\ndate: 2026-03-02\ntitle: x\n---\nStory\n",
	"tabs":                "---\na:\tb\t# c\nd: e\tf\ng: {h:\ti,\tj: k}\nl: |\n  \ta\n  b\tc\n---\n\tStory\n",
	"Unicode":             "---\ntitle: Größe 漢字 # ü\n漢字: [ä, \"ö\", {ü: ß}]\nemoji: '🔧' # 🔧\nlist:\n  - 漢: é\n    字: à\n---\nÜber alles 🔧\n",
	"empty lines":         "---\n\n\na: b\n\n\nlist:\n\n  - one\n\n  - two\n\n  - k: v\n\n    l: w\n\n\n---\n\n\nStory\n\n\n",
	"items at column 0":   "---\nlist:\n- a\n# about b\n- b\n- k: v\n  l: w\nby: JM\nother:\n- {x: y}\n---\n",
	"wide hyphens":        "---\nlist:\n  -   a: b\n      c: d\n  -   e\n  -\n    f: g\n    h: i\n  - \n  -\n    j\n---\n",
	"lists in lists":      "---\nlist:\n  - - a\n    - b\n    - - c\n  - - d: e\n      f: g\n---\n",
	"empty values":        "---\na:\nb: # remark\nc: ~\nd: null # not there\ne: \"\"\nf:   \ng: ''\nlist:\n  -\n  - ~\n  - x\n---\n",
	"trailing spaces":     "---  \na: b   \nc:   d  # e  \nlist:   \n  - f  \n  - {g: h}   \n---   \nStory   \n",
	"no end":              "---\na: b\n---",
	"no end of a story":   "---\na: b\n---\n\nStory",
	"rules in the story":  "---\na: b\n---\n\nStory\n\n---\n\nmore: story\n---\n",
	"nothing":             "---\n---\n",
	"comments alone":      "---\n# nothing yet\n\n#date: 2026-03-02\n---\n",
	"lines above":         "\n\n---\na: b\nc: [d]\n---\nx\n",
	"numbers and answers": "---\nyear: 1998\nsafety: yes\nzip: 01234\nat: 13:00\nday: 2026-03-02\nneg: -5 C\nlimit: '>= 12.4 V'\nhex: 0x10\ntrue: True\n---\n",
	"odd plain texts":     "---\na: it's, \"so\" [ok] {x}\nb: -x\nc: ?y\nd: :z\ne: a:b\nf: a#b\ng: http://x.example/?a=b&c#d\n---\n",
	"value on next line":  "---\na:\n  b\nc:\n  # remark\n  \"d\"\ne:\n  [f, g]\nh:\n  |\n  i\nj: k\n---\n",
	"comment after block": "---\nprivate: |\n  One.\n # less indented\nby: JM\nnote: |\n  x\n# end\n---\n",
	"no space after":      "---\na: [b,c,{d: e,f: g}]\nh: {\"i\":[j],'k':{l: m}}\n---\n",
	"hidden fields":       "---\nlimits:\n#  - {what: compression, limit: \">= 60 psi\"}\n# The story goes below.\n---\n",
	"deep comment":        "---\na: b\n      # deep\nc:\n  - d\n          # deeper\ne: f\n---\n",
}

func TestNothingWantedIsTheVeryFile(t *testing.T) {
	all := examples(t)
	for name, text := range corpus {
		all[name] = []byte(text)
	}
	for name, data := range all {
		f, err := Read(data)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		for _, story := range []string{f.Story(), strings.ReplaceAll(f.Story(), "\n", "\r\n"), "\n" + f.Story() + "\n\n"} {
			now, err := f.With(f.Fields(), story)
			if err != nil || !bytes.Equal(now, data) {
				t.Errorf("%s: %v\n%q\nwant\n%q", name, err, now, data)
			}
		}
	}
}

func TestEveryChangeOfTheCorpus(t *testing.T) {
	total := 0
	for name, text := range corpus {
		t.Run(name, func(t *testing.T) {
			refused := 0
			done := tryCuts(t, []byte(text), func() []string { return nasty }, false, func(c cut, err error) {
				if !errors.Is(err, ErrCannot) {
					t.Errorf("%s: %v is no ErrCannot", c.name, err)
				}
				refused++
				t.Logf("refused: %s: %v", c.name, err)
			})
			total += done
			if done == 0 || refused > 0 {
				t.Errorf("%d of %d changes were refused", refused, done+refused)
			}
		})
	}
	t.Log(total, "changes")
}
