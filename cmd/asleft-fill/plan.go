package main

import (
	"fmt"
	"time"

	"github.com/spf13/afero"

	"asleft/generator/logbook"
)

// years are the days that the logs are spread over; a machine with very many
// entries may run a few years past them. All of it is in the past, for a date in
// the future is a problem.
const years = 3653

var firstDay = time.Date(2012, time.January, 1, 0, 0, 0, 0, time.UTC)

func dateOf(day int) string { return firstDay.AddDate(0, 0, day).Format(time.DateOnly) }

// A plan is what has to be known of the whole shop before one machine's log
// can be told.
type plan struct {
	Size
	sheets   []*logbook.Sheet
	machines []machinePlan
	donors   []int // machines that are parted out
	roll     *roll
}

// A machinePlan is one machine's share.
type machinePlan struct {
	key    string
	trade  *trade
	stage  string
	person string
	helper string // of that person alone
	days   []int  // one for each entry
	first  int    // how many entries the machines before it have
}

func newPlan(size Size) (*plan, error) {
	sheets, err := builtInSheets()
	if err != nil {
		return nil, err
	}
	p := &plan{Size: size, sheets: sheets, machines: make([]machinePlan, size.Machines), roll: newRoll(size)}
	pick := newChance(size.Seed, planStream)
	counts, first := shares(pick, size.Entries, size.Machines), 0
	for i := range p.machines {
		p.machines[i] = planMachine(pick, i)
		p.machines[i].first = first
		first += counts[i]
		if p.machines[i].stage == logbook.PartedOut {
			p.donors = append(p.donors, i)
		}
	}
	p.handOutDays(pick, counts)
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

func planMachine(pick chance, number int) machinePlan {
	t := &trades[pick.IntN(len(trades))]
	return machinePlan{
		key:   fmt.Sprintf("%s-%s-%d", one(pick, nicknames), t.short, number+1),
		trade: t,
		stage: one(pick, []string{
			logbook.InTheShop, logbook.InTheShop, logbook.ForSale, logbook.ForSale, logbook.ForSale,
			logbook.Sold, logbook.Sold, logbook.Sold, logbook.Keeping, logbook.PartedOut, logbook.Customers,
		}),
	}
}

// handOutDays gives each entry an evening. The machines of one person take turns,
// day by day, so nobody is at two machines at once.
func (p *plan) handOutDays(pick chance, counts []int) {
	most := 1
	for _, n := range counts {
		most = max(most, n)
	}
	turns := max(1, years/2/most)
	people := (len(counts) + turns - 1) / turns
	for i := range p.machines {
		m := &p.machines[i]
		m.person, m.helper = initials(i%people), initials(people+i%people)
		free := max(0, years/turns-counts[i]) // turns that it can leave out
		turn := pick.IntN(free/2 + 1)
		for range counts[i] {
			m.days = append(m.days, turn*turns+i/people)
			turn += 1 + pick.IntN(min(5, free/2/counts[i])+1)
		}
	}
}

// initials are all different for 676 people; a shop that large does not come
// up, and then they are numbered.
func initials(i int) string {
	a, b := byte('A'+(i*7+9)%26), byte('A'+(i/26*5+i*11+12)%26)
	if i >= 26*26 {
		return fmt.Sprintf("%c%c%d", a, b, i)
	}
	return string([]byte{a, b})
}

// arrived is the day on which a machine came: that of its first entry.
func (m *machinePlan) arrived() int {
	if len(m.days) == 0 {
		return 0
	}
	return m.days[0]
}

// photos are the numbers, from and up to, of the photos that an entry has. They are
// spread evenly over all entries of the shop.
func (p *plan) photos(entry int) (from, to int) {
	before := func(entry int) int { return (entry*p.Photos + p.Entries - 1) / p.Entries }
	return before(entry), before(entry + 1)
}
