package record

import (
	_ "embed"

	"github.com/govalues/decimal"

	"asleft/generator/benchtest"
	"asleft/generator/catalog"
	"asleft/generator/condition"
	"asleft/generator/logbook"
	"asleft/generator/tally"
)

// Schema is the JSON Schema of a Record.
//
//go:embed record.schema.json
var Schema []byte

// Version is the schema's number.
const Version = 2

// A Record is a machine's public facts. Dates are as exact as the log has them
// ("2026-03-02", "2026-03", "about 2008"), quantities a number and a unit as
// they were written, money a decimal string in the shop's currency.
type Record struct {
	Schema   int       `json:"schema"`
	Machine  Machine   `json:"machine"`
	Hours    Hours     `json:"hours"`
	Money    Money     `json:"money"`
	Parts    []Part    `json:"parts"`
	Service  []Service `json:"service"`
	Tests    []Test    `json:"tests"`
	Subjects []Subject `json:"subjects"`
}

// A Machine says which machine it is. Asking is null unless it is for sale and
// has a price.
type Machine struct {
	Key     string  `json:"key"`
	Name    string  `json:"name"`
	Kind    string  `json:"kind"`
	Maker   string  `json:"maker"`
	Model   string  `json:"model"`
	Serial  string  `json:"serial"` // as much of it as the shop shows
	Year    string  `json:"year"`
	Stage   string  `json:"stage"`
	Arrived string  `json:"arrived"`
	Asking  *string `json:"asking"`
}

// Hours are null where nobody wrote them: WorkMinutes also where the shop does
// not show them, RunSinceWorkMinutes where the log shows no work on the engine.
type Hours struct {
	WorkMinutes         *int  `json:"work_minutes"`
	RunMinutes          *int  `json:"run_minutes"`
	RunSinceWorkMinutes *int  `json:"run_since_work_minutes"`
	Meter               Meter `json:"meter"`
}

// A Meter is what is known of the hours on the machine.
type Meter struct {
	State string  `json:"state"`
	Total *string `json:"total"`
}

// Money is the public part of it. Parts is null where the shop does not show it
// or no part has a price; PartsPriced of PartsInAll have one.
type Money struct {
	Currency    string  `json:"currency"`
	Parts       *string `json:"parts"`
	PartsPriced int     `json:"parts_priced"`
	PartsInAll  int     `json:"parts_in_all"`
}

// A Part is a part put in, or bought and not put in.
type Part struct {
	Part   string `json:"part"`
	Number string `json:"number"`
	Qty    string `json:"qty"`
	Source string `json:"source"`
	From   string `json:"from"`
	Fate   string `json:"fate"`
	System string `json:"system"`
	Date   string `json:"date"`
}

// A Service is care that is no repair.
type Service struct {
	What   string `json:"what"`
	Amount string `json:"amount"`
	Grade  string `json:"grade"`
	System string `json:"system"`
	Every  string `json:"every"`
	Date   string `json:"date"`
}

// A Test is a bench test.
type Test struct {
	Test    string   `json:"test"`
	Where   string   `json:"where"`
	Date    string   `json:"date"`
	Results []Result `json:"results"`
	Says    []string `json:"says"`
}

// A Result is one result of a bench test; Limit and Gauge are null where there
// is none.
type Result struct {
	Name    string  `json:"name"`
	Value   string  `json:"value"`
	Limit   *string `json:"limit"`
	Source  string  `json:"source"`
	Gauge   *string `json:"gauge"`
	Verdict string  `json:"verdict"`
}

// A Subject is one thing that the report speaks of.
type Subject struct {
	Kind     string   `json:"kind"`
	Name     string   `json:"name"`
	Key      string   `json:"key"`
	Systems  []string `json:"systems"`
	Safety   string   `json:"safety"` // yes, no or not said
	Standing string   `json:"standing"`
	Open     bool     `json:"open"`
	History  []Said   `json:"history"`
	Touched  *Touched `json:"touched"`
	Absent   *Absent  `json:"absent"`
	Told     string   `json:"told"`
	Evidence []string `json:"evidence"`
}

// Said is one thing that the log said of a subject, in its own words behind the
// field that it stood in.
type Said struct {
	Date  string `json:"date"`
	Entry string `json:"entry"` // its file in the shop folder
	Said  string `json:"said"`
}

// Touched is the work that made evidence out of date.
type Touched struct {
	Date    string   `json:"date"`
	Entry   string   `json:"entry"`
	By      string   `json:"by"`
	Systems []string `json:"systems"`
}

// Absent is what the report says that the log lacks, since a day or ever.
type Absent struct {
	Of    string `json:"of"`
	Since string `json:"since"`
}

