package tally

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
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

// jsonFigures are the figures of a machine or of the shop, as JSON has them.
type jsonFigures struct {
	Key         string                     `json:"key,omitempty"`
	WorkMinutes logbook.Minutes            `json:"work_minutes"`
	ByPerson    map[string]logbook.Minutes `json:"by_person"`
	ByTask      map[string]logbook.Minutes `json:"by_task"`
	Money       jsonMoney                  `json:"money"`
}

type jsonMoney []*string // in the order of figures; nil for null

// MarshalJSON is an object with every figure, in the order of a bill.
func (m jsonMoney) MarshalJSON() ([]byte, error) {
	var b bytes.Buffer
	for i, amount := range m {
		value, err := json.Marshal(amount)
		if err != nil {
			return nil, fmt.Errorf("the figure %s: %w", figures[i].name, err)
		}
		fmt.Fprintf(&b, ",%q:%s", figures[i].name, value)
	}
	return append(append([]byte("{"), bytes.TrimPrefix(b.Bytes(), []byte(","))...), '}'), nil
}

// WriteJSON writes the count as one JSON object:
//
//	{"currency": "USD",
//	 "machines": [{"key", "work_minutes", "by_person": {NAME: minutes}, "by_task": {TASK: minutes}, "money": {...}}],
//	 "shop": {the same without a key}}
//
// An amount is a string in the shop's currency with all decimals of its minor
// unit; a figure that does not exist is null, and so is the currency of a shop
// that names none. Hours that name nobody, or no task, stand under the empty
// name. After Only, "shop" still holds the figures of the whole shop. Same
// logs, same bytes.
func (s *Shop) WriteJSON(w io.Writer) error {
	out := struct {
		Currency *string       `json:"currency"`
		Machines []jsonFigures `json:"machines"`
		Shop     jsonFigures   `json:"shop"`
	}{Machines: []jsonFigures{}, Shop: s.jsonFigures("", s.Work, s.Money)}
	if s.Currency != "" {
		out.Currency = &s.Currency
	}
	for _, m := range s.Machines {
		out.Machines = append(out.Machines, s.jsonFigures(m.Key, m.Work, m.Money))
	}
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", " ")
	if err := enc.Encode(out); err != nil {
		return fmt.Errorf("writing the count as JSON: %w", err)
	}
	return nil
}

func (s *Shop) jsonFigures(key string, work Work, money Money) jsonFigures {
	out := jsonFigures{Key: key, WorkMinutes: work.Total, ByPerson: work.ByPerson, ByTask: work.ByTask}
	for _, f := range figures {
		var value *string
		if text := s.amount(*f.of(&money)); text != "" {
			value = &text
		}
		out.Money = append(out.Money, value)
	}
	return out
}

// amount is an amount with the currency's decimals; empty where it does not
// exist.
func (s *Shop) amount(a logbook.Amount) string {
	if !a.Set {
		return ""
	}
	return a.Rescale(max(s.Digits, 0)).String()
}

// The kinds of rows of WriteCSV.
const (
	rowMachine = "machine"
	rowPerson  = "person"
	rowTask    = "task"
	rowShop    = "shop"
)

// WriteCSV writes the count as CSV with a header: a row for each machine, each
// followed by a row for each person and each task with its minutes, and at the
// end one for the whole shop, which is left out after Only. The column "row"
// says which kind it is, so that a spreadsheet can add up the rows of one kind.
// The figures are named as in JSON; an empty cell is one that does not exist.
//
// A cell that a spreadsheet would take for a formula gets an apostrophe before
// it (see harmless).
func (s *Shop) WriteCSV(w io.Writer) error {
	out := csv.NewWriter(w)
	header := []string{"row", "machine", "name", "work_minutes", "meter", "meter_hours", "currency"}
	for _, f := range figures {
		header = append(header, f.name)
	}
	rows := [][]string{header}
	for _, m := range s.Machines {
		hours := strings.TrimSuffix(m.Meter.Total.String(), " "+m.Meter.Total.Unit().Symbol())
		rows = append(rows, s.csvMoney([]string{rowMachine, m.Key, m.Name, number(m.Work.Total), m.Meter.State, hours}, m.Money))
		rows = append(rows, csvWork(m.Key, m.Work, len(header))...)
	}
	if !s.one {
		rows = append(rows, s.csvMoney([]string{rowShop, "", "", number(s.Work.Total), "", ""}, s.Money))
	}
	for _, row := range rows {
		for i := range row {
			row[i] = harmless(row[i])
		}
	}
	if err := out.WriteAll(rows); err != nil {
		return fmt.Errorf("writing the count as CSV: %w", err)
	}
	return nil
}

func (s *Shop) csvMoney(row []string, money Money) []string {
	row = append(row, s.Currency)
	for _, f := range figures {
		row = append(row, s.amount(*f.of(&money)))
	}
	return row
}

// csvWork are the rows of persons and of tasks, each as wide as the header.
func csvWork(key string, work Work, width int) [][]string {
	var rows [][]string
	add := func(kind string, by map[string]logbook.Minutes) {
		for _, name := range slices.Sorted(maps.Keys(by)) {
			row := make([]string, width)
			copy(row, []string{kind, key, name, number(by[name])})
			rows = append(rows, row)
		}
	}
	add(rowPerson, work.ByPerson)
	add(rowTask, work.ByTask)
	return rows
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
