package generator_test

import (
	"os"
	"testing"

	"asleft/generator"
)

// tenMachines is a shop of ten machines of ten kinds, written as a home mechanic
// writes: by the way, with what was at hand, some of it years later.
const tenMachines = "../testdata/tenmachines/shop"

// TestTenMachines holds the condition report of each against the words that a
// person has read, slowly, as its buyer or owner would.
func TestTenMachines(t *testing.T) {
	files := made(t, tenMachines, generator.Options{})
	machines, err := os.ReadDir(tenMachines + "/machines")
	if err != nil || len(machines) != 10 {
		t.Fatalf("%d machines, %v", len(machines), err)
	}
	for _, m := range machines {
		golden(t, "../tenmachines/golden/"+m.Name()+".txt", visible(t, files["machines/"+m.Name()+"/condition/index.html"]))
	}
}
