package tally

import (
	"encoding/csv"
	"fmt"
	"io"
	"maps"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"

	"asleft/generator/logbook"
)

// What the rows of WriteCSV can be.
const (
	ByMachine = "machine"
	ByPerson  = "person"
	ByTask    = "task"
	ByMonth   = "month"
)

// Rows are the kinds of rows of WriteCSV, the usual one first.
var Rows = []string{ByMachine, ByPerson, ByTask, ByMonth}

// WriteCSV writes the count as CSV with a header and rows of one kind, so that
// what a spreadsheet adds up in a column is right: there is no total among the
// rows, and no rate, which does not add up (left_over / work_minutes gives it).
//
//	ByMachine  hours, meter and money of each machine
//	ByPerson   minutes of each person; an empty name for those that name nobody
//	ByTask     minutes of each task; an empty one for those that name none
//	ByMonth    minutes, parts and costs of each month, by the dates of the entries
//
// After Only they are those of the one machine. The figures are named as in
// JSON; an empty cell is one that does not exist. A cell that a spreadsheet would
// take for a formula gets an apostrophe before it (see harmless).
func (s *Shop) WriteCSV(w io.Writer, by string) error {
	rows := s.rows(by)
	for _, row := range rows {
		for i := range row {
			row[i] = harmless(row[i])
		}
	}
	if err := csv.NewWriter(w).WriteAll(rows); err != nil {
		return fmt.Errorf("writing the count as CSV: %w", err)
	}
	return nil
}

func (s *Shop) rows(by string) [][]string {
	work := newWork()
	for _, m := range s.Machines {
		work.merge(m.Work)
	}
	switch by {
	case ByPerson:
		return workRows(ByPerson, work.ByPerson)
	case ByTask:
		return workRows(ByTask, work.ByTask)
	case ByMonth:
		return s.monthRows(work.ByMonth)
	}
	return s.machineRows()
}

func (s *Shop) machineRows() [][]string {
	header := []string{"machine", "name", "work_minutes", "meter", "meter_hours", "currency"}
	for _, f := range figures[:perHour] {
		header = append(header, f.name)
	}
	rows := [][]string{header}
	for _, m := range s.Machines {
		hours := strings.TrimSuffix(m.Meter.Total.String(), " "+m.Meter.Total.Unit().Symbol())
		row := []string{m.Key, m.Name, number(m.Work.Total), m.Meter.State, hours, s.Currency}
		for _, f := range figures[:perHour] {
			row = append(row, s.amount(*f.of(&m.Money)))
		}
		rows = append(rows, row)
	}
	return rows
}

func workRows(kind string, by map[string]logbook.Minutes) [][]string {
	rows := [][]string{{kind, "work_minutes"}}
	for _, name := range slices.Sorted(maps.Keys(by)) {
		rows = append(rows, []string{name, number(by[name])})
	}
	return rows
}

// monthFigures are the figures that have the date of an entry.
var monthFigures = []figure{parts, tax, shipping, costs, coresOpen}

func (s *Shop) monthRows(work map[logbook.Date]logbook.Minutes) [][]string {
	spent := map[logbook.Date][]sum{}
	for _, m := range s.Machines {
		for _, l := range m.Lines {
			month := monthOf(l.Entry.Date)
			if spent[month] == nil {
				spent[month] = make([]sum, len(monthFigures))
			}
			of := []logbook.Amount{l.Amount, l.Tax, l.Shipping, {}, l.Core}
			if l.IsCost {
				of = []logbook.Amount{{}, {}, {}, l.Amount, {}}
			}
			for i, amount := range of {
				spent[month][i].add(sum{Amount: amount}, max(s.Digits, 0))
			}
		}
	}
	header := []string{ByMonth, "work_minutes", "currency"}
	for _, f := range monthFigures {
		header = append(header, figures[f].name)
	}
	months := slices.AppendSeq(slices.Collect(maps.Keys(work)), maps.Keys(spent))
	slices.SortFunc(months, logbook.Date.Compare)
	rows := [][]string{header}
	for _, month := range slices.Compact(months) {
		row := []string{string(month), number(work[month]), s.Currency}
		for i := range monthFigures {
			var amount logbook.Amount
			if spent[month] != nil {
				amount = spent[month][i].Amount
			}
			row = append(row, s.amount(amount))
		}
		rows = append(rows, row)
	}
	return rows
}

// monthOf is the month of a date, or its year where nobody knows the month.
func monthOf(d logbook.Date) logbook.Date {
	if i := strings.LastIndexByte(string(d), '-'); i > strings.IndexByte(string(d), '-') {
		return d[:i]
	}
	return d
}

func number(m logbook.Minutes) string { return strconv.Itoa(int(m)) }

var plainNumber = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^-?[0-9]+(\.[0-9]+)?$`) })

// formulaStarts are the characters that make a spreadsheet take a cell for a
// formula, or that one passes over before it looks for these. The wide forms
// count in some countries' versions.
const formulaStarts = "=+-@\t\r\n＝＋－＠"

// harmless puts an apostrophe before a cell that would start a formula in a
// spreadsheet; a plain number, such as a loss, stays a number.
func harmless(cell string) string {
	if plainNumber().MatchString(cell) || strings.IndexAny(cell, formulaStarts) != 0 {
		return cell
	}
	return "'" + cell
}
