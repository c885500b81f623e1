package record

import (
	_ "embed"
	"encoding/json"
	"fmt"
	"io"
	"sync"

	"asleft/generator/catalog"
	"asleft/generator/condition"
	"asleft/generator/logbook"
	"asleft/generator/tally"
)

// Version is the number of the schema that a record follows.
const Version = 2

// Schema is the JSON Schema that every record follows.
//
//go:embed record.schema.json
var Schema []byte

// A Record is a machine's public facts. Dates are as exact as the log has them:
// YYYY-MM-DD, YYYY-MM or YYYY, each also with "about " in front. Quantities are a
// number and a unit, money is a decimal string, lengths of time are minutes.
type Record struct {
	Schema   int       `json:"schema"`
	Machine  Machine   `json:"machine"`
	Hours    Hours     `json:"hours"`
	Money    Money     `json:"money"`
	Tests    []Test    `json:"tests"`
	Parts    []Part    `json:"parts"`
	Service  []Service `json:"service"`
	Due      []Due     `json:"due"`
	Subjects []Subject `json:"subjects"`
}

// Machine says which machine it is. Asking is null for one that is not for sale.
type Machine struct {
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
	// Engines, Plates and Attachments are what it is made of, as the log has it.
	Engines     []Engine     `json:"engines"`
	Plates      []Plate      `json:"plates"`
	Attachments []Attachment `json:"attachments"`
}

// Engine is an engine of it; what nobody wrote is 0 or empty.
type Engine struct {
	Name      string `json:"name"`
	Strokes   int    `json:"strokes"`
	Cylinders int    `json:"cylinders"`
	Bore      string `json:"bore"`
	Stroke    string `json:"stroke"`
	Fuel      string `json:"fuel"`
}

// Plate is what the plate of a motor, an alternator or a battery says.
type Plate struct {
	Of      string   `json:"of"`
	Name    string   `json:"name"`
	Kind    string   `json:"kind"`
	Figures []Figure `json:"figures"`
}

// Figure is a figure of a plate; a plate that can be wired in two ways has two
// values.
type Figure struct {
	Name  string `json:"name"`
	Value string `json:"value"`
}

// Attachment goes on the machine and comes with it.
type Attachment struct {
	Name  string `json:"name"`
	Maker string `json:"maker"`
	Model string `json:"model"`
	Note  string `json:"note"`
}

// Hours are the hours. What nobody wrote is null, and so is what the shop does
// not show: it is not the same as none.
type Hours struct {
	WorkMinutes *int `json:"work_minutes"`
	RunMinutes  *int `json:"run_minutes"`
	// RunSinceWorkMinutes is of the time after the last work on the engine, or on
	// its fuel, ignition, cooling or exhaust.
	RunSinceWorkMinutes *int  `json:"run_since_work_minutes"`
	Meter               Meter `json:"meter"`
	// Odometer is its last reading; null where nobody wrote one, or the shop says
	// that it cannot be read.
	Odometer *Odometer `json:"odometer"`
}

// Odometer is what an odometer read, and when.
type Odometer struct {
	Reading string `json:"reading"`
	Date    string `json:"date"`
}

// Meter is what is known of the hours on the machine. True is what the shop says
// of the reading: yes, no, not known or not said.
type Meter struct {
	State string  `json:"state"`
	Total *string `json:"total"`
	True  string  `json:"true"`
}

// Money is the public part of the money. Parts is null where the shop does not
// show it or no part has a price; PartsPriced of PartsInAll have one. It is of the
// parts that are in the machine.
type Money struct {
	Currency    string  `json:"currency"`
	Parts       *string `json:"parts"`
	PartsPriced int     `json:"parts_priced"`
	PartsInAll  int     `json:"parts_in_all"`
}

// Test is a bench test.
type Test struct {
	Test    string   `json:"test"`
	Where   string   `json:"where"`
	State   string   `json:"state"`
	Date    string   `json:"date"`
	Entry   string   `json:"entry"`
	Results []Result `json:"results"`
	Says    []string `json:"says"`
}

// Result is one result of a bench test. Limit is null where there is none, Gauge
// where the accuracy of the tool was not recorded.
type Result struct {
	Name    string  `json:"name"`
	Value   string  `json:"value"`
	Limit   *string `json:"limit"`
	Source  string  `json:"source"`
	Gauge   *string `json:"gauge"`
	Verdict string  `json:"verdict"`
}

