package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"

	"github.com/spf13/cobra"

	"asleft/generator/handover"
	"asleft/generator/logbook"
	"asleft/generator/rooted"
)

// largestReport bounds what vouch reads; the largest honest report holds some
// tens of photos of 100 kB.
const largestReport = 64 << 20

func newVouch(s streams) *cobra.Command {
	var asJSON bool
	c := &cobra.Command{
		Use:     "vouch FILE|CODE",
		Short:   words.Say("help.vouch"),
		Long:    words.Say("help.vouch.long"),
		Example: words.Say("help.vouch.example"),
		Args:    exactly(1, "command.name-sealed"),
		RunE: func(c *cobra.Command, args []string) error {
			return vouch(c, s, args[0], asJSON)
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, words.Say("help.flag.json"))
	return c
}

// vouched is all that vouch has to say.
type vouched struct {
	handover.Verdict
	byCode    bool
	also      []handover.Verdict // of other reports that have the same code
	breaks    []handover.Break
	missed    []handover.Break  // sealed files that only a buyer's copy in the folder shows
	before    []handover.Break  // reports that this computer sealed in the folder, none of which is here
	lost      bool              // sealed files are gone
	since     []handover.Change // what the logs say today that the report did not
	gone      []handover.Change // what it said and they no longer say
	same      bool              // no byte of the log has changed that the report draws on
	unchanged string            // that the logs say the same; empty where they do not
	// noSince is why nothing can be said of what changed since, if so.
	noSince string
	orphan  bool // the shop has not got the machine
}

func vouch(c *cobra.Command, s streams, arg string, asJSON bool) error {
	folder, _, err := openShop(c)
	if err != nil {
		return err
	}
	defer folder.Close()
	chain, err := handover.ReadChain(folder, words, today())
	if err != nil {
		return &outcome{fault, err}
	}
	v, err := looked(chain, arg)
	if err != nil {
		return err
	}
	listed, copied, err := chain.Missed(folder)
	if err != nil {
		return &outcome{fault, err}
	}
	settings, err := openSettings(false)
	if err != nil { // then nothing is kept there
		settings = noSettings()
	}
	forgotten, before := chain.Forgotten(folder, settings)
	v.before = before
	v.breaks, v.missed = slices.Concat(chain.Breaks, listed, forgotten), copied
	v.lost = chain.Lost || len(listed)+len(copied)+len(forgotten) > 0
	if v.Link != nil && v.Answer != handover.NoProof && len(v.also) == 0 {
		if err := v.compare(folder); err != nil {
			return err
		}
	}
	if asJSON {
		err = writeJSON(s.out, v.json())
	} else {
		v.print(s.out)
	}
	if err == nil && (len(v.also) > 0 || v.Answer != handover.Unaltered || len(v.breaks) > 0 || v.orphan) {
		return &outcome{status: problems}
	}
	return err
}

// looked looks at a file, or at a code where there is no file of that name.
func looked(chain *handover.Chain, arg string) (*vouched, error) {
	data, err := readReport(arg)
	if errors.Is(err, fs.ErrNotExist) {
		code, ok := handover.AsCode(arg)
		if !ok {
			return nil, wrongUsage(errors.New(words.Say("command.vouch-neither", "arg", arg)))
		}
		found := chain.VouchCode(code)
		if len(found) == 0 {
			return &vouched{Verdict: handover.Verdict{Answer: handover.NotOurs}, byCode: true}, nil
		}
		return &vouched{Verdict: found[0], also: found[1:], byCode: true}, nil
	}
	if err != nil {
		return nil, err
	}
	return &vouched{Verdict: chain.VouchFile(filepath.ToSlash(arg), data)}, nil
}

func readReport(name string) ([]byte, error) {
	// A pipe keeps whoever opens it waiting, so it is looked at before.
	switch info, err := os.Stat(name); {
	case errors.Is(err, fs.ErrNotExist):
		return nil, err
	case err != nil:
		return nil, &outcome{fault, err}
	case info.IsDir():
		return nil, wrongUsage(errors.New(words.Say("command.vouch-neither", "arg", name)))
	case !info.Mode().IsRegular():
		return nil, wrongUsage(errors.New(words.Say("command.vouch-pipe", "file", name)))
	}
	f, err := os.Open(name)
	if err != nil {
		return nil, &outcome{fault, err}
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, largestReport+1))
	if err != nil {
		return nil, &outcome{fault, err}
	}
	if len(data) > largestReport {
		return nil, wrongUsage(errors.New(words.Say("command.vouch-large", "file", name)))
	}
	return data, nil
}

// compare holds the sealed facts against the logs of today.
func (v *vouched) compare(folder *rooted.FS) error {
	r, day, err := readShop(folder)
	if err != nil {
		return err
	}
	n := slices.IndexFunc(r.Shop.Machines, func(m *logbook.Machine) bool { return v.Link.Of(m) })
	switch {
	case n < 0:
		v.noSince, v.orphan = words.Say("vouch.since-gone"), true
		return nil
	case len(r.Problems) > 0:
		v.noSince = words.Say("vouch.since-broken")
		return nil
	}
	now := v.Link.Held(handover.Today(r.Site(), n, day), words)
	v.same, v.gone = now.Same, handover.OnlyGone(now.Changes)
	v.unchanged = v.Link.Unchanged(now, words)
	v.since = slices.DeleteFunc(now.Changes, func(ch handover.Change) bool { return ch.Gone })
	return nil
}

