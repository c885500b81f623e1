package logbook

import (
	"strconv"
	"testing"
)

// FuzzHours: whatever stands in a session, or as hours, is a problem or comes
// to minutes that can be worked, and to the same again when it is read as it is
// printed.
func FuzzHours(f *testing.F) {
	for _, s := range [][4]string{
		{"2.5", "18:30", "20:15", "0:20"}, {"2:30 h", "22:00", "01:00", "1:30"}, {"0", "00:00", "00:00", ""}, {"8784", "23:59", "0:00", "0:01"}, {"0.01", "18:30:00", "24:00", "-1"}, {"1e3", "6:5", "٦:٣٠", "99:99"}, {"99999999999999999", " 18:30", "18.30", "1:60"}, {".5", "18h30", "", "0.33333333333333333"},
	} {
		f.Add(s[0], s[1], s[2], s[3])
	}
	f.Fuzz(func(t *testing.T, bare, from, to, less string) {
		if m, err := ParseMinutes(bare); err == nil {
			again, err := ParseMinutes(m.String())
			if err != nil || again != m || m < 0 || m > maxMinutes {
				t.Fatalf("%q is %d minutes, printed %s, read again %d (%v)", bare, m, m, again, err)
			}
		}
		if c, err := ParseClock(from); err == nil {
			again, err := ParseClock(c.String())
			if err != nil || again != c || c < 0 || c >= day {
				t.Fatalf("%q is %d, printed %s, read again %d (%v)", from, c, c, again, err)
			}
		}
		entry := "---\ndate: 2026-02-01\ntitle: T\nhours: [{from: " + strconv.QuoteToASCII(from) + ", to: " + strconv.QuoteToASCII(to) + ", less: " + strconv.QuoteToASCII(less) + "}]\n---\n"
		fs := folder(t, shopFile+machineFile)
		put(t, fs, "machines/m/e.md", entry)
		holds(t, fs)
		shop, problems, err := Read(fs, Options{Today: today})
		if err != nil || len(problems) > 0 {
			return
		}
		for _, s := range machine(t, shop, "m").Entries[0].Sessions {
			if s.Timed && (s.Work < 1 || s.Work > day || s.Work+s.Less > day) {
				t.Fatalf("from %s to %s less %s: %d minutes", s.From, s.To, s.Less, s.Work)
			}
		}
	})
}