// Part is a part of the log. Fate tells whether it is in the machine: only one
// that is "fitted" is.
type Part struct {
	Part       string `json:"part"`
	Number     string `json:"number"`
	Supersedes string `json:"supersedes"`
	Qty        string `json:"qty"` // a count, or a quantity with its unit
	Source     string `json:"source"`
	From       string `json:"from"`
	Vendor     string `json:"vendor"`
	Warranty   string `json:"warranty"`
	SuppliedBy string `json:"supplied_by"` // owner, or empty: the shop
	System     string `json:"system"`
	Fate       string `json:"fate"`
	Date       string `json:"date"`
	Entry      string `json:"entry"`
}

// Service is a service that was done. Answers are the points that the shop says
// it speaks to.
type Service struct {
	What    string   `json:"what"`
	Amount  string   `json:"amount"`
	Grade   string   `json:"grade"`
	System  string   `json:"system"`
	Every   string   `json:"every"`
	Answers []string `json:"answers"`
	Date    string   `json:"date"`
	Entry   string   `json:"entry"`
}

// Due is when something that was serviced is due next, by what the log shows. What
// cannot be worked out is null. Passed tells that the log goes past it and lists
// none since.
type Due struct {
	What     string  `json:"what"`
	System   string  `json:"system"`
	Every    string  `json:"every"`
	Meter    *string `json:"meter"`
	Odometer *string `json:"odometer"`
	Date     *string `json:"date"`
	Passed   bool    `json:"passed"`
}

// Of gathers the public facts of a judged machine.
func Of(shop *logbook.Shop, r *condition.Report, words *catalog.Catalog) Record {
	m := r.Machine
	rec := Record{
		Schema: Version,
		Machine: Machine{
			Key: m.Key, Name: m.Name, Kind: m.Kind, Maker: m.Maker, Model: m.Model, Serial: Serial(shop, m.Serial, words),
			Year: m.Year, Stage: m.Stage, Arrived: string(m.Arrived), Asking: asking(shop, m),
			Engines: engines(m), Plates: plates(m), Attachments: attachments(m),
		},
		Hours: hours(shop, r), Money: money(shop, &r.Count),
		Tests: tests(r), Parts: []Part{}, Service: []Service{}, Due: due(r), Subjects: []Subject{},
	}
	for _, e := range m.Entries {
		rec.entry(e)
	}
	for _, s := range r.Subjects {
		rec.Subjects = append(rec.Subjects, subject(s))
	}
	return rec
}

// Write writes a record as record.json has it. It is safe to put into a page.
func (r *Record) Write(to io.Writer) error {
	e := encoders.Get().(*encoder)
	e.to = to
	if err := e.Encode(r); err != nil { // and e is not used again: it would fail for ever
		return fmt.Errorf("the record of %s: %w", r.Machine.Key, err)
	}
	encoders.Put(e)
	return nil
}

// An encoder writes one record after the other. It keeps its room: grown anew for each
// record that was a twelfth of all memory that a large shop's run asks for.
type encoder struct {
	*json.Encoder
	to io.Writer
}

func (e *encoder) Write(p []byte) (int, error) { return e.to.Write(p) }

var encoders = sync.Pool{New: func() any {
	e := &encoder{}
	e.Encoder = json.NewEncoder(e)
	e.SetIndent("", " ")
	return e
}}

// Serial is as much of a serial number as the shop shows.
func Serial(shop *logbook.Shop, serial string, words *catalog.Catalog) string {
	runes := []rune(serial)
	switch {
	case serial == "" || shop.Show.Serial == logbook.SerialNone:
		return ""
	case shop.Show.Serial == logbook.SerialAll:
		return serial
	case len(runes) <= serialEnd:
		return words.Say("page.serial-short")
	}
	return words.Say("page.serial-last", "last", string(runes[len(runes)-serialEnd:]))
}

// serialEnd is how many signs of a serial number are shown; of one that has no
// more than that, none.
const serialEnd = 4

func asking(shop *logbook.Shop, m *logbook.Machine) *string {
	if m.Stage != logbook.ForSale {
		return nil
	}
	return Decimal(shop, m.Asking)
}

func hours(shop *logbook.Shop, r *condition.Report) Hours {
	h := Hours{Meter: MeterOf(r)}
	if o := r.Count.Odometer; o.Said && !o.Reading.IsZero() {
		h.Odometer = &Odometer{Reading: o.Reading.String(), Date: string(o.Entry.Date)}
	}
	if shop.Show.Hours && worked(r.Machine) {
		h.WorkMinutes = minutes(r.Count.Work.Total)
	}
	if r.Run.Said {
		h.RunMinutes = minutes(r.Run.All)
	}
	if r.Run.Work != "" && r.Run.SaidSince {
		h.RunSinceWorkMinutes = minutes(r.Run.Since)
	}
	return h
}

