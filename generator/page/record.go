package page

import (
	_ "embed"
	"encoding/json"
	"fmt"

	"asleft/generator/logbook"
)

// recordSchema is the JSON Schema that every record.json follows.
//
//go:embed record.schema.json
var recordSchema []byte

// A Record is a machine's public facts, as record.json holds them. Dates are
// YYYY-MM-DD, quantities a number and a unit, money a decimal string.
type Record struct {
	Schema     int               `json:"schema"`
	Machine    RecordMachine     `json:"machine"`
	Hours      RecordHours       `json:"hours"`
	Money      RecordMoney       `json:"money"`
	Checks     []RecordCheck     `json:"checks"`
	Readings   []RecordReading   `json:"readings"`
	Tests      []RecordTest      `json:"tests"`
	Defects    []RecordDefect    `json:"defects"`
	Changes    []RecordChange    `json:"changes"`
	Missing    []RecordMissing   `json:"missing"`
	Parts      []RecordPart      `json:"parts"`
	Statements []RecordStatement `json:"statements"`
}

// RecordMachine says which machine it is.
type RecordMachine struct {
	Key     string  `json:"key"`
	Name    string  `json:"name"`
	Kind    string  `json:"kind"`
	Maker   string  `json:"maker"`
	Model   string  `json:"model"`
	Serial  string  `json:"serial"`
	Year    string  `json:"year"`
	Stage   string  `json:"stage"`
	Arrived string  `json:"arrived"`
	Asking  *string `json:"asking"`
}

// RecordHours are the hours; WorkMinutes is null where the shop does not show
// them, RunSinceWorkMinutes where the log shows no work on an engine.
type RecordHours struct {
	WorkMinutes         *int        `json:"work_minutes"`
	RunSinceWorkMinutes *int        `json:"run_since_work_minutes"`
	Meter               RecordMeter `json:"meter"`
}

// RecordMeter is what is known of the hours on the machine.
type RecordMeter struct {
	State string  `json:"state"`
	Total *string `json:"total"`
}

// RecordMoney is the public part of the money; Parts is null where the shop
// does not show it.
type RecordMoney struct {
	Currency string  `json:"currency"`
	Parts    *string `json:"parts"`
}

// RecordCheck is a point of the list with its answer.
type RecordCheck struct {
	Item       string  `json:"item"`
	System     string  `json:"system"`
	Safety     bool    `json:"safety"`
	Result     string  `json:"result"`
	Date       *string `json:"date"`
	StaleSince *string `json:"stale_since"`
}

// RecordValue is a reading of one day.
type RecordValue struct {
	Value string `json:"value"`
	Date  string `json:"date"`
}

// RecordReading is a measured thing.
type RecordReading struct {
	What    string      `json:"what"`
	Where   string      `json:"where"`
	State   string      `json:"state"`
	AsFound RecordValue `json:"as_found"`
	AsLeft  RecordValue `json:"as_left"`
	Gauge   *string     `json:"gauge"`
	Limit   *string     `json:"limit"`
	Source  string      `json:"source"`
	Verdict string      `json:"verdict"`
	Stale   bool        `json:"stale"`
}

// RecordTest is a bench test.
type RecordTest struct {
	Test    string         `json:"test"`
	Where   string         `json:"where"`
	Date    string         `json:"date"`
	Results []RecordResult `json:"results"`
	Says    []string       `json:"says"`
}

// RecordResult is one result of a bench test.
type RecordResult struct {
	Name    string `json:"name"`
	Value   string `json:"value"`
	Verdict string `json:"verdict"`
}

// RecordDefect is a defect and where it stands.
type RecordDefect struct {
	Key    string  `json:"key"`
	Defect string  `json:"defect"`
	System string  `json:"system"`
	Safety bool    `json:"safety"`
	State  string  `json:"state"`
	Found  string  `json:"found"`
	Closed *string `json:"closed"`
	Back   *string `json:"back"`
	Stale  bool    `json:"stale"`
}

// RecordChange is a departure from how the maker built it.
type RecordChange struct {
	What    string   `json:"what"`
	System  string   `json:"system"`
	Affects []string `json:"affects"`
	Date    string   `json:"date"`
}

// RecordMissing is a part that was gone on arrival.
type RecordMissing struct {
	Part   string  `json:"part"`
	Fitted *string `json:"fitted"`
}

// RecordPart is a part put in.
type RecordPart struct {
	Part   string `json:"part"`
	Qty    string `json:"qty"`
	Source string `json:"source"`
	From   string `json:"from"`
	Date   string `json:"date"`
}

// RecordStatement is a statement of the report with the files it rests on.
type RecordStatement struct {
	Section  int      `json:"section"`
	Text     string   `json:"text"`
	Safety   bool     `json:"safety"`
	Evidence []string `json:"evidence"`
}

// record writes a machine's public facts.
func (s *Site) record(n int, put Put) error {
	b := buffers.Get().(*bounded)
	defer b.done()
	enc := json.NewEncoder(b)
	enc.SetEscapeHTML(true)
	enc.SetIndent("", " ")
	m := s.Shop.Machines[n]
	if err := enc.Encode(s.Record(n)); err != nil {
		return fmt.Errorf("the record of %s: %w", m.Key, err)
	}
	return put(recordPath(m.Key), b.Bytes())
}

// Record gathers the public facts of the n-th machine.
func (s *Site) Record(n int) Record {
	m, r, count := s.Shop.Machines[n], s.Report(n), s.Count.Machines[n]
	rec := Record{
		Schema: 1,
		Machine: RecordMachine{
			Key: m.Key, Name: m.Name, Kind: m.Kind, Maker: m.Maker, Model: m.Model,
			Serial: s.serial(m.Serial), Year: m.Year, Stage: m.Stage, Arrived: string(m.Arrived),
		},
		Hours: RecordHours{Meter: RecordMeter{State: count.Meter.State}},
		Money: RecordMoney{Currency: s.Shop.Currency},
	}
	if m.Stage == logbook.ForSale {
		rec.Machine.Asking = s.decimal(m.Asking)
	}
	if count.Meter.HasTotal {
		rec.Hours.Meter.Total = some(count.Meter.Total.String())
	}
	if s.Shop.Show.Hours {
		work := int(count.Work.Total)
		rec.Hours.WorkMinutes = &work
	}
	if r.Run.Work != "" {
		run := int(r.Run.Since)
		rec.Hours.RunSinceWorkMinutes = &run
	}
	if s.Shop.Show.PartsCost {
		rec.Money.Parts = s.decimal(count.Money.Parts)
	}
	return rec
}

// some is the text, or null for none.
func some(s string) *string {
	if s == "" {
		return nil
	}
	return &s
}

func (s *Site) decimal(a logbook.Amount) *string {
	if !a.Set {
		return nil
	}
	return some(a.Rescale(s.Shop.Digits).String())
}
