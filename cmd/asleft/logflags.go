package main

import (
	"errors"
	"regexp"
	"strings"

	"asleft/generator/pen"
)

// The flags of asleft log that say more than one thing have one form: what it
// is about, and further fields after semicolons, each with its name:
//
//	--measured 'compression, cylinder 1 = 47 psi; gauge: 2 psi; state: cold'
//
// A semicolon that no field of the flag follows belongs to the text.

// fieldsOf takes a flag's text apart into its head and the fields after it.
func fieldsOf(text string, names ...string) (head string, fields map[string]string) {
	fields = map[string]string{}
	next := regexp.MustCompile(`;\s*(` + strings.Join(names, "|") + `)\s*:`)
	found := next.FindAllStringSubmatchIndex(text, -1)
	head = text
	for i, at := range found {
		if i == 0 {
			head = text[:at[0]]
		}
		end := len(text)
		if i+1 < len(found) {
			end = found[i+1][0]
		}
		fields[text[at[2]:at[3]]] = strings.TrimSpace(text[at[1]:end])
	}
	return strings.TrimSpace(head), fields
}

// halves cuts a head in two at a mark, neither of them empty.
func halves(flag, head, mark, form string) (string, string, error) {
	a, b, ok := strings.Cut(head, mark)
	a, b = strings.TrimSpace(a), strings.TrimSpace(b)
	if !ok || a == "" || b == "" {
		return "", "", wrongUsage(errors.New(words.Say("command.bad-flag", "flag", flag, "read", head, "form", form)))
	}
	return a, b, nil
}

func yesIn(s string) bool { return strings.EqualFold(s, "yes") }

// add puts what the flags say into an entry.
func (l *logFlags) add(e *pen.Entry) error {
	for _, step := range []func(*pen.Entry) error{l.addChecks, l.addMeasured, l.addParts, l.addCosts, l.addDefects, l.addRepaired, l.addProofs, l.addAround} {
		if err := step(e); err != nil {
			return err
		}
	}
	return nil
}

func (l *logFlags) addChecks(e *pen.Entry) error {
	for _, t := range l.checks {
		head, more := fieldsOf(t, "note", "system", "safety")
		item, result, err := halves("check", head, "=", "item = works")
		if err != nil {
			return err
		}
		e.Checks = append(e.Checks, pen.Check{Item: item, Result: result, Note: more["note"], System: more["system"], Safety: yesIn(more["safety"])})
	}
	return nil
}

func (l *logFlags) addMeasured(e *pen.Entry) error {
	for _, t := range l.measured {
		head, more := fieldsOf(t, "where", "gauge", "state", "system")
		what, value, err := halves("measured", head, "=", "what = 0.011 in")
		if err != nil {
			return err
		}
		e.Measured = append(e.Measured, pen.Reading{What: what, Where: more["where"], Value: value, Gauge: more["gauge"], State: more["state"], System: more["system"]})
	}
	return nil
}

func (l *logFlags) addParts(e *pen.Entry) error {
	for _, t := range l.parts {
		head, more := fieldsOf(t, "number", "qty", "each", "source", "from", "system", "tax", "shipping")
		e.Parts = append(e.Parts, pen.Part{Part: head, Number: more["number"], Qty: more["qty"], Each: more["each"], Source: more["source"], From: more["from"], System: more["system"], Tax: more["tax"], Shipping: more["shipping"]})
	}
	return nil
}

func (l *logFlags) addCosts(e *pen.Entry) error {
	for _, t := range l.costs {
		what, amount, err := halves("cost", t, "=", "fetching it = 22.00")
		if err != nil {
			return err
		}
		e.Costs = append(e.Costs, pen.Cost{For: what, Amount: amount})
	}
	return nil
}

func (l *logFlags) addDefects(e *pen.Entry) error {
	for _, t := range l.defects {
		head, more := fieldsOf(t, "effect", "system", "safety")
		key, defect, err := halves("defect", head, ":", "key: what is wrong; system: drive")
		if err != nil {
			return err
		}
		e.Defects = append(e.Defects, pen.Defect{Key: key, Defect: defect, Effect: more["effect"], System: more["system"], Safety: yesIn(more["safety"])})
	}
	return nil
}

func (l *logFlags) addRepaired(e *pen.Entry) error {
	for _, t := range l.repaired {
		head, more := fieldsOf(t, "proof")
		key, how, err := halves("repaired", head, ":", "key: how")
		if err != nil {
			return err
		}
		e.Repaired = append(e.Repaired, pen.Repair{Key: key, How: how, Proof: more["proof"]})
	}
	return nil
}

// addProofs joins a proof to the repair of this entry, or stands it alone where
// the repair was made in an earlier one.
func (l *logFlags) addProofs(e *pen.Entry) error {
	for _, t := range l.proofs {
		key, proof, err := halves("proof", t, ":", "key: what showed that it holds")
		if err != nil {
			return err
		}
		joined := false
		for i := range e.Repaired {
			if r := &e.Repaired[i]; r.Key == key && r.Proof == "" {
				r.Proof, joined = proof, true
			}
		}
		if !joined {
			e.Repaired = append(e.Repaired, pen.Repair{Key: key, Proof: proof})
		}
	}
	return nil
}

func (l *logFlags) addAround(e *pen.Entry) error {
	for _, t := range l.around {
		head, more := fieldsOf(t, "left")
		key, how, err := halves("worked-around", head, ":", "key: how; left: what is left")
		if err != nil {
			return err
		}
		e.WorkedAround = append(e.WorkedAround, pen.WorkAround{Key: key, How: how, Left: more["left"]})
	}
	return nil
}
