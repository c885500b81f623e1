package logbook

import (
	"net/url"
	"slices"
	"strings"
	"time"
	_ "time/tzdata" // Windows has no time zones that Go can read

	"github.com/bojanz/currency"
	"go.yaml.in/yaml/v4"
	"golang.org/x/text/language"

	"asleft/generator/quantity"
)

// readShop reads shop.md and completes the rules that the other files are
// read by: the currency's decimals and the names of systems.
func readShop(s *source, data []byte) *Shop {
	shop := &Shop{Place: s.at(1, ""), Language: inEnglish, Digits: -1, Zone: time.UTC, Show: usual, Systems: Systems}
	f, body := s.read(data)
	if f == nil {
		s.rules.systems = nil
		return shop
	}
	shop.Body = body.kept()
	shop.Photos = bodyPhotos(s, body)
	f.name("shop")
	shop.Name = f.seenText("shop")
	shop.Town = f.seenText("place")
	shop.Contact = f.seenText("contact")
	shop.Web = readWeb(f)
	shop.Language = readLanguage(f)
	shop.Currency, shop.Digits = readCurrency(f)
	s.rules.currency, s.rules.digits = shop.Currency, shop.Digits
	shop.LaborRate = f.amount("labor_rate")
	shop.Altitude = f.quantity("altitude", quantity.Length)
	shop.Zone = readZone(f)
	if f.value("timezone") != nil {
		s.rules.zone = shop.Zone
	}
	shop.Show = readShow(f)
	if terms := f.text("terms"); terms != "" {
		shop.Terms = terms
	}
	shop.Theme = f.text("theme")
	shop.Publish = readPublish(f)
	shop.Systems, shop.PartOf = readSystems(f)
	s.rules.systems = shop.Systems
	shop.Asides = f.asides()
	f.done()
	return shop
}

// maxSystems is how many systems a shop may name beside the built-in ones: a
// list that a person can still look through, as each problem with one quotes it.
const maxSystems = 100

// readSystems are the built-in systems and the shop's own, with what each of
// its own is part of. A plain name says nothing of that.
func readSystems(f *mapping) ([]string, map[string][]string) {
	systems, partOf := slices.Clone(Systems), map[string][]string{}
	own := f.items("systems")
	if len(own) > maxSystems {
		f.report("systems", "problem.too-many-systems", "read", len(own), "max", maxSystems)
		own = own[:maxSystems]
	}
	for _, i := range own {
		at, name, of := readSystem(f.src, i)
		near := slices.IndexFunc(systems, func(s string) bool { return seenAlike(s, name) })
		switch {
		case name == "":
		case near >= 0:
			f.src.report(at, "problem.system-twice", "read", name, "near", systems[near])
		default:
			systems, partOf[name] = append(systems, name), of
		}
	}
	return systems, partOf
}

func readSystem(s *source, i item) (at Place, name string, partOf []string) {
	at = s.at(i.node.Line, i.path)
	if i.node.Kind != yaml.MappingNode {
		if isNull(i.node) {
			return at, "", nil
		}
		return at, s.scalar(i.node, i.path), nil
	}
	f := s.mapping(i.node, i.path)
	name = f.need("name")
	f.demand("part_of")
	for _, t := range f.texts("part_of") {
		if of := s.oneOf(t.Place, t.text, Systems); of != "" {
			partOf = append(partOf, of)
		}
	}
	f.done()
	return at, name, partOf
}

func readWeb(f *mapping) string {
	s := f.text("web")
	if s == "" {
		return ""
	}
	u, err := url.Parse(s)
	if err != nil || u.Scheme != "https" && u.Scheme != "http" || u.Host == "" || u.RawQuery != "" || u.ForceQuery || u.Fragment != "" || u.User != nil {
		f.report("web", "problem.web", "read", s)
		return ""
	}
	return strings.TrimSuffix(u.String(), "/") + "/"
}

const inEnglish = "en-US"

func readLanguage(f *mapping) string {
	s := f.text("language")
	if s == "" {
		return inEnglish
	}
	tag, err := language.Parse(s)
	if err != nil {
		f.report("language", "problem.language", "read", s)
		return inEnglish
	}
	return tag.String()
}

// readCurrency reads the ISO 4217 code and finds the decimals of its minor
// unit. They come from github.com/bojanz/currency, whose table is kept up to
// date; golang.org/x/text v0.44.0 stands on CLDR 32 and gives, for instance, no
// decimals to COP, IDR and RSD, which have two.
func readCurrency(f *mapping) (string, int) {
	s := f.need("currency")
	if s == "" {
		return "", -1
	}
	digits, ok := currency.GetDigits(s)
	if !ok {
		f.report("currency", "problem.currency", "read", s)
		return "", -1
	}
	return s, int(digits)
}

func readZone(f *mapping) *time.Location {
	s := f.text("timezone")
	if s == "" {
		return time.UTC
	}
	zone, err := time.LoadLocation(s)
	if err != nil || s == "Local" {
		f.report("timezone", "problem.timezone", "read", s)
		return time.UTC
	}
	if zone == time.UTC { // told from that of a shop that says nothing of it
		return time.FixedZone(s, 0)
	}
	return zone
}

// usual is what the public sees where the shop does not say.
var usual = Show{Hours: true, PartsCost: true, Serial: SerialLast4}

func readShow(f *mapping) Show {
	show := usual
	sub := f.sub("show")
	if sub == nil {
		return show
	}
	show.Hours = sub.yes("hours", true)
	show.PartsCost = sub.yes("parts_cost", true)
	switch s := sub.oneOf("serial", []string{SerialLast4, SerialAll, SerialNone, "yes", "no"}); s {
	case "yes":
		show.Serial = SerialAll
	case "no":
		show.Serial = SerialNone
	case "":
	default:
		show.Serial = s
	}
	sub.done()
	return show
}
