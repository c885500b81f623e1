package benchtest

import (
	"testing"

	"asleft/generator/quantity"
)

// verdictCase is a test and what one of its results comes to.
type verdictCase struct {
	test, result, value, limit string
	verdict                    quantity.Verdict
	says                       string
}

// verdicts holds each case against what it comes to; an empty value or limit is not
// compared.
func verdicts(t *testing.T, machine string, cases []verdictCase) {
	t.Helper()
	for _, tc := range cases {
		o := sound(t, machine, "{test: "+tc.test+"}")
		r := o.result(t, tc.result)
		if tc.value != "" && r.Value != tc.value || tc.limit != "" && r.Limit != tc.limit || r.Verdict != tc.verdict || !o.says(tc.says) {
			t.Errorf("%s: got %s, %q, %s, %q", tc.test, r.Value, r.Limit, r.Verdict, o.Says)
		}
	}
}

// UL 507, 42.1: 0.1 ohm; DIN VDE 0701-0702: 0.3 ohm to 5 m, 0.1 ohm for each further
// 7.5 m, 1.0 ohm at most (both read at second hand).
func TestGroundingContinuity(t *testing.T) {
	const what, path = "grounding continuity", "ground path resistance"
	verdicts(t, "", []verdictCase{
		{what + ", resistance: 0.1 ohm, cord: 0 ft", path, "0.1 ohm", "<= 0.1 ohm", quantity.Inside, "Bend the cord"},
		{what + ", resistance: 0.101 ohm, cord: 0 ft", path, "", "<= 0.1 ohm", quantity.Outside, "Do not use the machine"},
		{what + ", resistance: 0.09 ohm, cord: 0 ft, gauge: 0.02 ohm", path, "", "<= 0.1 ohm", quantity.TooClose, "too close"},
		{what + ", resistance: 0.3 ohm, cord: 5 m", path, "", "<= 0.3 ohm", quantity.Inside, ""},
		{what + ", resistance: 301 mohm, cord: 5 m", path, "", "<= 0.3 ohm", quantity.Outside, ""},
		{what + ", resistance: 0.4 ohm, cord: 5.01 m", path, "", "<= 0.4 ohm", quantity.Inside, ""},
		{what + ", resistance: 0.4 ohm, cord: 12.5 m", path, "", "<= 0.4 ohm", quantity.Inside, ""},
		{what + ", resistance: 0.5 ohm, cord: 12.6 m", path, "", "<= 0.5 ohm", quantity.Inside, ""},
		{what + ", resistance: 1.01 ohm, cord: 500 m", path, "", "<= 1.0 ohm", quantity.Outside, ""},
		{what + ", resistance: 0 ohm, cord: 0 ft", path, "", "<= 0.1 ohm", quantity.Inside, ""},
		{what + ", resistance: OL, cord: 10 ft", path, "OL", "<= 0.3 ohm", quantity.Outside, "no ground path at all"},
	})
	loose := "limits: [{what: ground path resistance, limit: <= 2 ohm, source: a friend}]\n"
	if r := sound(t, loose, "{test: grounding continuity, resistance: 1.5 ohm, cord: 0 ft}").Results[0]; r.Verdict != quantity.Outside || len(r.Limits) != 2 {
		t.Errorf("the limit was loosened: %+v", r)
	}
}

// DIN VDE 0701-0702 (read at second hand): less than 0.5 mA, and 3.5 mA at most.
func TestLeakage(t *testing.T) {
	const what = "leakage current"
	verdicts(t, "", []verdictCase{
		{what + ", current: 0.49 mA, path: touch", what, "", "< 0.5 mA", quantity.Inside, "within the limit"},
		{what + ", current: 0.5 mA, path: touch", what, "", "< 0.5 mA", quantity.Outside, "Unplug it"},
		{what + ", current: 0.49 mA, path: touch, gauge: 0.02 mA", what, "", "< 0.5 mA", quantity.TooClose, ""},
		{what + ", current: 3.5 mA, path: ground wire", what, "", "<= 3.5 mA", quantity.Inside, ""},
		{what + ", current: 3510 uA, path: ground wire", what, "", "<= 3.5 mA", quantity.Outside, ""},
		{what + ", current: \"< 0.1 mA\", path: touch", what, "< 0.1 mA", "< 0.5 mA", quantity.Inside, ""},
	})
}

