package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"time"

	"github.com/zalando/go-keyring"
	"golang.org/x/term"

	"asleft/generator/publish/farend"
)

// ringName is what secrets stand under in the system's key ring.
const ringName = "asleft"

// ringTime is how long the key ring is waited for: some ask their user, and some never
// answer.
const ringTime = 30 * time.Second

// secrets are passwords and passphrases: from the system's key ring, or asked on the
// terminal. They are held in memory and go to the server, and nowhere else but, when
// the user says so, into the key ring.
type secrets struct {
	s       streams
	ask     *asker
	typed   map[farend.Secret]string // what was asked for and given, without its try
	offered map[farend.Secret]bool   // to the key ring
}

func newSecrets(s streams) *secrets {
	return &secrets{s: s, ask: newAsker(s), typed: map[farend.Secret]string{}, offered: map[farend.Secret]bool{}}
}

// A keyRing is the system's.
type keyRing struct{}

// Get is a secret that it keeps; false for none.
func (keyRing) Get(kind, of string) (string, bool) {
	secret, err := inRing(func() (string, error) { return keyring.Get(ringName, kind+" "+of) })
	return secret, err == nil
}

// Keep has it keep a secret.
func (keyRing) Keep(kind, of, secret string) error {
	_, err := inRing(func() (string, error) { return "", keyring.Set(ringName, kind+" "+of, secret) })
	return err
}

// get is asked by a far end.
func (x *secrets) get(ctx context.Context, of farend.Secret) (string, error) {
	if of.Try == 0 {
		if typed, ok := x.typed[of]; ok { // on the line before, which broke
			return typed, nil
		}
		if secret, ok := (keyRing{}).Get(of.Kind, of.Of); ok {
			return secret, nil
		}
	}
	in, ok := x.s.in.(*os.File)
	if !ok || !x.ask.interactive {
		return "", farend.ErrNoSecret
	}
	question := map[string]string{farend.Password: "publish.ask-password", farend.Passphrase: "publish.ask-passphrase", farend.SecretKey: "publish.ask-secret-key"}[of.Kind]
	if of.Try > 0 {
		fmt.Fprintln(x.s.err, words.Say("publish.not-taken"))
	}
	fmt.Fprint(x.s.err, printable(words.Say(question, "of", of.Of)))
	typed, err := term.ReadPassword(int(in.Fd())) //nolint:gosec // a file descriptor is small
	fmt.Fprintln(x.s.err)
	if err != nil || ctx.Err() != nil {
		return "", errors.Join(farend.ErrNoSecret, ctx.Err())
	}
	of.Try = 0
	x.typed[of] = string(typed)
	return string(typed), nil
}

// keep offers, after the server took what was typed, to keep it for the next time.
func (x *secrets) keep() {
	for of, secret := range x.typed {
		if x.offered[of] {
			continue
		}
		x.offered[of] = true
		if secret == "" || !x.ask.yes(words.Say("publish.keep", "of", of.Of)) {
			continue
		}
		if err := (keyRing{}).Keep(of.Kind, of.Of, secret); err != nil {
			fmt.Fprintln(x.s.err, words.Say("publish.not-kept"))
		}
	}
}

var errRingSilent = errors.New("the key ring does not answer")

// inRing waits for the key ring, and not for ever.
func inRing(do func() (string, error)) (string, error) {
	type answer struct {
		secret string
		err    error
	}
	got := make(chan answer, 1)
	go func() {
		secret, err := do()
		got <- answer{secret, err}
	}()
	select {
	case a := <-got:
		return a.secret, a.err
	case <-time.After(ringTime):
		return "", errRingSilent
	}
}