func (v *vouched) print(w io.Writer) {
	say := func(key string, pairs ...any) { fmt.Fprintln(w, oneLine(words.Say(key, pairs...))) }
	v.answer(say)
	list := func(key string, breaks []handover.Break) {
		if len(breaks) > 0 {
			say(key)
		}
		for _, b := range breaks {
			say("vouch.break", "says", b.Says)
		}
	}
	list("vouch.broken", v.breaks)
	list("vouch.missed", v.missed)
	list("vouch.before", v.before)
	switch {
	case v.Link == nil || v.Answer == handover.NoProof || len(v.also) > 0:
	case v.noSince != "":
		fmt.Fprintln(w, v.noSince)
	case v.unchanged != "":
		fmt.Fprintln(w, v.unchanged)
	default:
		list := func(key string, changes []handover.Change) {
			if len(changes) > 0 {
				say(key)
			}
			for _, ch := range changes {
				say("vouch.since-item", "text", ch.Text)
			}
		}
		list("vouch.gone", v.gone)
		list("vouch.since", v.since)
	}
}

func (v *vouched) answer(say func(key string, pairs ...any)) {
	if len(v.also) > 0 {
		v.several(say)
		return
	}
	var pairs []any
	if v.Link != nil && v.Link.Seal != nil {
		f := v.Link.Seal.Facts
		pairs = []any{"date", words.Date(logbook.Date(f.Sealed).Time()), "name", f.Record.Machine.Name, "code", handover.GroupedCode(v.Link.Seal.Code)}
	}
	switch v.Answer {
	case handover.Unaltered:
		if v.byCode {
			say("vouch.code", pairs...)
			return
		}
		say("vouch.unaltered", pairs...)
	case handover.Altered:
		say("vouch.altered", pairs...)
		v.differences(say)
	case handover.NoProof:
		say("vouch.no-proof", "file", v.Link.File)
	default:
		if v.lost {
			say("vouch.may-be-ours")
			return
		}
		if len(v.before) > 0 {
			say("vouch.may-be-before")
			return
		}
		if v.byCode {
			say("vouch.not-our-code")
			return
		}
		say("vouch.not-ours")
	}
}

// several lists all sealed reports that a code leads to.
func (v *vouched) several(say func(key string, pairs ...any)) {
	say("vouch.codes", "n", 1+len(v.also))
	for _, one := range append([]handover.Verdict{v.Verdict}, v.also...) {
		if one.Answer == handover.NoProof {
			say("vouch.no-proof", "file", one.Link.File)
			continue
		}
		s := one.Link.Seal
		say("vouch.code-one", "date", words.Date(logbook.Date(s.Facts.Sealed).Time()), "name", s.Facts.Record.Machine.Name, "digest", s.FactsDigest, "file", one.Link.File)
	}
}

func (v *vouched) differences(say func(key string, pairs ...any)) {
	switch {
	case len(v.Differs) > 0:
		say("vouch.differs")
	case v.Held:
		say("vouch.same-facts")
	default:
		say("vouch.no-facts")
	}
	or := func(text string) string {
		if text == "" {
			return words.Say("vouch.nothing")
		}
		return text
	}
	for _, d := range v.Differs {
		say("vouch.difference", "where", d.Where, "sealed", or(d.Sealed), "here", or(d.Here))
	}
}

// vouchJSON is what vouch --json answers.
type vouchJSON struct {
	Answer  string                `json:"answer"` // unaltered, altered, not ours or no proof
	Holds   bool                  `json:"chain_holds"`
	Code    string                `json:"code"`
	Sealed  string                `json:"sealed"`
	Machine string                `json:"machine"`
	Number  int                   `json:"number"`
	Signed  bool                  `json:"signed"`
	File    string                `json:"file"`
	Differs []handover.Difference `json:"differs"`
	Breaks  []breakJSON           `json:"breaks"`
	Missed  []breakJSON           `json:"missed"` // sealed files that only a buyer's copy shows
	Before  []breakJSON           `json:"before"` // reports that this computer sealed in the folder, none of which is here
	Since   []handover.Change     `json:"since"`
	Gone    []handover.Change     `json:"gone"`
	Same    bool                  `json:"log_same"` // no byte of the log has changed that the report draws on
	NoSince string                `json:"no_since"` // why since says nothing, or empty
	Also    []string              `json:"also"`     // other sealed files that have the same code
}

type breakJSON struct {
	File string `json:"file"`
	Says string `json:"says"`
}

func (v *vouched) json() vouchJSON {
	j := vouchJSON{
		Answer: v.Answer, Holds: len(v.breaks) == 0, NoSince: v.noSince,
		Differs: append([]handover.Difference{}, v.Differs...), Breaks: []breakJSON{}, Missed: []breakJSON{}, Before: []breakJSON{}, Since: append([]handover.Change{}, v.since...),
		Gone: append([]handover.Change{}, v.gone...), Same: v.same, Also: []string{},
	}
	for _, one := range v.also {
		j.Also = append(j.Also, one.Link.File)
	}
	for _, b := range v.breaks {
		j.Breaks = append(j.Breaks, breakJSON(b))
	}
	for _, b := range v.missed {
		j.Missed = append(j.Missed, breakJSON(b))
	}
	for _, b := range v.before {
		j.Before = append(j.Before, breakJSON(b))
	}
	if v.Link == nil {
		return j
	}
	j.File = v.Link.File
	if s := v.Link.Seal; s != nil {
		j.Code, j.Sealed, j.Machine, j.Number, j.Signed = s.Code, s.Facts.Sealed, v.Link.Machine(), s.Number, s.Signature != nil
	}
	return j
}
