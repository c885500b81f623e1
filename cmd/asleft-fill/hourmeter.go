package main

import "fmt"

// An hourMeter is a machine's, in tenths of an hour. It never runs backwards
// but by being replaced.
type hourMeter struct {
	tenths int
	miles  int    // of an odometer; 0 without one
	state  string // "read", "none", or a word for why it cannot be read
}

func newHourMeter(pick chance, usual bool) hourMeter {
	switch {
	case !usual && !pick.once(6):
		h := hourMeter{state: "none"}
		if pick.once(3) {
			h.miles = pick.between(900, 30_000)
		}
		return h
	case pick.once(8):
		return hourMeter{state: one(pick, []string{"unknown", "broken"})}
	}
	return hourMeter{tenths: pick.between(40, 9000), state: "read"}
}

// entry writes what ran and what the meter says after it.
func (h *hourMeter) entry(pick chance, w *paper) {
	ran := 0
	if !pick.once(3) {
		ran = pick.between(2, 75)
		w.field("ran", fmt.Sprintf("\"%d:%02d\"", ran/60, ran%60))
	}
	switch {
	case h.state == "none":
		if h.miles > 0 { // it goes by what it drove
			h.miles += pick.between(0, 40)
			w.field("odometer", fmt.Sprintf("%d mi", h.miles))
		}
	case h.state != "read":
		if pick.once(4) {
			w.field("meter", h.state)
		}
	case pick.once(60):
		w.field("meter_replaced", fmt.Sprintf("{old: %s h, new: 0 h}", fixed(h.tenths, 1)))
		h.tenths = 0
	default:
		h.tenths += (ran + 5) / 6
		if !pick.once(3) {
			w.field("meter", fixed(h.tenths, 1)+" h")
		}
	}
}
