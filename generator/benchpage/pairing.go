package benchpage

import (
	"crypto/rand"
	"crypto/subtle"
	"fmt"
	"math/big"
	"sync"
	"time"
)

// A code holds for ten minutes, for one phone, and for five wrong tries. After
// those there is none for half a minute, and for twice as long each time, up to
// a quarter of an hour: whoever guesses all day long has one chance in two
// thousand.
const (
	codeTime  = 10 * time.Minute
	mostWrong = 5
	firstLock = 30 * time.Second
	mostLock  = 15 * time.Minute
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

	mu     sync.Mutex
	code   string // empty: none
	until  time.Time
	wrong  int
	lock   time.Duration
	locked time.Time // until then no try counts
}

func newPairing(now func() time.Time, show func(string)) *pairing {
	return &pairing{now: now, show: show, lock: firstLock}
}

// offer sees to it that there is a code, and shows a new one where there is
// none. It tells how long to wait where no code may be tried yet.
func (p *pairing) offer() (time.Duration, error) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if wait := p.locked.Sub(p.now()); wait > 0 {
		return wait, nil
	}
	return 0, p.renew()
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
	p.code, p.until, p.wrong = fmt.Sprintf("%06d", n), p.now().Add(codeTime), 0
	p.show(p.code)
	return nil
}

// try holds a code against the one that is shown.
func (p *pairing) try(code string) (trial, error) {
	p.mu.Lock()
	defer p.mu.Unlock()
	switch {
	case p.now().Before(p.locked):
		return lockedOut, nil
	case p.code == "" || !p.now().Before(p.until):
		return codeRunOut, p.renew()
	case subtle.ConstantTimeCompare([]byte(code), []byte(p.code)) == 1:
		p.code, p.lock = "", firstLock
		return paired, nil
	}
	if p.wrong++; p.wrong < mostWrong {
		return wrongCode, nil
	}
	p.code, p.locked = "", p.now().Add(p.lock)
	p.lock = min(2*p.lock, mostLock)
	return lockedOut, nil
}
