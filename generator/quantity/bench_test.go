package quantity

import "testing"

func BenchmarkParseAndJudge(b *testing.B) {
	limit, err := ParseLimit(">= 60 psi")
	if err != nil {
		b.Fatal(err)
	}
	gauge, err := ParseGauge("2 psi")
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		q, err := Parse("72.5 psi")
		if err != nil {
			b.Fatal(err)
		}
		if _, err := Judge(q, gauge, limit); err != nil {
			b.Fatal(err)
		}
	}
}
