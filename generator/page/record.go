package page

import (
	"fmt"

	"asleft/generator/logbook"
	"asleft/generator/record"
)

// record writes a machine's public facts.
func (s *Site) record(n int, put Put) error {
	b := buffers.Get().(*bounded)
	defer b.done()
	m := s.Shop.Machines[n]
	facts := record.Of(s.Shop, s.Report(n), s.Words)
	if err := facts.Write(b); err != nil {
		return fmt.Errorf("machine %s: %w", m.Key, err)
	}
	return put(recordPath(m.Key), b.Bytes())
}

// some is the text, or null for none.
func some(s string) *string {
	if s == "" {
		return nil
	}
	return &s
}

// decimal is an amount as data has it, null for none.
func (s *Site) decimal(a logbook.Amount) *string {
	if !a.Set {
		return nil
	}
	return some(a.Rescale(s.Shop.Digits).String())
}
