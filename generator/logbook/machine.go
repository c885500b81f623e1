package logbook

import (
	"go.yaml.in/yaml/v4"

	"asleft/generator/portable"
	"asleft/generator/quantity"
)

func readMachine(s *source, key string, data []byte) *Machine {
	m := &Machine{Place: s.at(1, ""), digest: digestOf(data), Key: key, Stage: InTheShop}
	f, body := s.read(data)
	if f == nil {
		return m
	}
	m.Body = body.kept()
	m.Photos = bodyPhotos(s, body)
	f.name("name")
	m.Name = f.seenText("name")
	m.Kind = f.text("kind")
	m.KindAt = f.at("kind")
	m.sheetAsk = readSheetNames(f)
	m.Maker, m.Model, m.Serial, m.Year = f.seenText("maker"), f.seenText("model"), f.seenText("serial"), f.seenText("year")
	stage := f.oneOf("stage", Stages)
	if stage != "" {
		m.Stage = stage
	}
	m.Arrived = f.needDate("arrived")
	m.Asking = f.amount("asking")
	m.Sold = readSale(f)
	m.Bought = readPurchase(f)
	m.Story = f.text("story")
	m.Engines = readEngines(f)
	if len(m.Engines) == 1 {
		m.Engine = &m.Engines[0]
	}
	for _, of := range []string{PlateMotor, PlateAlternator, PlateBattery} {
		m.Plates = append(m.Plates, readPlates(f, of)...)
	}
	m.Attachments = list(f, "attachments", func(i *mapping) Attachment {
		return Attachment{Place: i.place(), Name: i.name("name"), Maker: i.text("maker"), Model: i.text("model"), Note: i.text("note")}
	})
	m.Owner = f.text("owner")
	m.Missing = readMissing(f)
	m.Limits = list(f, "limits", readLimit)
	m.Has = readHas(f)
	m.Was = readWas(f)
	m.LeaveOut = readLeftOut(f)
	m.MeterTrue, m.MeterTrueAt = f.oneOf("meter_true", []string{MeterIsTrue, MeterIsWrong, MeterNotKnown}), f.at("meter_true")
	m.Private = f.text("private")
	m.Asides = f.asides()
	f.done()
	if stage != "" || f.value("stage") == nil {
		m.checkStage(f)
	}
	return m
}

// Offered tells whether a buyer is spoken to: a machine that the shop keeps or works
// on has no sale language on its pages.
func (m *Machine) Offered() bool { return m.Stage == ForSale || m.Stage == Sold }

// checkStage holds the stage against the dates and the sale.
func (m *Machine) checkStage(f *mapping) {
	switch {
	case m.Stage == Sold && m.Sold == nil:
		f.report("stage", "problem.sold-without-sale")
	case m.Stage == Customers:
		for _, name := range []string{"asking", "sold", "bought"} {
			if f.value(name) != nil {
				f.report(name, "problem.customers-price", "field", name)
			}
		}
		return
	case m.Stage != Sold && m.Sold != nil:
		f.report("sold", "problem.sale-without-sold", "stage", m.Stage)
	}
	if m.Sold != nil && m.Sold.Date.Before(m.Arrived) {
		f.report("sold", "problem.sold-before-arrived", "read", m.Sold.Date, "arrived", m.Arrived)
	}
}

func readSale(f *mapping) *Sale {
	sub := f.sub("sold")
	if sub == nil {
		return nil
	}
	sale := &Sale{Place: sub.place(), Date: sub.needDate("date"), Price: sub.amount("price"), Buyer: sub.text("buyer")}
	sub.done()
	return sale
}

func readPurchase(f *mapping) *Purchase {
	sub := f.sub("bought")
	if sub == nil {
		return nil
	}
	p := &Purchase{Place: sub.place(), From: sub.text("from"), Paid: sub.amount("paid")}
	sub.done()
	return p
}

// readEngines reads engine: or engines:, each one engine or a list of them.
func readEngines(f *mapping) []Engine {
	all := append(oneOrSeveral(f, "engine", readEngine), oneOrSeveral(f, "engines", readEngine)...)
	f.src.tellApart("engine", len(all), func(i int) (string, Place) { return all[i].Name, all[i].Place })
	return all
}

func readEngine(f *mapping) Engine {
	e := Engine{
		Place:     f.place(),
		Name:      f.text("name"),
		Strokes:   f.whole("strokes"),
		Cylinders: f.whole("cylinders"),
		Bore:      f.quantity("bore", quantity.Length),
		Stroke:    f.quantity("stroke", quantity.Length),
		Fuel:      f.text("fuel"),
	}
	if e.Strokes != 0 && e.Strokes != 2 && e.Strokes != 4 {
		f.report("strokes", "problem.strokes", "read", e.Strokes)
	}
	return e
}

// readSheetNames reads one name of a sheet, or a list of them.
func readSheetNames(f *mapping) []asked {
	n := f.value("sheet")
	switch {
	case n == nil:
		return nil
	case n.Kind != yaml.SequenceNode:
		return []asked{{f.text("sheet"), f.at("sheet")}}
	}
	var all []asked
	for _, t := range f.texts("sheet") {
		all = append(all, asked{t.text, t.Place})
	}
	return all
}

// readWas reads what the machine's folder was called, as a folder can be.
func readWas(f *mapping) []string {
	var all []string
	for _, t := range f.texts("was") {
		if !portable.IsSlug(t.text) || portable.Device(t.text) {
			f.src.report(t.Place, "problem.machine-key", "read", t.text)
			continue
		}
		all = append(all, t.text)
	}
	return all
}

// readMissing reads the parts that were gone: each by its name, or as fields.
func readMissing(f *mapping) []Missing {
	var all []Missing
	for _, i := range f.items("missing") {
		if i.node.Kind == yaml.MappingNode {
			item := f.src.mapping(i.node, i.path)
			all = append(all, Missing{item.place(), item.name("part"), item.system("system"), item.safety()})
			item.done()
			continue
		}
		if s := f.src.scalar(i.node, i.path); s != "" && !isNull(i.node) {
			at := f.src.at(i.node.Line, i.path)
			if !nameSeen(s) {
				f.src.report(at, "problem.name-unseen", "read", s)
			}
			all = append(all, Missing{Place: at, Part: s})
		}
	}
	return all
}

// readHas reads what the machine has and has not.
func readHas(f *mapping) []Having {
	sub := f.sub("has")
	if sub == nil {
		return nil
	}
	var all []Having
	for _, name := range sub.names() {
		all = append(all, Having{sub.at(name), name, sub.yes(name, true)})
	}
	sub.done()
	return all
}

func readLeftOut(f *mapping) []LeftOut {
	return list(f, "leave_out", func(i *mapping) LeftOut {
		l := LeftOut{i.place(), i.need("item"), i.need("why")}
		i.reason("why")
		return l
	})
}

func readLimit(f *mapping) Limit {
	l := Limit{Place: f.place(), What: f.need("what"), Where: f.text("where"), Source: f.text("source"), System: f.system("system"), Safety: f.safety()}
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
