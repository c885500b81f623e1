package main

import (
	"fmt"
	"path"

	"github.com/spf13/afero"

	"asleft/generator/logbook"
)

// A plan is what has to be known of the whole shop before one machine's log
// can be told.
type plan struct {
	Size
	sheets   []*logbook.Sheet
	machines []machinePlan
	donors   []int    // machines that are parted out, in the order they came
	photos   []string // paths
}

// A machinePlan is one machine's share.
type machinePlan struct {
	key     string
	trade   *trade
	model   string
	stage   string
	arrived int // day
	entries []entryPlan
}

// An entryPlan is one evening's.
type entryPlan struct {
	day      int
	sessions []session
	bare     bool     // hours as one number
	photos   []string // file names
}

func newPlan(size Size) (*plan, error) {
	sheets, err := builtInSheets()
	if err != nil {
		return nil, err
	}
	p := &plan{Size: size, sheets: sheets, machines: make([]machinePlan, size.Machines)}
	pick := newChance(size.Seed, planStream)
	counts := shares(pick, size.Entries, size.Machines)
	cal := newCalendar(size.Entries)
	for i := range p.machines {
		p.machines[i] = planMachine(pick, i, counts[i])
		if p.machines[i].stage == logbook.PartedOut {
			p.donors = append(p.donors, i)
		}
		if err := p.machines[i].schedule(pick, cal, counts[i]); err != nil {
			return nil, err
		}
	}
	p.handOutPhotos()
	return p, nil
}

// builtInSheets asks the logbook for the sheets that come with the program, so
// that checks have the exact wording of their items.
func builtInSheets() ([]*logbook.Sheet, error) {
	folder := afero.NewMemMapFs()
	if err := afero.WriteFile(folder, "shop.md", []byte("---\nshop: S\ncurrency: USD\n---\n"), 0o644); err != nil {
		return nil, fmt.Errorf("writing in memory: %w", err)
	}
	shop, problems, err := logbook.Read(folder, logbook.Options{})
	if err != nil || len(problems) > 0 {
		return nil, fmt.Errorf("reading the built-in sheets: %w (%v)", err, problems)
	}
	return shop.Sheets, nil
}

// shares hands entries out to machines, some to each, and then moves some from
// one to another: no two logs are alike.
func shares(pick chance, entries, machines int) []int {
	counts := make([]int, machines)
	for i := range counts {
		counts[i] = entries / machines
		if i < entries%machines {
			counts[i]++
		}
	}
	for range machines {
		from, to := pick.IntN(machines), pick.IntN(machines)
		if most := counts[from] / 2; most > 0 && counts[to] < 2*maxEach {
			moved := pick.IntN(most + 1)
			counts[from] -= moved
			counts[to] += moved
		}
	}
	return counts
}

func planMachine(pick chance, number, entries int) machinePlan {
	t := &trades[pick.IntN(len(trades))]
	m := machinePlan{
		key:   fmt.Sprintf("%s-%s-%d", one(pick, nicknames), t.short, number+1),
		trade: t,
		model: fmt.Sprintf("%s %d%s", one(pick, makers), pick.between(1, 99)*5, one(pick, []string{"", "", "-C", " S", " HD", "-2"})),
	}
	latest := max(1, years-2*entries-60)
	m.arrived = pick.IntN(latest)
	m.stage = one(pick, []string{
		logbook.InTheShop, logbook.InTheShop, logbook.ForSale, logbook.ForSale, logbook.ForSale,
		logbook.Sold, logbook.Sold, logbook.Sold, logbook.Keeping, logbook.PartedOut, logbook.Customers,
	})
	return m
}

// schedule finds an evening for each entry, no two of a machine on one day.
func (m *machinePlan) schedule(pick chance, cal *calendar, entries int) error {
	day := m.arrived
	for i := range entries {
		apart := min(12, (years-day)/(2*(entries-i))+1)
		day += 1 + pick.IntN(max(1, apart))
		if i == 0 {
			day = m.arrived + pick.IntN(2)
		}
		e := entryPlan{bare: pick.once(3)}
		for len(e.sessions) == 0 {
			if day >= len(cal.busy) {
				return fmt.Errorf("%w: there are not enough evenings for %d entries of one machine", errSize, entries)
			}
			if s, ok := cal.book(pick, day, 5*pick.between(6, 48), -1); ok {
				e.sessions = []session{s}
			} else {
				day++
			}
		}
		e.day = day
		e.finish(pick, cal)
		m.entries = append(m.entries, e)
	}
	return nil
}

// finish fills in breaks and tasks, and now and then a second pair of hands.
func (e *entryPlan) finish(pick chance, cal *calendar) {
	if !e.bare && pick.once(4) {
		if s, ok := cal.book(pick, e.day, 5*pick.between(6, 30), e.sessions[0].personRank); ok {
			e.sessions = append(e.sessions, s)
		}
	}
	for i := range e.sessions {
		s := &e.sessions[i]
		s.task = one(pick, tasks)
		if s.to-s.from > 90 && pick.once(3) {
			s.less = 5 * pick.between(2, 6)
		}
	}
}

// handOutPhotos spreads the photos evenly over all entries of the shop.
func (p *plan) handOutPhotos() {
	var all []*entryPlan
	var dirs []string
	for i := range p.machines {
		m := &p.machines[i]
		for k := range m.entries {
			all = append(all, &m.entries[k])
			dirs = append(dirs, path.Join("machines", m.key, "photos"))
		}
	}
	for n := range p.Photos {
		at := n * len(all) / p.Photos
		name := fmt.Sprintf("%s-%d.jpg", dateOf(all[at].day), len(all[at].photos)+1)
		all[at].photos = append(all[at].photos, name)
		p.photos = append(p.photos, path.Join(dirs[at], name))
	}
}
