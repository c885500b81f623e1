package tally

import (
	"bytes"
	"cmp"
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"
	"unicode/utf8"

	"asleft/generator/catalog"
	"asleft/generator/logbook"
)

// WriteText writes the count as plain tables for a terminal: one for each
// machine and one for the whole shop, then all of them beside each other. After
// Only there is the one machine alone. Work is in hours and minutes, amounts are
// in the shop's currency; a figure that does not exist has no line.
func (s *Shop) WriteText(w io.Writer, words *catalog.Catalog) error {
	t := tallyText{s, words}
	var blocks []block
	for _, m := range s.Machines {
		blocks = append(blocks, t.machine(m))
	}
	if !s.one {
		blocks = append(blocks, block{words.Say("tally.whole-shop"), slices.Concat(t.work(s.Work), t.money(s.Money)), nil})
	}
	var b bytes.Buffer
	writeBlocks(&b, blocks)
	if !s.one && len(s.Machines) > 1 {
		b.WriteString("\n")
		writeTable(&b, t.overview())
	}
	if _, err := b.WriteTo(w); err != nil {
		return fmt.Errorf("writing the count: %w", err)
	}
	return nil
}

// A block is a heading, lines of a label and a value, and notes under them.
type block struct {
	heading string
	lines   [][2]string
	notes   []string
}

// A tallyText words a count.
type tallyText struct {
	count *Shop
	words *catalog.Catalog
}

func (t tallyText) machine(m Machine) block {
	b := block{heading: m.Key}
	if m.Name != "" {
		b.heading = t.words.Say("tally.machine", "key", m.Key, "name", m.Name)
	}
	b.lines = slices.Concat(t.work(m.Work), t.meter(m.Meter), t.money(m.Money))
	if t.count.Currency == "" {
		return b
	}
	if !m.Money.Paid.Set {
		b.notes = append(b.notes, t.words.Say("tally.paid-not-written"))
	}
	if n := unpriced(m.Lines); n > 0 {
		b.notes = append(b.notes, t.words.Count("tally.unpriced", n))
	}
	return b
}

// unpriced counts the part lines that no price was written for.
func unpriced(lines []Line) int {
	n := 0
	for _, l := range lines {
		if !l.IsCost && !l.Amount.Set {
			n++
		}
	}
	return n
}

func (t tallyText) work(w Work) [][2]string {
	lines := [][2]string{{t.words.Say("tally.work"), w.Total.String()}}
	for _, person := range slices.Sorted(maps.Keys(w.ByPerson)) {
		label := t.words.Say("tally.by-person", "person", person)
		if person == TheShop {
			label = t.words.Say("tally.by-the-shop")
		}
		lines = append(lines, [2]string{"  " + label, w.ByPerson[person].String()})
	}
	if w.ByTask[NoTask] == w.Total {
		return lines // nobody named a task
	}
	for _, task := range slices.Sorted(maps.Keys(w.ByTask)) {
		label := t.words.Say("tally.on-task", "task", task)
		if task == NoTask {
			label = t.words.Say("tally.on-no-task")
		}
		lines = append(lines, [2]string{"  " + label, w.ByTask[task].String()})
	}
	return lines
}

func (t tallyText) meter(m Meter) [][2]string {
	switch {
	case !m.HasTotal:
		return [][2]string{{t.words.Say("tally.meter"), t.words.Say("tally.meter-not-known")}}
	case m.State == Replaced:
		return [][2]string{{t.words.Say("tally.meter-replaced"), m.Total.String()}}
	}
	return [][2]string{{t.words.Say("tally.meter"), m.Total.String()}}
}

func (t tallyText) money(m Money) [][2]string {
	if t.count.Currency == "" {
		return nil
	}
	lines := [][2]string{{t.words.Say("tally.currency"), t.count.Currency}}
	for _, f := range figures {
		if amount := t.count.amount(*f.of(&m)); amount != "" {
			lines = append(lines, [2]string{"  " + t.words.Say(f.label), amount})
		}
	}
	return lines
}

// overview is a row for each machine and one for the shop, under a header.
func (t tallyText) overview() [][]string {
	columns := []figure{cashIn, breakEvenWithLabor, sold, leftOver, perHour}
	header := []string{t.words.Say("tally.column-machine"), t.words.Say("tally.column-work"), t.words.Say("tally.column-cash-in"),
		t.words.Say("tally.column-with-labor"), t.words.Say("tally.sold"), t.words.Say("tally.column-left-over"), t.words.Say("tally.column-per-hour")}
	row := func(name string, work logbook.Minutes, m Money) []string {
		cells := []string{name, work.String()}
		for _, f := range columns {
			cells = append(cells, cmp.Or(t.count.amount(*figures[f].of(&m)), "-"))
		}
		return cells
	}
	table := [][]string{header}
	for _, m := range t.count.Machines {
		table = append(table, row(m.Key, m.Work.Total, m.Money))
	}
	return append(table, row(t.words.Say("tally.whole-shop"), t.count.Work.Total, t.count.Money))
}

// writeBlocks sets labels to the left and values to the right, in the same
// columns in every block.
func writeBlocks(b *bytes.Buffer, blocks []block) {
	label, value := 0, 0
	for _, bl := range blocks {
		for _, l := range bl.lines {
			label, value = max(label, width(l[0])), max(value, width(l[1]))
		}
	}
	for i, bl := range blocks {
		if i > 0 {
			b.WriteString("\n")
		}
		b.WriteString(oneLine(bl.heading) + "\n")
		for _, l := range bl.lines {
			b.WriteString("  " + oneLine(l[0]) + spaces(label-width(l[0])+2+value-width(l[1])) + oneLine(l[1]) + "\n")
		}
		for _, n := range bl.notes {
			b.WriteString("  " + oneLine(n) + "\n")
		}
	}
}

// writeTable sets the first column to the left and the others to the right.
func writeTable(b *bytes.Buffer, table [][]string) {
	widths := make([]int, len(table[0]))
	for _, row := range table {
		for i, cell := range row {
			widths[i] = max(widths[i], width(cell))
		}
	}
	for _, row := range table {
		for i, cell := range row {
			pad := spaces(widths[i] - width(cell))
			if i == 0 {
				b.WriteString(cell + pad)
			} else {
				b.WriteString("  " + pad + cell)
			}
		}
		b.WriteString("\n")
	}
}

// oneLine keeps what somebody wrote to its own line: behind a line's end in a name
// could stand what looks like another figure. Each character gives one.
func oneLine(s string) string {
	return strings.Map(func(r rune) rune {
		if r < ' ' {
			return ' '
		}
		return r
	}, s)
}

// width is the columns of a text, each character taken for one that is one: the
// isolates around a right-to-left name take no room.
func width(s string) int {
	return utf8.RuneCountInString(s) - strings.Count(s, "\u2068") - strings.Count(s, "\u2069")
}

func spaces(n int) string { return strings.Repeat(" ", max(n, 0)) }
