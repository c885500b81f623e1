package phone

import (
	"crypto/rand"
	"crypto/subtle"
	"fmt"
	"math/big"
	"net/netip"
	"sync"
	"time"
)

// A code holds for ten minutes, for one phone, and for five wrong tries of one
// address: that address may not try again for half a minute, and for twice as long
// each time, up to a quarter of an hour, while the code goes on holding for others.
// For whoever has many addresses, twenty wrong tries of all of them end the code, and
// then there is none for as long: a guesser has one chance in five hundred a day.
const (
	codeTime     = 10 * time.Minute
	mostWrong    = 5
	mostWrongAll = 20
	firstLock    = 30 * time.Second
	mostLock     = 15 * time.Minute
	forgetAfter  = 24 * time.Hour // a wrong try
)

// Outcomes of a try.
type trial int

const (
	paired trial = iota
	wrongCode
	codeRunOut // and a new one is shown
	lockedOut
)

// A pairing holds the code that lets the next phone in.
type pairing struct {
	now  func() time.Time
	show func(code string)

	mu    sync.Mutex
	code  string // empty: none
	until time.Time
	all   tries
	by    map[netip.Addr]*tries
}

// tries are the wrong ones of somebody.
type tries struct {
	wrong  int
	last   time.Time
	lock   time.Duration // the last one
	locked time.Time     // until then no try counts
}

// more counts a wrong try, and tells whether it was one too many.
func (t *tries) more(most int, now time.Time) bool {
	t.last = now
	if t.wrong++; t.wrong < most {
		return false
	}
	t.lock = min(max(2*t.lock, firstLock), mostLock)
	t.wrong, t.locked = 0, now.Add(t.lock)
	return true
}

func newPairing(now func() time.Time, show func(string)) *pairing {
	return &pairing{now: now, show: show, by: map[netip.Addr]*tries{}}
}

// offer sees to it that there is a code, and shows a new one where there is
// none. It tells how long to wait where this address may not try one yet.
func (p *pairing) offer(from netip.Addr) (time.Duration, error) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if wait := p.waits(from).Sub(p.now()); wait > 0 {
		return wait, nil
	}
	return 0, p.renew()
}

// shown is the code that holds now; empty for none.
func (p *pairing) shown() string {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.code
}

// waits is the time until when an address may not try. The caller holds p.
func (p *pairing) waits(from netip.Addr) time.Time {
	if own := p.by[from]; own != nil && own.locked.After(p.all.locked) {
		return own.locked
	}
	return p.all.locked
}

// renew makes a new code where there is none that holds. The caller holds p.
func (p *pairing) renew() error {
	if p.code != "" && p.now().Before(p.until) {
		return nil
	}
	n, err := rand.Int(rand.Reader, big.NewInt(1_000_000))
	if err != nil {
		return fmt.Errorf("no code could be made: %w", err)
	}
	p.code, p.until, p.all.wrong = fmt.Sprintf("%06d", n), p.now().Add(codeTime), 0
	p.show(p.code)
	return nil
}

// try holds a code that an address sent against the one that is shown.
func (p *pairing) try(from netip.Addr, code string) (trial, error) {
	p.mu.Lock()
	defer p.mu.Unlock()
	now := p.now()
	for at, own := range p.by {
		if now.Sub(own.last) > forgetAfter {
			delete(p.by, at)
		}
	}
	switch {
	case now.Before(p.waits(from)):
		return lockedOut, nil
	case p.code == "" || !now.Before(p.until):
		return codeRunOut, p.renew()
	case subtle.ConstantTimeCompare([]byte(code), []byte(p.code)) == 1:
		p.code, p.all.lock = "", 0
		delete(p.by, from)
		return paired, nil
	}
	own := p.by[from]
	if own == nil {
		own = &tries{}
		p.by[from] = own
	}
	tooMany := own.more(mostWrong, now)
	if p.all.more(mostWrongAll, now) {
		p.code, tooMany = "", true
	}
	if tooMany {
		return lockedOut, nil
	}
	return wrongCode, nil
}
