package benchtest

import (
	"strings"

	"asleft/generator/quantity"
)

// draw makes the drawing of some results, each over its limit, in the unit of
// the first. Nothing is drawn where there is nothing to draw.
func (b *bench) draw(shape string, results []Result) {
	if len(results) == 0 || results[0].Quantity.IsZero() {
		return
	}
	u := results[0].Quantity.Unit()
	d := &Drawing{Shape: shape, Unit: u.Symbol(), Alt: b.facts(results)}
	for _, r := range results {
		p := point(r, u)
		if r.Limit != "" {
			p.Limits = []string{LimitSaid(b.words, r.Limit)}
		}
		d.Points = append(d.Points, p)
	}
	b.out.Drawing = d
}

// plain draws what is a plain number, such as a gravity of 1.265, and was drawn in
// %.
func (d *Drawing) plain() {
	if d == nil {
		return
	}
	d.Unit = ""
	for i := range d.Points {
		p := &d.Points[i]
		for _, n := range []*float64{&p.Value, &p.Low, &p.High, &p.Band.Low, &p.Band.High} {
			*n /= 100
		}
	}
}

func point(r Result, u quantity.Unit) Point {
	read := r.read()
	return Point{Label: r.Name, Shown: r.Value, Value: in(r.Quantity, u), Low: in(read.least(), u), High: in(read.most(), u), Band: band(r.limit, u)}
}

// read is a result as a reading, with its accuracy.
func (r Result) read() reading { return reading{Quantity: r.Quantity, gauge: r.Gauge} }

// facts are the results of a drawing as text.
func (b *bench) facts(results []Result) string {
	var all []string
	for _, r := range results {
		all = append(all, b.fact(r))
	}
	return strings.Join(all, " ")
}

// fact is a result of a drawing as text.
func (b *bench) fact(r Result) string {
	key := "bench.draw.plain"
	switch {
	case !r.Gauge.IsZero() && r.Limit != "":
		key = "bench.draw.gauge-limit"
	case !r.Gauge.IsZero():
		key = "bench.draw.gauge"
	case r.Limit != "":
		key = "bench.draw.limit"
	}
	return b.words.Say(key, "name", r.Name, "value", r.Value, "gauge", r.Accuracy, "limit", LimitSaid(b.words, r.Limit))
}

// band is a limit as numbers in u.
func band(l quantity.Limit, u quantity.Unit) (all Band) {
	if q, ok := l.Low(); ok {
		all.Low, all.HasLow = in(q, u), true
	}
	if q, ok := l.High(); ok {
		all.High, all.HasHigh = in(q, u), true
	}
	return all
}

// in is the number of q in u, for drawings only.
func in(q quantity.Quantity, u quantity.Unit) float64 { return sure(q.In(u)).Float() }