// UL 943 (read at second hand): (20/I)^1.43 s, which is 5.59 s at 6 mA, 2.694 at 10,
// 1.000 at 20, 0.560 at 30, 0.100 at 100 and 0.025 at 264.
func TestGroundFaultTrip(t *testing.T) {
	const what = "ground-fault trip time"
	for current, limit := range map[string]string{
		"6 mA": "<= 5.59 s", "10 mA": "<= 2.69 s", "20 mA": "<= 1.00 s", "30 mA": "<= 0.560 s", "0.1 A": "<= 0.100 s", "264 mA": "<= 0.0250 s",
	} {
		if r := sound(t, "", "{test: ground-fault trip time, current: "+current+", time: 0.001 s}").Results[0]; r.Limit != limit || r.Verdict != quantity.Inside {
			t.Errorf("%s: %s, %s", current, r.Limit, r.Verdict)
		}
	}
	verdicts(t, "", []verdictCase{
		{what + ", current: 20 mA, time: 1 s", what, "", "", quantity.Inside, "within the limit"},
		{what + ", current: 20 mA, time: 1.001 s", what, "", "", quantity.Outside, "Do not use this outlet"},
		{what + ", current: 20 mA, time: 0.99 s, time_gauge: 0.02 s", what, "", "", quantity.TooClose, "too close"},
		{what + ", current: 6 mA, time: 0.03 s, trips_at: 6 mA", "ground-fault trip current", "", "4 mA to 6 mA", quantity.Inside, ""},
		{what + ", current: 6 mA, time: 0.03 s, trips_at: 6.1 mA", "ground-fault trip current", "", "", quantity.Outside, "trips only at 6.1 mA"},
		{what + ", current: 6 mA, time: 0.03 s, trips_at: 3.9 mA", "ground-fault trip current", "", "", quantity.Outside, "It trips at 3.9 mA already"},
		{what + ", current: 6 mA, time: 0.03 s, trips_at: 5.95 mA, gauge: 0.1 mA", "ground-fault trip current", "", "", quantity.TooClose, ""},
	})
	for _, current := range []string{"5.9 mA", "265 mA"} {
		if _, problems := judge(t, "", "{test: ground-fault trip time, current: "+current+", time: 1 s}"); len(problems) != 1 {
			t.Errorf("%s: %v", current, problems)
		}
	}
}

// No figure was found for either brake, so nothing but the maker's is a limit.
func TestBrakes(t *testing.T) {
	verdicts(t, "", []verdictCase{
		{"parking brake, creep: 0 in, slope: 10 deg, time: 60 s", "parking brake", "0 in", "", quantity.NotLimited, "It did not move in 60 s on a slope of 10 deg"},
		{"parking brake, creep: 2 in, slope: 10 deg, time: 60 s", "parking brake", "2 in", "", quantity.NotLimited, "Do not leave it on a slope"},
		{"chain brake stopping time, time: [0.10 s, 0.14 s]", "chain brake stopping time", "0.14 s", "", quantity.NotLimited, "gives no figure"},
		{"chain brake stopping time, time: [0.10 s, 0.14 s]", "chain brake, mean of the trials", "0.120 s", "", quantity.NotLimited, ""},
	})
	maker := "limits:\n  - {what: chain brake stopping time, limit: <= 0.15 s, source: maker's book}\n  - {what: parking brake, limit: <= 1 in, source: maker's book}\n"
	verdicts(t, maker, []verdictCase{
		{"chain brake stopping time, time: [0.10 s, 0.15 s]", "chain brake stopping time", "", "", quantity.Inside, "at the longest"},
		{"chain brake stopping time, time: [0.10 s, 0.151 s]", "chain brake stopping time", "", "", quantity.Outside, "Do not use the saw"},
		{"chain brake stopping time, time: 0.145 s, gauge: 0.01 s", "chain brake stopping time", "", "", quantity.TooClose, ""},
		{"parking brake, creep: 1.1 in, slope: 10 deg, time: 60 s", "parking brake", "", "", quantity.Outside, "Do not leave it"},
	})
	for _, name := range []string{"parking brake", "chain brake stopping time", "grounding continuity", "ground path resistance", "leakage current", "ground-fault trip time", "blade tip speed", "blade stopping time", "insulation resistance"} {
		if _, safety, known := Measurand(name); !known || !safety {
			t.Errorf("%s is no safety matter", name)
		}
	}
	for _, k := range Kinds() {
		_, safety, _ := Measurand(k.Name)
		if safety != k.Safety {
			t.Errorf("%s: %v", k.Name, k.Safety)
		}
	}
}
