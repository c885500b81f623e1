package page

import (
	"encoding/json"
	"fmt"
	"html/template"

	"asleft/generator/condition"
	"asleft/generator/quantity"
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
// UsedCondition, or DamagedCondition while a defect is open or a point fails:
// never more than the report says.
func (s *sheet) offer(n int, cover *Picture) (template.JS, error) {
	m, r := s.Shop.Machines[n], s.Report(n)
	state := "https://schema.org/UsedCondition"
	if faulty(r) {
		state = "https://schema.org/DamagedCondition"
	}
	product := thing{
		"@context": "https://schema.org", "@type": "Product", "name": m.Name, "description": describe(r),
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
	if price := s.decimal(m.Asking); price != nil {
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

func faulty(r *condition.Report) bool {
	for _, d := range r.Defects {
		if d.Open() {
			return true
		}
	}
	for _, c := range r.Checks {
		if c.Result == condition.Fails {
			return true
		}
	}
	return false
}

// properties are the last readings, and the hours on the machine.
func (s *sheet) properties(n int) []thing {
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
	if meter := s.Count.Machines[n].Meter; meter.HasTotal {
		add(s.say("page.offer-hours", "state", meter.State), meter.Total)
	}
	for _, x := range s.Report(n).Readings {
		add(s.say("page.offer-reading", "name", condition.ReadingName(s.Words, x.What, x.Where, x.State), "verdict", s.say(verdictKeys[x.AsLeft().Verdict])), x.AsLeft().Value)
	}
	return all
}
