package publish

import (
	"maps"
	"slices"
	"strings"
	"time"

	"asleft/generator/output"
)

// kept is how long a file that the site has no more stays at the far end.
const kept = 24 * time.Hour

// A Situation is all that a plan is made of.
type Situation struct {
	Owner Owner
	Want  map[string]Print // the site
	Known *Manifest        // nil where there is none that can be read
	// Seen is what was looked at: nil for a file that is not there. A name that is
	// missing was not looked at. Without a manifest, everything has to be in it.
	Seen map[string]*Info
	// MD5 is the digest of a file of the site, for servers that know that one.
	MD5 func(p string) (string, error)
	// OurFolder: there is a manifest, though it cannot be read.
	OurFolder bool
	// Remembered: it was this run that announced what is coming, and what it knows to be there
	// is said so in Known. The rest it brings again, to count each file once.
	Remembered bool
	MoveIn     bool // told to go in where something else stands
	AtOnce     bool // told to keep nothing that is gone
	Now        time.Time
}

// A Plan says what to do, and nothing of how.
type Plan struct {
	// Stages are the files to bring, each stage after the one before it.
	Stages [][]string
	Keep   int               // files that are there as they should be
	After  map[string]Listed // what the manifest lists when all is done
	Remove []string          // what is gone for long enough
	// Replaced are files that this program did not bring and will replace, and Left
	// those that it leaves alone (known only without a manifest). As long as MoveIn is
	// not said, a plan with Replaced must not be carried out; see Stranger.
	Replaced, Left []string
	// Stranger: something stands there that is not this shop's.
	Stranger bool
	// Other is the owner of a site that is another shop's; nil for none.
	Other *Owner
	again bool            // the manifest has to be written though no file changes
	there map[string]bool // files to bring whose old ones are there, and so their folders
}

// Nothing tells whether all is as it should be.
func (p *Plan) Nothing() bool { return len(p.Stages) == 0 && len(p.Remove) == 0 && !p.again }

// Make makes the plan of a situation.
func Make(s Situation) (*Plan, error) {
	plan := &Plan{After: map[string]Listed{}, there: map[string]bool{}}
	known := map[string]Listed{}
	if s.Known != nil {
		known = s.Known.Files
		if other := s.Known.Owner; other != s.Owner {
			plan.again = true
			if other.strange(s.Owner) {
				// What it lists is the other's: nothing of it is removed.
				plan.Other, known = &other, map[string]Listed{}
			}
		}
	}
	found, err := recognized(s, known)
	if err != nil {
		return nil, err
	}
	ours := s.OurFolder || slices.ContainsFunc(found, func(p string) bool { return !strings.HasPrefix(p, "assets/") })
	for _, p := range found {
		known[p], plan.again = Listed{State: There, Print: s.Want[p]}, true
	}
	var stages [output.Turns][]string
	for _, p := range slices.Sorted(maps.Keys(s.Want)) {
		want := s.Want[p]
		had, listed := known[p]
		info, looked := s.Seen[p]
		there := looked && info != nil
		plan.After[p] = Listed{State: There, Print: want}
		switch {
		case listed && had.State != Coming && had.Print == want && (!looked || there && info.Size == want.Size):
			plan.Keep++
			plan.again = plan.again || had.State != There || s.Known == nil
			continue
		case there && !listed && !(s.Known == nil && ours):
			plan.Replaced = append(plan.Replaced, p)
		}
		plan.there[p] = there
		stage := output.Turn(p, there || !looked && listed)
		stages[stage] = append(stages[stage], p)
	}
	for _, stage := range stages {
		if len(stage) > 0 {
			plan.Stages = append(plan.Stages, stage)
		}
	}
	plan.retire(s, known)
	if s.Known == nil {
		for _, p := range slices.Sorted(maps.Keys(s.Seen)) {
			if _, wanted := s.Want[p]; !wanted && s.Seen[p] != nil {
				plan.Left = append(plan.Left, p)
			}
		}
	}
	plan.Stranger = plan.Other != nil || len(plan.Replaced) > 0 || len(plan.Left) > 0 && !ours
	return plan, nil
}

// recognized are, of what a run that was cut off had announced, and of everything where
// there is no manifest, the files that are there and are surely the site's: by a name that
// says the content, or by a digest that the server knows, and by their size, which shows
// one that was cut short.
func recognized(s Situation, known map[string]Listed) (found []string, err error) {
	for _, p := range slices.Sorted(maps.Keys(s.Want)) {
		info := s.Seen[p]
		if info == nil || info.Size != s.Want[p].Size || s.Known != nil && (s.Remembered || known[p].State != Coming) {
			continue
		}
		same := output.NamedByContent(p)
		if info.MD5 != "" {
			sum, err := s.MD5(p)
			if err != nil {
				return nil, err
			}
			same = sum == info.MD5
		}
		if same {
			found = append(found, p)
		}
	}
	return found, nil
}

// retire sorts what the site has no more into what stays for a day and what goes.
func (p *Plan) retire(s Situation, known map[string]Listed) {
	for _, name := range slices.Sorted(maps.Keys(known)) {
		if _, wanted := s.Want[name]; wanted {
			continue
		}
		f := known[name]
		if info, looked := s.Seen[name]; looked && info == nil {
			p.again = true // somebody removed it
			continue
		}
		if f.State != Gone {
			p.again = true
			f.State, f.Since = Gone, s.Now
		}
		// One that went in the future by the far end's clock was written when that was
		// wrong; its day begins anew.
		if f.Since.After(s.Now) {
			p.again = true
			f.Since = s.Now
		}
		if s.AtOnce || s.Now.Sub(f.Since) >= kept {
			p.Remove = append(p.Remove, name)
		}
		p.After[name] = f
	}
}

// gone is how many files the far end keeps though the site has them no more.
func (p *Plan) gone() int {
	n := 0
	for _, f := range p.After {
		if f.State == Gone {
			n++
		}
	}
	return n - len(p.Remove)
}

// announced is the manifest before the first file is brought: all that is to come is
// marked so, and what it replaces is no longer sure.
func (p *Plan) announced() map[string]Listed {
	all := maps.Clone(p.After)
	for _, stage := range p.Stages {
		for _, name := range stage {
			all[name] = Listed{State: Coming, Print: p.After[name].Print}
		}
	}
	return all
}

// folders are the folders that new files of the plan lie in, each after those above.
func (p *Plan) folders() []string {
	dirs := map[string]bool{}
	for _, stage := range p.Stages {
		for _, name := range stage {
			for i, r := range name {
				if r == '/' && !p.there[name] {
					dirs[name[:i]] = true
				}
			}
		}
	}
	return slices.Sorted(maps.Keys(dirs))
}
