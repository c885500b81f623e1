package handover

import (
	"bytes"
	"crypto/sha256"
	"encoding/json"
	"errors"
	"fmt"
	"regexp"
	"sync"

	"asleft/generator/handover/jcs"
	"asleft/generator/page"
)

// The forms of a sealed file. The first gave ten digits of the digest of the facts
// to the code and to the file's name alike; its files stay valid and are never
// written any more. Its dates were those of the computer's zone.
const (
	sealFormat  = "asleft sealed report 2"
	firstFormat = "asleft sealed report 1"
)

// How many digits of the digest of the facts stand on paper, in the name of a new
// file, and in both under the first form. Ten were few enough to find two reports
// with the same ones in seconds. Sixteen make that long work, and twelve are what
// people still type; nothing goes by the twelve alone.
const (
	codeLength  = 12
	nameLength  = 16
	firstLength = 10
)

// largestSealed is more than the facts of any machine fill, in bytes: they hold no
// photos, only their digests.
const largestSealed = 16 << 20

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
	// Code is the first twelve digits of FactsDigest; under the first form, ten.
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

func digestOf(data []byte) string { return fmt.Sprintf("%x", sha256.Sum256(data)) }

// name is the name of the report's files, without the ending.
func (s *Seal) name() string {
	digits := s.Code
	if s.Format != firstFormat {
		digits = s.FactsDigest[:min(nameLength, len(s.FactsDigest))]
	}
	return s.Facts.Record.Machine.Key + "-" + s.Facts.Sealed + "-" + digits
}

// GroupedCode is a code as people read it: twelve digits in groups of four. One of
// ten stays as it was printed.
func GroupedCode(code string) string { return page.GroupedCode(code) }

// codeOf is the code that a form gives to a digest of facts, empty where the digest
// is none.
func codeOf(format, factsDigest string) string {
	length := codeLength
	if format == firstFormat {
		length = firstLength
	}
	if len(factsDigest) < length {
		return ""
	}
	return factsDigest[:length]
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
	tooLarge     flaw = "chain.too-large"
	badSignature flaw = "chain.signature"
)

var errForm = errors.New("not in the form of a sealed report")

// plainName is what the names in a sealed file look like.
var plainName = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^[a-z0-9_]+$`) })

// plainNames tells whether all names of a JSON value are of small letters, digits
// and _. encoding/json takes FACTS, and facts with the long s (U+017F), for facts: a
// second set of facts could stand under such a name, shown and not covered by the
// digest of the first. All names that are ours are plain, and of plain ones each is
// taken for itself alone.
func plainNames(v any) bool {
	switch v := v.(type) {
	case map[string]any:
		for name, held := range v {
			if !plainName().MatchString(name) || !plainNames(held) {
				return false
			}
		}
	case []any:
		for _, held := range v {
			if !plainNames(held) {
				return false
			}
		}
	}
	return true
}

// opened reads a sealed file and says whether it is whole: in canonical form to
// the byte, the digests and the signature right.
func opened(data []byte) (*Seal, flaw, error) {
	v, err := jcs.Parse(data)
	if err != nil {
		return nil, unreadable, err
	}
	tree, ok := v.(map[string]any)
	if !ok || tree["format"] != sealFormat && tree["format"] != firstFormat || !plainNames(tree) {
		return nil, unreadable, errForm
	}
	s := &Seal{}
	if err := json.Unmarshal(data, s); err != nil {
		return nil, unreadable, err
	}
	s.Facts.first = readFirst(data)
	canonical, err := jcs.Encode(tree)
	facts, wrong := jcs.Encode(tree["facts"])
	message, bad := covered(tree)
	if err := errors.Join(err, wrong, bad); err != nil {
		return nil, unreadable, err
	}
	_, hasSignature := tree["signature"] // which no digest covers: it must not go unseen
	right := hasSignature && bytes.Equal(canonical, data) && digestOf(message) == s.Digest && digestOf(facts) == s.FactsDigest &&
		s.Code != "" && s.Code == codeOf(s.Format, s.FactsDigest)
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
