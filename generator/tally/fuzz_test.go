package tally

import (
	"bytes"
	"encoding/csv"
	"slices"
	"strconv"
	"testing"

	"asleft/generator/catalog"
	"asleft/generator/logbook"
)

// FuzzSessions: whatever sessions a machine has, the hours add up in every way
// of adding them, and the table that a spreadsheet opens has no formula in it.
func FuzzSessions(f *testing.F) {
	f.Add([]byte{18, 30, 20, 15, 0}, "JM", "teardown")
	f.Add([]byte{22, 0, 1, 0, 1, 22, 30, 2, 0, 1}, "=1+1", "@x")
	f.Add([]byte{0, 0, 24, 60, 255}, "", "-2")
	f.Fuzz(func(t *testing.T, data []byte, by, task string) {
		var entries []*logbook.Entry
		var want logbook.Minutes
		for ; len(data) >= 5 && len(entries) < 40; data = data[5:] {
			from, to := clock2(data[0], data[1]), clock2(data[2], data[3])
			work := logbook.Minutes(to - from)
			if work <= 0 {
				work += day
			}
			e := entryOf("alder", "2026-03-02", nil)
			name := by
			if data[4]%2 == 0 {
				name += "2"
			}
			e.Sessions = []logbook.Session{{Place: e.In("hours[0]"), Timed: true, From: from, To: to, By: name, Task: task, Work: work}}
			entries = append(entries, e)
			want += work
		}
		c, _ := Count(shopOf("USD", 2, machineOf("alder", entries...)), catalog.English)
		sum := func(by map[string]logbook.Minutes) (all logbook.Minutes) {
			for _, m := range by {
				all += m
			}
			return all
		}
		for _, w := range []Work{c.Work, c.Machines[0].Work} {
			if w.Total != want || sum(w.ByPerson) != want || sum(w.ByTask) != want {
				t.Fatalf("%d minutes of work, added up to %+v", want, w)
			}
		}
		for _, by := range Rows {
			checkRows(t, c, by, want)
		}
	})
}

// checkRows looks at the table that a spreadsheet opens: no cell is a formula, and
// its column of minutes adds up to all that was worked.
func checkRows(t *testing.T, c *Shop, by string, want logbook.Minutes) {
	t.Helper()
	var b bytes.Buffer
	if err := c.WriteCSV(&b, by); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(&b).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	column, sum := slices.Index(rows[0], "work_minutes"), 0
	for n, row := range rows {
		for _, cell := range row {
			if harmless(cell) != cell {
				t.Fatalf("a cell starts a formula: %q", cell)
			}
		}
		if n > 0 {
			minutes, err := strconv.Atoi(row[column])
			if err != nil {
				t.Fatal(err)
			}
			sum += minutes
		}
	}
	if sum != int(want) {
		t.Fatalf("by %s: the column adds up to %d, %d were worked", by, sum, want)
	}
}

func clock2(h, m byte) logbook.Clock { return logbook.Clock(int(h%24)*60 + int(m%60)) }
