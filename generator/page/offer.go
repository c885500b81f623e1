package page

import (
	"encoding/json"
	"fmt"
	"html/template"
	"slices"

	"asleft/generator/condition"
	"asleft/generator/logbook"
	"asleft/generator/quantity"
	"asleft/generator/record"
)

// A thing is a node of schema.org's vocabulary, as JSON-LD writes it.
type thing map[string]any

// unitCodes are the UN/CEFACT common codes (UN/ECE Recommendation 20) of the
// units that have one there.
var unitCodes = map[string]string{
	"psi": "PS", "kPa": "KPA", "bar": "BAR", "inHg": "F79", "in": "INH", "mm": "MMT", "thou": "77",
	"V": "VLT", "rpm": "RPM", "Hz": "HTZ", "h": "HUR", "N·m": "NU", "degC": "CEL", "degF": "FAH",
	"L": "LTR", "mL": "MLT", "gal": "GLL", "qt": "QTL", "fl oz": "OZA", "lb": "LBR", "oz": "ONZ",
}

// offer describes a machine for sale in schema.org's words, so that a link to
// it previews well and a search engine knows what it is. Its condition is
// UsedCondition, or DamagedCondition while anything is wrong, or open for more
// than that nobody answered it: never more than the report says.
func (s *composer) offer(n int, cover *Picture) (template.JS, error) {
	m, r := s.Shop.Machines[n], s.Report(n)
	state := "https://schema.org/UsedCondition"
	if len(r.Wrong()) > 0 || slices.ContainsFunc(r.Open(), func(x *condition.Subject) bool { return !x.Unanswered() }) {
		state = "https://schema.org/DamagedCondition"
	}
	product := thing{
		"@context": "https://schema.org", "@type": "Product", "name": m.Name, "description": s.describe(r),
		"itemCondition": state, "additionalProperty": s.properties(n),
	}
	for name, value := range map[string]string{"category": m.Kind, "model": m.Model, "image": s.preview(cover), "url": s.absolute(listingPath(m.Key))} {
		if value != "" {
			product[name] = value
		}
	}
	if m.Maker != "" {
		product["manufacturer"] = thing{"@type": "Organization", "name": m.Maker}
	}
	if price := record.Decimal(s.Shop, m.Asking); price != nil {
		offer := thing{
			"@type": "Offer", "price": *price, "priceCurrency": s.Shop.Currency, "itemCondition": state,
			"availability": "https://schema.org/InStock", "seller": thing{"@type": "Organization", "name": s.Shop.Name},
		}
		if to := s.absolute(listingPath(m.Key)); to != "" {
			offer["url"] = to
		}
		product["offers"] = offer
	}
	text, err := json.Marshal(product) // escapes <, > and &, so that no text ends the script element
	if err != nil {
		return "", fmt.Errorf("describing %s: %w", m.Key, err)
	}
	return template.JS(text), nil //nolint:gosec // JSON with <, > and & escaped
}

// properties are the hours on the machine, its last readings, and by name each
// thing that is open or wrong.
func (s *composer) properties(n int) []thing {
	all := []thing{}
	add := func(name string, q quantity.Quantity) {
		p := thing{"@type": "PropertyValue", "name": name, "value": json.Number(q.Rat().FloatString(q.Places()))}
		if code := unitCodes[q.Unit().Symbol()]; code != "" {
			p["unitCode"] = code
		} else {
			p["unitText"] = q.Unit().Symbol()
		}
		all = append(all, p)
	}
	r := s.Report(n)
	if meter := s.Count.Machines[n].Meter; meter.HasTotal {
		m := record.MeterOf(r)
		add(s.say(offerHours[m.True], "state", m.State), meter.Total)
	}
	for _, x := range r.Subjects {
		if x.Kind == condition.KindMeasurement && !x.Measured.Last().Value.IsZero() {
			add(s.say("page.offer-reading", "name", x.Name, "verdict", s.say(standingKeys[x.Standing])), x.Measured.Last().Value)
		}
	}
	for _, x := range r.Ordered() {
		if x.Open || x.Section() == condition.SectionWrong {
			all = append(all, thing{"@type": "PropertyValue", "name": x.Wordings(), "value": s.say(standingKeys[x.Standing])})
		}
	}
	return all
}

// offerHours tell whose word it is that the hours on the machine are right.
var offerHours = map[string]string{
	logbook.MeterIsTrue: "page.offer-hours-true", logbook.MeterIsWrong: "page.offer-hours-wrong",
	logbook.MeterNotKnown: "page.offer-hours-unsure", record.NotSaid: "page.offer-hours-unsaid",
}

// standingKeys are the standings in words.
var standingKeys = map[condition.Standing]string{
	condition.Wrong: "standing.wrong", condition.Missing: "standing.missing", condition.WorkedAround: "standing.worked-around",
	condition.NotProven: "standing.not-proven", condition.Changed: "standing.changed", condition.TooClose: "standing.too-close-to-call",
	condition.OutOfDate: "standing.out-of-date", condition.NotChecked: "standing.not-checked", condition.NoLimit: "standing.no-limit-given",
	condition.InOrder: "standing.in-order", condition.DoesNotApply: "standing.does-not-apply",
}
