package quantity

import (
	"errors"
	"testing"
)

// Inside when all that the tool leaves open is inside, outside when none of it is;
// between, neither. Editions of ISO 14253-1 differ, and none was read.
func TestTheWholeIntervalHasToLieOnOneSide(t *testing.T) {
	for _, c := range []struct {
		value, gauge, limit string
		want                Verdict
	}{
		{"62 psi", "2 psi", ">= 60 psi", Inside}, // the whole interval, its end included
		{"61.9 psi", "2 psi", ">= 60 psi", TooClose},
		{"58 psi", "2 psi", ">= 60 psi", TooClose}, // the end alone still meets the limit
		{"57.9 psi", "2 psi", ">= 60 psi", Outside},
		{"62 psi", "2 psi", "> 60 psi", TooClose},
		{"58 psi", "2 psi", "> 60 psi", Outside},
		{"0.18 V", "0.02 V", "<= 0.2 V", Inside},
		{"0.181 V", "0.02 V", "<= 0.2 V", TooClose},
		{"0.22 V", "0.02 V", "<= 0.2 V", TooClose},
		{"0.221 V", "0.02 V", "<= 0.2 V", Outside},
		{"0.18 V", "0.02 V", "< 0.2 V", TooClose},
		{"0.22 V", "0.02 V", "< 0.2 V", Outside},
		{"0.005 in", "0.001 in", "0.004 to 0.006 in", Inside},
		{"0.0051 in", "0.001 in", "0.004 to 0.006 in", TooClose},
		{"0.0049 in", "0.001 in", "0.004 to 0.006 in", TooClose},
		{"0.003 in", "0.001 in", "0.004 to 0.006 in", TooClose},
		{"0.0029 in", "0.001 in", "0.004 to 0.006 in", Outside},
		{"0.0071 in", "0.001 in", "0.004 to 0.006 in", Outside},
		{"0.005 in", "0.002 in", "0.004 to 0.006 in", TooClose}, // wider than the limits
		{"3600 rpm", "1 %", "3600 rpm +- 50 rpm", Inside},
		{"3620 rpm", "1 %", "3600 rpm +- 50 rpm", TooClose},
		{"3700 rpm", "1 %", "3600 rpm +- 50 rpm", Outside},
		{"-5.47 V", "0.10 V", "<= -5.40 V", TooClose},
		{"150 psi", "", ">= 1034 kPa", Inside}, // 150 psi is 1034.2 kPa
		{"150 psi", "", ">= 1035 kPa", Outside},
		{"54 degF", "2 degF", "<= 14 degC", Inside},
		{"54 degF", "4 degF", "<= 14 degC", TooClose},
		{"60 psi", "", ">= 60 psi", Inside},
		{"60 psi", "", "> 60 psi", Outside},
		{"60 psi", "2 psi", "", NotLimited},
		{"60 psi", "", "", NotLimited},
	} {
		if got, err := Judge(must(t, c.value), optionalGauge(t, c.gauge), optionalLimit(t, c.limit)); err != nil || got != c.want {
			t.Errorf("%s read with %q against %q is %s, %v; want %s", c.value, c.gauge, c.limit, got, err, c.want)
		}
	}
}

// ILAC-G8:09/2019: the acceptance limit is AL = TL - w (section 4.1, accept at
// or below AL); with w = 0, simple acceptance, AL = TL (section 4.2.1). With
// w = U the accepted values are those judged inside.
func TestGuardBandOfILACG8(t *testing.T) {
	tl := must(t, "10.0 V")
	limit, err := NewLimit(AtMost, tl)
	if err != nil {
		t.Fatal(err)
	}
	for _, u := range []string{"", "0.1 V", "0.25 V", "3 V"} {
		al := tl
		if u != "" {
			if al, err = tl.Sub(must(t, u)); err != nil {
				t.Fatal(err)
			}
		}
		tick := must(t, "0.001 V")
		over, err := al.Add(tick)
		if err != nil {
			t.Fatal(err)
		}
		gauge := optionalGauge(t, u)
		if got, err := Judge(al, gauge, limit); err != nil || got != Inside {
			t.Errorf("U %q: at the acceptance limit %s: %s, %v", u, al, got, err)
		}
		if got, err := Judge(over, gauge, limit); err != nil || got == Inside {
			t.Errorf("U %q: above the acceptance limit %s: %s, %v", u, over, got, err)
		}
	}
}

// Two-sided, from memory: no value is accepted once the guard bands meet,
// 2w > TL_high - TL_low.
func TestGuardBandsThatMeet(t *testing.T) {
	limit := mustLimit(t, "12 V to 13 V")
	for _, value := range []string{"12.0 V", "12.4 V", "12.5 V", "12.6 V", "13.0 V"} {
		if got, err := Judge(must(t, value), mustGauge(t, "0.51 V"), limit); err != nil || got != TooClose {
			t.Errorf("%s: %s, %v; want %s", value, got, err, TooClose)
		}
	}
}

func TestVerdictWords(t *testing.T) {
	for v, want := range map[Verdict]string{
		Inside:     "inside the limit",
		Outside:    "outside the limit",
		TooClose:   "too close to call",
		NotLimited: "no limit given",
	} {
		if string(v) != want {
			t.Errorf("verdict %q, want %q", v, want)
		}
	}
}

func TestJudgeRefuses(t *testing.T) {
	volts := must(t, "12 V")
	var mismatch *MismatchError
	_, err := Judge(volts, mustGauge(t, "1 V"), mustLimit(t, ">= 60 psi"))
	if want := "the reading 12 V is a voltage, but the limit >= 60 psi is a pressure; give both in units of the same kind"; err == nil || err.Error() != want {
		t.Errorf("a voltage against a pressure\n got %v\nwant %s", err, want)
	}
	if v, err := Judge(volts, mustGauge(t, "1 psi"), Limit{}); !errors.As(err, &mismatch) || v != "" {
		t.Errorf("a voltage read with a pressure gauge: %q, %v", v, err)
	}
	if v, err := Judge(Quantity{}, Gauge{}, mustLimit(t, ">= 60 psi")); !errors.Is(err, ErrNothing) || v != "" {
		t.Errorf("no reading: %q, %v", v, err)
	}
	if v, err := Judge(must(t, "3600 rpm"), Gauge{}, mustLimit(t, "<= 62 Hz")); !errors.As(err, &mismatch) || v != "" {
		t.Errorf("rpm against Hz: %q, %v", v, err)
	}
}

func optionalGauge(t testing.TB, s string) Gauge {
	t.Helper()
	if s == "" {
		return Gauge{}
	}
	return mustGauge(t, s)
}

func optionalLimit(t testing.TB, s string) Limit {
	t.Helper()
	if s == "" {
		return Limit{}
	}
	return mustLimit(t, s)
}