// Of are the public facts of a judged machine.
func Of(shop *logbook.Shop, m *logbook.Machine, r *condition.Report, count tally.Machine, words *catalog.Catalog) Record {
	rec := Record{
		Schema: Version,
		Machine: Machine{
			Key: m.Key, Name: m.Name, Kind: m.Kind, Maker: m.Maker, Model: m.Model,
			Serial: Serial(shop, m.Serial, words), Year: m.Year, Stage: m.Stage, Arrived: string(m.Arrived),
		},
		Money: Money{Currency: shop.Currency},
		Parts: []Part{}, Service: []Service{}, Tests: []Test{}, Subjects: []Subject{},
	}
	if m.Stage == logbook.ForSale {
		rec.Machine.Asking = Decimal(shop, m.Asking)
	}
	rec.hours(shop, m, r, count)
	rec.bought(shop, m, count)
	for _, t := range r.Tests {
		rec.Tests = append(rec.Tests, tested(t))
	}
	for _, s := range r.Subjects {
		rec.Subjects = append(rec.Subjects, subject(s))
	}
	return rec
}

func (rec *Record) hours(shop *logbook.Shop, m *logbook.Machine, r *condition.Report, count tally.Machine) {
	rec.Hours.Meter = Meter{State: count.Meter.State}
	if count.Meter.HasTotal {
		rec.Hours.Meter.Total = some(count.Meter.Total.String())
	}
	worked := false
	for _, e := range m.Entries {
		worked = worked || len(e.Sessions) > 0
	}
	if shop.Show.Hours && worked {
		work := int(count.Work.Total)
		rec.Hours.WorkMinutes = &work
	}
	if r.Run.Said {
		run := int(r.Run.All)
		rec.Hours.RunMinutes = &run
	}
	if r.Run.Work != "" && r.Run.SaidSince {
		run := int(r.Run.Since)
		rec.Hours.RunSinceWorkMinutes = &run
	}
}

// bought takes over parts and service.
func (rec *Record) bought(shop *logbook.Shop, m *logbook.Machine, count tally.Machine) {
	if shop.Show.PartsCost {
		rec.Money.Parts = Decimal(shop, count.Money.Parts)
	}
	for _, e := range m.Entries {
		for _, p := range e.Parts {
			rec.Money.PartsInAll++
			if p.Each.Set {
				rec.Money.PartsPriced++
			}
			rec.Parts = append(rec.Parts, Part{p.Part, p.Number, p.Qty.Trim(0).String(), p.Source, p.From, p.Fate, p.System, string(e.Date)})
		}
		for _, s := range e.Service {
			rec.Service = append(rec.Service, Service{s.What, s.Amount, s.Grade, s.System, s.Every, string(e.Date)})
		}
	}
}

func tested(t *benchtest.Outcome) Test {
	row := Test{Test: t.Test, Where: t.Where, Date: string(t.Entry.Date), Results: []Result{}, Says: append([]string{}, t.Says...)}
	for _, r := range t.Results {
		result := Result{Name: r.Name, Value: r.Value, Limit: some(r.Limit), Source: r.Source, Verdict: string(r.Verdict)}
		if !r.Gauge.IsZero() {
			result.Gauge = some(r.Gauge.String())
		}
		row.Results = append(row.Results, result)
	}
	return row
}

func subject(s *condition.Subject) Subject {
	row := Subject{
		Kind: string(s.Kind), Name: s.Name, Key: s.Key, Systems: append([]string{}, s.Systems...), Safety: string(s.Safety),
		Standing: string(s.Standing), Open: s.Open, History: []Said{}, Told: s.Told, Evidence: []string{},
	}
	if s.Safety == logbook.NotSaid {
		row.Safety = notSaid
	}
	for _, e := range s.History {
		row.History = append(row.History, Said{string(e.Entry.Date), e.Entry.File, said(e)})
	}
	if w := s.Touched; w != nil {
		row.Touched = &Touched{string(w.Entry.Date), w.Entry.File, w.By, append([]string{}, w.Systems...)}
	}
	if a := s.Absent; a != nil {
		row.Absent = &Absent{a.Of, string(a.Since)}
	}
	for _, e := range s.Evidence {
		row.Evidence = append(row.Evidence, e.File)
	}
	return row
}

const notSaid = "not said"

// said is an event behind the word for what it is.
func said(e condition.Event) string {
	if e.Said == "" {
		return e.What
	}
	return e.What + ": " + e.Said
}

// some is the text, or null for none.
func some(s string) *string {
	if s == "" {
		return nil
	}
	return &s
}

// Decimal is an amount in the shop's minor unit, null where there is none.
func Decimal(shop *logbook.Shop, a logbook.Amount) *string {
	if !a.Set {
		return nil
	}
	return some(rescaled(a.Decimal, shop.Digits))
}

func rescaled(d decimal.Decimal, digits int) string { return d.Rescale(digits).String() }

// Serial is as much of a serial number as the shop shows.
func Serial(shop *logbook.Shop, serial string, words *catalog.Catalog) string {
	runes := []rune(serial)
	switch {
	case serial == "" || shop.Show.Serial == logbook.SerialNone:
		return ""
	case shop.Show.Serial == logbook.SerialAll:
		return serial
	case len(runes) <= shownDigits:
		return words.Say("page.serial-short")
	}
	return words.Say("page.serial-last", "last", string(runes[len(runes)-shownDigits:]))
}

// shownDigits is how many of a serial number's last characters the public sees
// where the shop does not say otherwise.
const shownDigits = 4
