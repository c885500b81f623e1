package logbook

import (
	"slices"
	"strings"
)

// elsewhere are fields that people write and that stand under another name, or in
// another file: by their names in small letters, the sentence that says where. What
// nobody else may read is never sent into the text, which is published.
var elsewhere = map[string]string{
	"buyer": "sold", "sold_to": "sold", "sold_for": "sold", "sold_on": "sold", "sale_price": "sold",
	"paid": "bought", "price_paid": "bought", "bought_for": "bought", "bought_from": "bought", "seller": "bought", "from": "bought", "source": "bought",
	"price": "asking", "asking_price": "asking", "ask": "asking",
	"status": "stage", "state": "stage", "condition": "stage",
	"owner": "private", "customer": "private", "phone": "contact", "telephone": "contact", "email": "contact", "address": "private", "contact": "contact",
	"vin": "serial", "serial_number": "serial", "sn": "serial",
	"terms": "shop", "currency": "shop", "labor_rate": "shop", "timezone": "shop", "altitude": "shop", "show": "shop",
	"note": "text", "notes": "text", "comment": "text",
}

// belongs is the sentence that says where a field belongs that is none of those
// here; "" where nobody knows.
func belongs(field string, here []string) string {
	where := elsewhere[strings.ReplaceAll(strings.ToLower(field), " ", "_")]
	if where == "contact" && !slices.Contains(here, "contact") { // somebody else's than the shop's
		where = "private"
	}
	if where == "" || where == "private" && !slices.Contains(here, "private") {
		return ""
	}
	return "problem.belongs-" + where
}
