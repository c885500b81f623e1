package page

import (
	"encoding/json"
	"fmt"

	"asleft/generator/record"
)

// record writes a machine's public facts.
func (s *Site) record(n int, put Put) error {
	b, done := s.Theme.buffer()
	defer done()
	enc := json.NewEncoder(b)
	enc.SetEscapeHTML(true)
	enc.SetIndent("", " ")
	if err := enc.Encode(s.Record(n)); err != nil {
		return fmt.Errorf("the record of %s: %w", s.Shop.Machines[n].Key, err)
	}
	return put(recordPath(s.Shop.Machines[n].Key), b.Bytes())
}

// Record gathers the public facts of the n-th machine.
func (s *Site) Record(n int) record.Record {
	return record.Of(s.Shop, s.Report(n), s.Words)
}
