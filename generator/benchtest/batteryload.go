package benchtest

import (
	"math/big"

	"asleft/generator/quantity"
)

// batteryLoadTest is the voltage of a battery that has given half its cold cranking
// amperes for 15 s. TM 9-6115-730-24, 0050, has 9.6 V at about 70 degF; the table by
// temperature is that of several vehicle makers, alike (read at second hand).
var _ = add(kind{
	name: "battery load test", also: []string{"load test", "battery under load"}, system: "electrical",
	results: []string{"battery voltage under load"},
	about:   "bench.battery-load.about", caution: "bench.battery-load.caution", source: "bench.battery-load.source",
	inputs: []input{
		measure("volts", quantity.Voltage, "bench.battery-load.volts").dc().such("10.2 V").needed(),
		measure("load", quantity.Current, "bench.battery-load.load").such("150 A").needed(),
		measure("rated", quantity.ColdCranking, "bench.battery-load.rated").needed(),
		measure("held", quantity.Time, "bench.battery-load.held").such("15 s").needed(),
		measure("temperature", quantity.Temperature, "bench.battery.temperature").signed(),
		nominalInput,
		accuracy("gauge", quantity.Voltage).reads("volts"),
	},
	example: `{test: battery load test, volts: 10.2 V, load: 150 A, rated: 300 CCA, held: 15 s, temperature: 70 degF, gauge: 0.05 V}`,
	run:     runBatteryLoad,
})

func runBatteryLoad(b *bench) {
	share := b.batteryShare(big.NewRat(125, 100))
	b.checkTemperature()
	f := finding{what: "battery voltage under load", value: b.reading("volts"), main: true, published: b.leastUnderLoad(share, "bench.source.load-table")}
	verdict, enough := b.find(f), b.loadedEnough()
	if !enough && verdict != quantity.Outside { // less than the test's load proves nothing good
		b.unheld("battery voltage under part load")
	} else {
		b.sayFor(verdict, "bench.battery-load.inside", sides{below: "bench.battery-load.outside"})
	}
	b.draw(Whisker, b.out.Results)
	if !enough {
		b.say("bench.battery-load.short")
	}
}

// loadedEnough tells whether the load was at least half the rated amperes, less a
// tenth, and was held for 15 s.
func (b *bench) loadedEnough() bool {
	least := times(b.one("rated").Base(), big.NewRat(45, 100))
	return b.one("load").Base().Cmp(least) >= 0 && b.one("held").Base().Cmp(big.NewRat(15, 1)) >= 0
}
