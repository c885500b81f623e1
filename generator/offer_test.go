package generator_test

import (
	"encoding/json"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"asleft/generator/testenv"
)

var dataBlock = regexp.MustCompile(`(?s)<script type="application/ld\+json">(.*?)</script>`)

// offer is the schema.org description on the page of a machine for sale.
func offer(t *testing.T) string {
	t.Helper()
	found := dataBlock.FindStringSubmatch(exampleSite(t)["machines/harrow/listing/index.html"])
	if found == nil {
		t.Fatal("the listing has no description for machines")
	}
	return found[1]
}

// The words of the offer are schema.org's, as schema-dts types them and the
// TypeScript compiler checks them: a property or a value that schema.org does
// not know does not compile.
func TestOfferIsSchemaOrg(t *testing.T) {
	node, tsc := testenv.Program(t, "node"), testenv.Module(t, "typescript/lib/tsc.js")
	types := filepath.Dir(testenv.Module(t, "schema-dts/package.json"))
	dir := t.TempDir()
	if err := os.MkdirAll(filepath.Join(dir, "node_modules"), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(types, filepath.Join(dir, "node_modules", "schema-dts")); err != nil {
		t.Fatal(err)
	}
	compile := func(data string) string {
		file := filepath.Join(dir, "offer.ts")
		text := "import type {Product, WithContext} from 'schema-dts';\nexport const offer: WithContext<Product> = " + data + ";\n"
		if err := os.WriteFile(file, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		return toolOutput(t, node, tsc, "--noEmit", "--strict", "--skipLibCheck", "--module", "nodenext", "--moduleResolution", "nodenext", "--target", "es2022", file)
	}
	if out := compile(offer(t)); out != "" {
		t.Errorf("the offer is not schema.org's:\n%s", out)
	}
	if out := compile(strings.Replace(offer(t), `"itemCondition"`, `"itemCondishun"`, 1)); !strings.Contains(out, "itemCondishun") {
		t.Errorf("the compiler let a made-up property pass: %s", out)
	}
}

// An offerProperty is one thing that an offer says of a machine.
type offerProperty struct {
	Name     string
	UnitCode string
	Value    any
}

// What the example's offer says: never more than the report.
func TestOfferSaysNoMoreThanTheReport(t *testing.T) {
	var o struct {
		ItemCondition string
		Offers        struct{ Price, PriceCurrency string }
		Property      []offerProperty `json:"additionalProperty"`
	}
	if err := json.Unmarshal([]byte(offer(t)), &o); err != nil {
		t.Fatal(err)
	}
	if o.ItemCondition != "https://schema.org/DamagedCondition" || o.Offers.Price != "390.00" || o.Offers.PriceCurrency != "USD" {
		t.Errorf("the offer is %+v", o)
	}
	for _, p := range o.Property {
		if strings.HasPrefix(p.Name, "compression") && (p.UnitCode != "PS" || p.Value != 74.0) {
			t.Errorf("the compression is %+v, want 74 PS (UN/ECE Recommendation 20: pound-force per square inch)", p)
		}
	}
	for _, want := range []string{"muffler", "left tire loses air overnight", "two teeth broken from the reverse pinion"} {
		if !slices.ContainsFunc(o.Property, func(p offerProperty) bool { return strings.Contains(p.Name, want) }) {
			t.Errorf("the offer does not name %q", want)
		}
	}
	if len(o.Property) < 5 {
		t.Errorf("only %d properties", len(o.Property))
	}
}

// The hours in the offer are never more sure than the shop is of its meter.
func TestOfferedHoursAreAsSureAsTheShop(t *testing.T) {
	for said, want := range map[string]string{
		"meter_true: yes":       "meter believed right; the shop says that is right",
		"meter_true: no":        "meter read; the shop says that is not right",
		"meter_true: not known": "meter read; the shop does not know if that is right",
		"":                      "meter read; the shop does not say if that is right",
	} {
		site := siteOf(t, map[string]string{
			"shop.md":                    "---\nshop: A shop\ncurrency: USD\n---\n",
			"machines/harrow/machine.md": "---\nname: Small pump\narrived: 2026-03-01\nstage: for sale\n" + said + "\n---\n",
			"machines/harrow/look.md":    "---\ndate: 2026-03-02\ntitle: A look\nmeter: 412.6 h\n---\n",
		}, func(name, text string) (string, string) { return name, text })
		if page := site["machines/harrow/listing/index.html"]; !strings.Contains(page, `"hours on the machine, `+want+`"`) {
			t.Errorf("%q: the offer lacks %q", said, want)
		}
	}
}
