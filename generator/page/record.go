package page

import "asleft/generator/record"

// record writes a machine's public facts.
func (s *Site) record(n int, put Put) error {
	b, done := s.Theme.buffer()
	defer done()
	r := s.Record(n)
	if err := r.Write(b); err != nil {
		return err
	}
	return put(recordPath(s.Shop.Machines[n].Key), b.Bytes())
}

// Record gathers the public facts of the n-th machine.
func (s *Site) Record(n int) record.Record {
	return record.Of(s.Shop, s.Report(n), s.Words)
}
