package tally

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"

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
