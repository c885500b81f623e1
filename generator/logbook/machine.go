package logbook

import "asleft/generator/quantity"

func readMachine(s *source, key string, data []byte) *Machine {
	m := &Machine{Place: s.at(1, ""), Key: key, Stage: InTheShop}
	f, body := s.read(data)
	if f == nil {
		return m
	}
	m.Body = body.kept()
	m.Photos = bodyPhotos(s, body)
	m.Name = f.need("name")
	m.Kind = f.text("kind")
	m.KindAt = f.at("kind")
	m.sheetAsk = asked{f.text("sheet"), f.at("sheet")}
	m.Maker, m.Model, m.Serial, m.Year = f.text("maker"), f.text("model"), f.text("serial"), f.text("year")
	stage := f.oneOf("stage", Stages)
	if stage != "" {
		m.Stage = stage
	}
	m.Arrived = f.needDate("arrived")
	m.Asking = f.amount("asking")
	m.Sold = readSale(f)
	m.Bought = readPurchase(f)
	m.Story = f.text("story")
	m.Engine = readEngine(f)
	for _, t := range f.texts("missing") {
		m.Missing = append(m.Missing, Missing{t.Place, t.text})
	}
	m.Limits = list(f, "limits", readLimit)
	m.Private = f.text("private")
	f.done()
	if stage != "" || f.value("stage") == nil {
		m.checkStage(f)
	}
	return m
}

// checkStage holds the stage against the dates and the sale.
func (m *Machine) checkStage(f *form) {
	switch {
	case m.Stage == Sold && m.Sold == nil:
		f.report("stage", "problem.sold-without-sale")
	case m.Stage != Sold && m.Sold != nil:
		f.report("sold", "problem.sale-without-sold", "stage", m.Stage)
	}
	if m.Sold != nil && m.Sold.Date.Before(m.Arrived) {
		f.report("sold", "problem.sold-before-arrived", "read", m.Sold.Date, "arrived", m.Arrived)
	}
}

func readSale(f *form) *Sale {
	sub := f.sub("sold")
	if sub == nil {
		return nil
	}
	sale := &Sale{Place: sub.place(), Date: sub.needDate("date"), Price: sub.amount("price"), Buyer: sub.text("buyer")}
	sub.done()
	return sale
}

func readPurchase(f *form) *Purchase {
	sub := f.sub("bought")
	if sub == nil {
		return nil
	}
	p := &Purchase{Place: sub.place(), From: sub.text("from"), Paid: sub.amount("paid")}
	sub.done()
	return p
}

func readEngine(f *form) *Engine {
	sub := f.sub("engine")
	if sub == nil {
		return nil
	}
	e := &Engine{
		Place:     sub.place(),
		Strokes:   sub.whole("strokes"),
		Cylinders: sub.whole("cylinders"),
		Bore:      sub.quantity("bore", quantity.Length),
		Stroke:    sub.quantity("stroke", quantity.Length),
		Fuel:      sub.text("fuel"),
	}
	if e.Strokes != 0 && e.Strokes != 2 && e.Strokes != 4 {
		sub.report("strokes", "problem.strokes", "read", e.Strokes)
	}
	sub.done()
	return e
}

func readLimit(f *form) Limit {
	l := Limit{Place: f.place(), What: f.need("what"), Where: f.text("where"), Source: f.text("source")}
	read := f.need("limit")
	if read == "" {
		return l
	}
	limit, err := quantity.ParseLimit(read)
	if err != nil {
		f.unreadable("limit", read, err)
		return l
	}
	l.Limit = limit
	return l
}