// OnlyRead is a meter that was read, where the shop does not say that it is right.
const OnlyRead = "read"

// MeterOf is what is known of the hours on the machine. Nobody but the shop can say that
// its meter is right.
func MeterOf(r *condition.Report) Meter {
	total := r.Count.Meter.Total.String() // none says nothing
	m := Meter{State: r.Count.Meter.State, Total: OrNull(total), True: r.Machine.MeterTrue}
	if m.True == "" {
		m.True = NotSaid
	}
	if m.State == tally.BelievedRight && m.True != logbook.MeterIsTrue {
		m.State = OnlyRead
	}
	return m
}

// worked tells whether any entry says how long the shop worked.
func worked(m *logbook.Machine) bool {
	for _, e := range m.Entries {
		if len(e.Sessions) > 0 {
			return true
		}
	}
	return false
}

func minutes(m logbook.Minutes) *int {
	n := int(m)
	return &n
}

func money(shop *logbook.Shop, count *tally.Machine) Money {
	m := Money{Currency: shop.Currency, PartsPriced: count.Fitted.Priced, PartsInAll: count.Fitted.All}
	if shop.Show.PartsCost && m.PartsPriced > 0 {
		m.Parts = Decimal(shop, count.Fitted.Amount)
	}
	return m
}

func engines(m *logbook.Machine) []Engine {
	all := []Engine{}
	for _, e := range m.Engines {
		all = append(all, Engine{e.Name, e.Strokes, e.Cylinders, e.Bore.String(), e.Stroke.String(), e.Fuel})
	}
	return all
}

func plates(m *logbook.Machine) []Plate {
	all := []Plate{}
	for _, p := range m.Plates {
		one := Plate{Of: p.Of, Name: p.Name, Kind: p.Kind, Figures: []Figure{}}
		for _, f := range p.Figures {
			one.Figures = append(one.Figures, Figure{f.Name, f.String()})
		}
		all = append(all, one)
	}
	return all
}

func attachments(m *logbook.Machine) []Attachment {
	all := []Attachment{}
	for _, a := range m.Attachments {
		all = append(all, Attachment{a.Name, a.Maker, a.Model, a.Note})
	}
	return all
}

func due(r *condition.Report) []Due {
	all := []Due{}
	for _, c := range r.Count.Cares {
		if c.Every() == "" {
			continue
		}
		last := c.Last()
		all = append(all, Due{
			What: last.What, System: last.System, Every: c.Every(), Meter: OrNull(c.Due.Meter.String()),
			Odometer: OrNull(c.Due.Odometer.String()), Date: OrNull(string(c.Due.Date)), Passed: c.Due.Passed(),
		})
	}
	return all
}

func tests(r *condition.Report) []Test {
	all := []Test{}
	for _, t := range r.Tests {
		row := Test{
			Test: t.Test, Where: t.Where, State: t.State, Date: string(t.Entry.Date), Entry: t.Entry.File,
			Results: []Result{}, Says: append([]string{}, t.Says...),
		}
		for _, res := range t.Results {
			one := Result{Name: res.Name, Value: res.Value, Limit: OrNull(res.Limit), Source: res.Source, Gauge: OrNull(res.Accuracy), Verdict: string(res.Verdict)}
			row.Results = append(row.Results, one)
		}
		all = append(all, row)
	}
	return all
}

// entry takes over the parts and the service of an entry.
func (r *Record) entry(e *logbook.Entry) {
	for _, p := range e.Parts {
		r.Parts = append(r.Parts, Part{
			Part: p.Part, Number: p.Number, Supersedes: p.Supersedes, Qty: p.HowMany(), Source: p.Source, From: p.From, Vendor: p.Vendor,
			Warranty: p.Warranty, SuppliedBy: p.SuppliedBy, System: p.System, Fate: p.Fate, Date: string(e.Date), Entry: e.File,
		})
	}
	for _, s := range e.Service {
		r.Service = append(r.Service, Service{
			What: s.What, Amount: s.Amount, Grade: s.Grade, System: s.System, Every: s.Every.Text,
			Answers: append([]string{}, s.Answers...), Date: string(e.Date), Entry: e.File,
		})
	}
}

// OrNull is the text, or null for none.
func OrNull(s string) *string {
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
	return OrNull(a.Rescale(shop.Digits).String())
}
