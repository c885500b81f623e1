package jcs

import (
	"errors"
	"fmt"
	"strconv"
	"strings"
	"unicode/utf16"
	"unicode/utf8"
)

// deepest bounds how far lists and objects may be nested.
const deepest = 200

// Parse reads one JSON text (RFC 8259) as strictly as the package says. Errors
// name the byte, counted from 0.
func Parse(text []byte) (any, error) {
	if !utf8.Valid(text) {
		return nil, errors.New("the text is not UTF-8")
	}
	p := &parser{text: string(text)}
	v, err := p.value(0)
	if err != nil {
		return nil, err
	}
	if p.space(); p.at < len(p.text) {
		return nil, p.wrong("something follows the end")
	}
	return v, nil
}

type parser struct {
	text string
	at   int
}

func (p *parser) wrong(what string) error { return fmt.Errorf("byte %d: %s", p.at, what) }

func (p *parser) space() {
	for p.at < len(p.text) && strings.IndexByte(" \t\r\n", p.text[p.at]) >= 0 {
		p.at++
	}
}

// next is the next byte that is no space, 0 at the end.
func (p *parser) next() byte {
	p.space()
	if p.at == len(p.text) {
		return 0
	}
	return p.text[p.at]
}

// take moves past a text if it comes next.
func (p *parser) take(text string) bool {
	if strings.HasPrefix(p.text[p.at:], text) {
		p.at += len(text)
		return true
	}
	return false
}

func (p *parser) value(depth int) (any, error) {
	if depth > deepest {
		return nil, p.wrong("nested too deep")
	}
	switch c := p.next(); {
	case c == '{':
		return p.object(depth)
	case c == '[':
		return p.list(depth)
	case c == '"':
		return p.string()
	case c == '-' || c >= '0' && c <= '9':
		return p.number()
	case p.take("null"):
		return nil, nil
	case p.take("true"):
		return true, nil
	case p.take("false"):
		return false, nil
	}
	return nil, p.wrong("a value was expected")
}

func (p *parser) list(depth int) (any, error) {
	p.at++
	list := []any{}
	if p.next() == ']' {
		p.at++
		return list, nil
	}
	for {
		v, err := p.value(depth + 1)
		if err != nil {
			return nil, err
		}
		list = append(list, v)
		if more, err := p.more(']'); !more {
			return list, err
		}
	}
}

// more moves past the comma before another item, or past the end.
func (p *parser) more(end byte) (bool, error) {
	switch p.next() {
	case ',':
		p.at++
		return true, nil
	case end:
		p.at++
		return false, nil
	}
	return false, p.wrong("a comma or the end was expected")
}

func (p *parser) object(depth int) (any, error) {
	p.at++
	object := map[string]any{}
	if p.next() == '}' {
		p.at++
		return object, nil
	}
	for {
		if p.next() != '"' {
			return nil, p.wrong("a name was expected")
		}
		name, err := p.string()
		if err != nil {
			return nil, err
		}
		if _, twice := object[name]; twice {
			return nil, p.wrong("the name " + strconv.Quote(name) + " stands twice in one object")
		}
		if p.next() != ':' {
			return nil, p.wrong("a colon was expected")
		}
		p.at++
		if object[name], err = p.value(depth + 1); err != nil {
			return nil, err
		}
		if more, err := p.more('}'); !more {
			return object, err
		}
	}
}

// number reads a number by the grammar of RFC 8259, section 6. One that a
// double cannot hold exactly is rounded, as RFC 8785 has it; one that is too
// large for any is an error.
func (p *parser) number() (any, error) {
	start := p.at
	p.take("-")
	if !p.take("0") && p.digits() == 0 {
		return nil, p.wrong("a digit was expected")
	}
	if p.take(".") && p.digits() == 0 {
		return nil, p.wrong("a digit was expected")
	}
	if p.take("e") || p.take("E") {
		if !p.take("+") {
			p.take("-")
		}
		if p.digits() == 0 {
			return nil, p.wrong("a digit was expected")
		}
	}
	f, err := strconv.ParseFloat(p.text[start:p.at], 64)
	if err != nil {
		return nil, p.wrong("the number is out of range")
	}
	return f, nil
}

func (p *parser) digits() int {
	start := p.at
	for p.at < len(p.text) && p.text[p.at] >= '0' && p.text[p.at] <= '9' {
		p.at++
	}
	return p.at - start
}

func (p *parser) string() (string, error) {
	p.at++
	var b strings.Builder
	for p.at < len(p.text) {
		switch c := p.text[p.at]; {
		case c == '"':
			p.at++
			return b.String(), nil
		case c < ' ':
			return "", p.wrong("a control character stands in a text")
		case c == '\\':
			r, err := p.escape()
			if err != nil {
				return "", err
			}
			b.WriteRune(r)
		default:
			b.WriteByte(c)
			p.at++
		}
	}
	return "", p.wrong("a text has no end")
}

var plainEscapes = map[byte]rune{'"': '"', '\\': '\\', '/': '/', 'b': '\b', 'f': '\f', 'n': '\n', 'r': '\r', 't': '\t'}

func (p *parser) escape() (rune, error) {
	p.at++
	if p.at == len(p.text) {
		return 0, p.wrong("a text has no end")
	}
	if r, ok := plainEscapes[p.text[p.at]]; ok {
		p.at++
		return r, nil
	}
	if !p.take("u") {
		return 0, p.wrong("an unknown escape")
	}
	r, err := p.unit()
	if err != nil || !utf16.IsSurrogate(r) {
		return r, err
	}
	if !p.take(`\u`) {
		return 0, p.wrong("half a surrogate pair")
	}
	low, err := p.unit()
	if err != nil {
		return 0, err
	}
	if r = utf16.DecodeRune(r, low); r == utf8.RuneError {
		return 0, p.wrong("half a surrogate pair")
	}
	return r, nil
}

// unit reads the four digits of a \u escape.
func (p *parser) unit() (rune, error) {
	if len(p.text)-p.at < 4 {
		return 0, p.wrong("four digits were expected")
	}
	n, err := strconv.ParseUint(p.text[p.at:p.at+4], 16, 16)
	if err != nil || strings.ContainsAny(p.text[p.at:p.at+4], "_+-") {
		return 0, p.wrong("four digits were expected")
	}
	p.at += 4
	return rune(n), nil
}
