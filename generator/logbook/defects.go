package logbook

import (
	"asleft/generator/portable"
	"asleft/generator/spelling"
)

// A trail follows the keys of a machine's defects through its entries.
type trail struct {
	*reader
	open   map[string]Place // where each open defect was found
	mended map[string]bool  // repaired, and not found again since
	found  map[string]bool
	gone   map[string]Place // where it left with its part, and was not found again since
	keys   []string
	all    map[string]bool // the keys that any entry of the machine found
	unread bool            // an entry could not be read: what it found, nobody knows
	adrift bool            // an entry has no date, or is unread: the order is not known
}

// defects follows each defect's key through the entries in their order.
func (r *reader) defects(m *Machine) {
	t := &trail{reader: r, open: map[string]Place{}, mended: map[string]bool{}, found: map[string]bool{}, gone: map[string]Place{}, all: map[string]bool{}}
	for _, e := range m.Entries {
		t.unread = t.unread || r.unread[e.File]
		t.adrift = t.adrift || e.Date == ""
		for _, d := range e.Defects {
			t.all[d.Key] = true
		}
	}
	for _, e := range m.Entries {
		for _, d := range e.Defects {
			t.finds(d)
		}
		for _, p := range e.Photos {
			if p.Shows != "" {
				t.known(p.Shows, p.ShowsAt)
			}
		}
		for _, d := range e.Repaired {
			t.mends(d)
		}
		for _, d := range e.WorkedAround {
			t.there(d.Key, d.KeyAt)
			delete(t.open, d.Key)
			delete(t.mended, d.Key)
		}
		for _, g := range e.Gone {
			if t.there(g.Key, g.KeyAt) {
				t.gone[g.Key] = g.Place
			}
			delete(t.open, g.Key)
			delete(t.mended, g.Key)
		}
	}
}

func (t *trail) finds(d Defect) {
	if d.Key == "" {
		return
	}
	if !portable.IsSlug(d.Key) {
		t.report(d.In("key"), "problem.defect-key", "read", d.Key)
	}
	if at, still := t.open[d.Key]; still && !t.adrift {
		t.report(d.In("key"), "problem.defect-twice", "key", d.Key, "file", at.File, "line", at.Line)
	}
	if !t.found[d.Key] {
		t.keys = append(t.keys, d.Key)
	}
	t.open[d.Key], t.found[d.Key] = d.Place, true
	delete(t.mended, d.Key)
	delete(t.gone, d.Key)
}

// mends takes in a repair. One that does not say how only brings the proof of
// a repair that was made before.
func (t *trail) mends(d Repair) {
	if !t.there(d.Key, d.KeyAt) {
		return
	}
	switch {
	case d.How != "" || t.adrift:
	case !t.mended[d.Key]:
		t.report(d.In("how"), "problem.repair-without-how", "key", d.Key)
	case d.Proof == "":
		t.report(d.In("proof"), "problem.proof-without-proof", "key", d.Key)
	}
	delete(t.open, d.Key)
	t.mended[d.Key] = true
}

// there tells whether something can be done about a defect: it is known, and did not
// leave with its part. What is written of one that left would be of no defect.
func (t *trail) there(key string, at Place) bool {
	if !t.known(key, at) {
		return false
	}
	if left, gone := t.gone[key]; gone && !t.adrift {
		t.report(at, "problem.defect-gone", "key", key, "file", left.File, "line", left.Line)
		return false
	}
	return true
}

// known tells whether an entry may speak of a defect, and reports a key that
// nobody has found up to then.
func (t *trail) known(key string, at Place) bool {
	switch {
	case key == "":
		return false
	case t.found[key] || t.unread || t.adrift && t.all[key]:
		return true
	}
	if near := spelling.Nearest(key, t.keys); near != "" {
		t.report(at, "problem.defect-unknown-near", "read", key, "near", near)
	} else {
		t.report(at, "problem.defect-unknown", "read", key)
	}
	return false
}
