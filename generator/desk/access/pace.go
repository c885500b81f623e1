package access

import (
	"errors"
	"io"
	"net/http"
	"time"
)

// A pace is how slow a body may come in.
type pace struct {
	slowest  int64         // bytes a second
	headway  time.Duration // before the pace is asked for
	longest  time.Duration
	giveBack time.Duration // for the answer, once the body is in
}

// usualPace is what the worst connection of a phone brings thirty times over.
var usualPace = pace{slowest: 1024, headway: 15 * time.Second, longest: 15 * time.Minute, giveBack: 30 * time.Second}

// paced is a body that has to keep up a pace. What was read before it fell
// behind counts.
type paced struct {
	io.ReadCloser
	pace  pace
	ctl   *http.ResponseController
	began time.Time
	n     int64
}

func (p *paced) Read(b []byte) (int, error) {
	earned := time.Duration(p.n/p.pace.slowest) * time.Second
	until := p.began.Add(min(p.pace.longest, p.pace.headway+earned))
	// A test's recorder knows no deadlines; a server's connection always does.
	_ = p.ctl.SetReadDeadline(until)
	_ = p.ctl.SetWriteDeadline(until.Add(p.pace.giveBack))
	n, err := p.ReadCloser.Read(b)
	p.n += int64(n)
	if errors.Is(err, io.EOF) {
		_ = p.ctl.SetReadDeadline(time.Time{})
	}
	return n, err
}
