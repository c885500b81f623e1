package handover

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"

	"asleft/generator/handover/jcs"
)

// sealFormat names the form of a sealed file.
const sealFormat = "asleft sealed report 1"

// codeLength is how many digits of the facts' digest the code is.
const codeLength = 10

// A Seal is what a sealed file holds. Digests are SHA-256 in lower-case
// hexadecimal digits.
type Seal struct {
	Format string `json:"format"`
	// Number counts the shop's sealed reports from 1.
	Number int `json:"number"`
	// Previous is the Digest of the shop's sealed report before, null for the
	// first.
	Previous *string `json:"previous"`
	// Key is the public key that the file is signed with (Ed25519, 64
	// hexadecimal digits), null where the shop had none.
	Key *string `json:"key"`
	// Code is the first ten digits of FactsDigest.
	Code string `json:"code"`
	// FactsDigest is of the facts in canonical form.
	FactsDigest string `json:"facts_digest"`
	// Copies are the digests of the files that were made for the buyer.
	Copies Copies `json:"copies"`
	Facts  Facts  `json:"facts"`
	// Digest is of this whole file in canonical form, without Digest and
	// Signature.
	Digest string `json:"digest"`
	// Signature is of the same bytes as Digest, null where there is no Key.
	Signature *string `json:"signature"`
}

// Copies are the digests of the report's printed forms.
type Copies struct {
	HTML   string `json:"html"`
	Letter string `json:"pdf_letter"`
	A4     string `json:"pdf_a4"`
}

func digestOf(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:])
}

// name is the name of the report's files, without the ending.
func (s *Seal) name() string {
	return s.Facts.Record.Machine.Key + "-" + s.Facts.Sealed + "-" + s.Code
}

// covered are the bytes that the digest and the signature are of.
func covered(tree map[string]any) ([]byte, error) {
	rest := map[string]any{}
	for name, v := range tree {
		if name != "digest" && name != "signature" {
			rest[name] = v
		}
	}
	return jcs.Encode(rest)
}

// close puts digest and signature on and returns the sealed file's bytes.
func (s *Seal) close(key *ShopKey) ([]byte, error) {
	s.Key, s.Digest, s.Signature = nil, "", nil
	if key != nil {
		s.Key = &key.Public
	}
	text, err := json.Marshal(s)
	if err != nil {
		return nil, fmt.Errorf("the seal: %w", err)
	}
	v, err := jcs.Parse(text)
	if err != nil {
		return nil, fmt.Errorf("the seal: %w", err)
	}
	tree, _ := v.(map[string]any)
	message, err := covered(tree)
	if err != nil {
		return nil, fmt.Errorf("the seal: %w", err)
	}
	s.Digest = digestOf(message)
	tree["digest"] = s.Digest
	if key != nil {
		signature := key.sign(message)
		s.Signature = &signature
		tree["signature"] = signature
	}
	return jcs.Encode(tree)
}

// A flaw is a key of the catalog: what is wrong with one sealed file.
type flaw string

// The flaws that a sealed file can have by itself.
const (
	noFlaw       flaw = ""
	unreadable   flaw = "chain.unreadable"
	changedFile  flaw = "chain.changed"
	badName      flaw = "chain.name"
	badSignature flaw = "chain.signature"
)

var errForm = errors.New("not in the form of a sealed report")

// opened reads a sealed file and says whether it is whole: in canonical form to
// the byte, the digests and the signature right.
func opened(data []byte) (*Seal, flaw, error) {
	v, err := jcs.Parse(data)
	if err != nil {
		return nil, unreadable, err
	}
	tree, ok := v.(map[string]any)
	if !ok || tree["format"] != sealFormat {
		return nil, unreadable, errForm
	}
	s := &Seal{}
	if err := json.Unmarshal(data, s); err != nil {
		return nil, unreadable, err
	}
	s.Facts.first = readFirst(data)
	canonical, err := jcs.Encode(tree)
	if err != nil {
		return nil, unreadable, err
	}
	facts, err := jcs.Encode(tree["facts"])
	if err != nil {
		return nil, unreadable, err
	}
	message, err := covered(tree)
	if err != nil {
		return nil, unreadable, err
	}
	right := bytes.Equal(canonical, data) && digestOf(message) == s.Digest && digestOf(facts) == s.FactsDigest &&
		len(s.FactsDigest) >= codeLength && s.Code == s.FactsDigest[:codeLength]
	switch {
	case !right:
		return s, changedFile, nil
	case !signedRight(s, message):
		return s, badSignature, nil
	}
	return s, noFlaw, nil
}

// signedRight tells whether the signature is the key's, or neither is there.
func signedRight(s *Seal, message []byte) bool {
	if s.Key == nil || s.Signature == nil {
		return s.Key == nil && s.Signature == nil
	}
	return verified(*s.Key, *s.Signature, message)
}
