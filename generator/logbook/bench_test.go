package logbook

import (
	"fmt"
	"strings"
	"testing"
)

// BenchmarkRead reads a shop of 200 machines with ten entries each.
func BenchmarkRead(b *testing.B) {
	var archive strings.Builder
	archive.WriteString(shopFile)
	fields := `by: JM
hours: [{from: "18:30", to: "21:00", less: "0:20", task: teardown}]
meter: 412.6 h
checks: [{item: throttle returns, result: works, system: controls}, {item: chain stops, result: fails, note: it creeps, system: guards, safety: yes}]
diagnosis: [{tried: new plug, saw: the same, so: not the plug, system: ignition}]
measured: [{what: compression, where: cylinder 1, value: 62 psi, gauge: 1 psi, state: cold, system: engine}]
parts: [{part: gasket, number: 0123, qty: 2, each: 14.25, source: new, system: engine, tax: 6 %}]
photos: [{file: a.jpg, alt: a gasket}]`
	body := "\n" + strings.Repeat("It would not start, so the *carburetor* came off again, for the third time this week.\n", 20) + "\n![the bowl](b.jpg)\n"
	for m := range 200 {
		machine := strings.ReplaceAll(machineFile, "/m/", fmt.Sprintf("/m%d/", m))
		archive.WriteString(strings.Replace(machine, "name: M", "name: M\nkind: chainsaw", 1))
		fmt.Fprintf(&archive, "-- machines/m%d/photos/a.jpg --\nx\n-- machines/m%d/photos/b.jpg --\nx\n", m, m)
		for e := range 10 {
			archive.WriteString(strings.ReplaceAll(entryFile(fmt.Sprint("e", e), fields, body), "/m/", fmt.Sprintf("/m%d/", m)))
		}
	}
	fs := folder(b, archive.String())
	for b.Loop() {
		if _, problems := readAll(b, fs, nil); len(problems) > 0 {
			b.Fatal(problems[0])
		}
	}
}
