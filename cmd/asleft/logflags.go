package main

import (
	"errors"
	"regexp"
	"strings"

	"asleft/generator/benchtest"
	"asleft/generator/entry"
)

// The flags of asleft log that say more than one thing have one form: what it
// is about, and further fields after semicolons, each with its name:
//
//	--measured 'compression, cylinder 1 = 47 psi; gauge: 2 psi; state: cold'
//
// A semicolon that no field of the flag follows belongs to the text. A field
// that holds several things is given once for each.

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
		name, value := text[at[2]:at[3]], strings.TrimSpace(text[at[1]:end])
		if before, there := fields[name]; there {
			value = before + "\n" + value
		}
		fields[name] = value
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

// several are the things of a field that was given once for each.
func several(s string) []string {
	if s == "" {
		return nil
	}
	return strings.Split(s, "\n")
}

// safetyIn is what a flag says of safety, else what --safety says of all that
// the command writes down. It is never a no that nobody said.
func (l *logFlags) safetyIn(flag, said string) (string, error) {
	if said == "" {
		said = l.safety
	}
	if said == "" {
		return "", nil
	}
	answer, ok := entry.SaysSafety(said)
	if !ok {
		return "", wrongUsage(errors.New(words.Say("command.bad-safety", "flag", flag, "read", said)))
	}
	return answer, nil
}

// add puts what the flags say into an entry.
func (l *logFlags) add(e *entry.Entry) error {
	for _, step := range []func(*entry.Entry) error{l.addChecks, l.addMeasured, l.addDiagnosis, l.addTests, l.addParts, l.addCosts, l.addDefects, l.addRepaired, l.addProofs, l.addAround, l.addGone, l.addChanged, l.addPutBack, l.addService} {
		if err := step(e); err != nil {
			return err
		}
	}
	e.WorkedOn = l.workedOn
	return nil
}

func (l *logFlags) addChecks(e *entry.Entry) error {
	for _, t := range l.checks {
		head, more := fieldsOf(t, "note", "as_found", "by", "system", "safety")
		item, result, err := halves("check", head, "=", "item = works")
		if err != nil {
			return err
		}
		c := entry.Check{Item: item, Result: result, Note: more["note"], AsFound: yesIn(more["as_found"]), By: more["by"], System: more["system"]}
		if more["safety"] != "" { // for the rest of the sheet's points the sheet says it
			if c.Safety, err = l.safetyIn("check", more["safety"]); err != nil {
				return err
			}
		}
		e.Checks = append(e.Checks, c)
	}
	return nil
}

func (l *logFlags) addMeasured(e *entry.Entry) error {
	for _, t := range l.measured {
		head, more := fieldsOf(t, "where", "gauge", "state", "as_found", "system")
		what, value, err := halves("measured", head, "=", "what = 0.011 in")
		if err != nil {
			return err
		}
		e.Measured = append(e.Measured, entry.Reading{What: what, Where: more["where"], Value: value, Gauge: more["gauge"], State: more["state"], AsFound: yesIn(more["as_found"]), System: more["system"]})
	}
	return nil
}

func (l *logFlags) addDiagnosis(e *entry.Entry) error {
	for _, t := range l.diagnosis {
		tried, more := fieldsOf(t, "saw", "so", "system")
		e.Diagnosis = append(e.Diagnosis, entry.Step{Tried: tried, Saw: more["saw"], So: more["so"], System: more["system"]})
	}
	return nil
}

// addTests takes a test's name and its inputs by theirs. A test that nobody knows
// is written as it was said, for the reader to tell what was meant.
func (l *logFlags) addTests(e *entry.Entry) error {
	for _, t := range l.tests {
		name, rest, _ := strings.Cut(t, ";")
		kind, known := benchtest.KindNamed(strings.TrimSpace(name))
		if !known {
			test := entry.Test{Test: strings.TrimSpace(name)}
			for field := range strings.SplitSeq(rest, ";") {
				if in, said, ok := strings.Cut(field, ":"); ok {
					test.Inputs = append(test.Inputs, entry.Input{Name: strings.TrimSpace(in), Texts: []string{said}})
				}
			}
			e.Tests = append(e.Tests, test)
			continue
		}
		fields := []string{"where", "as_found"}
		for _, in := range kind.Inputs {
			fields = append(fields, in.Name)
		}
		head, more := fieldsOf(t, fields...)
		if head != strings.TrimSpace(name) {
			return wrongUsage(errors.New(words.Say("command.bad-flag", "flag", "test", "read", t, "form", formOf(kind))))
		}
		e.Tests = append(e.Tests, entry.NewTest(kind, more))
	}
	return nil
}

// formOf is a test's name with the names of its inputs, those first that it needs.
func formOf(kind benchtest.Kind) string {
	var needed, rest []string
	for _, in := range kind.Inputs {
		if in.Needed {
			needed = append(needed, in.Name+": ...")
		} else {
			rest = append(rest, in.Name+": ...")
		}
	}
	return kind.Name + "; " + strings.Join(append(needed, rest...), "; ")
}

func (l *logFlags) addParts(e *entry.Entry) error {
	for _, t := range l.parts {
		head, more := fieldsOf(t, "number", "supersedes", "qty", "each", "source", "from", "vendor", "warranty", "supplied_by", "system", "consumable", "answers", "replaces", "affects", "fate", "tax", "shipping", "deposit")
		e.Parts = append(e.Parts, entry.Part{
			Part: head, Number: more["number"], Supersedes: more["supersedes"], Vendor: more["vendor"], Warranty: more["warranty"], SuppliedBy: more["supplied_by"], Qty: more["qty"], Each: more["each"], Source: more["source"], From: more["from"], System: more["system"],
			Consumable: yesIn(more["consumable"]), Answers: several(more["answers"]), Replaces: more["replaces"], Affects: several(more["affects"]), Fate: more["fate"],
			Tax: more["tax"], Shipping: more["shipping"], Deposit: more["deposit"],
		})
	}
	return nil
}

func (l *logFlags) addCosts(e *entry.Entry) error {
	for _, t := range l.costs {
		what, amount, err := halves("cost", t, "=", "fetching it = 22.00")
		if err != nil {
			return err
		}
		e.Costs = append(e.Costs, entry.Cost{For: what, Amount: amount})
	}
	return nil
}

func (l *logFlags) addDefects(e *entry.Entry) error {
	for _, t := range l.defects {
		head, more := fieldsOf(t, "effect", "system", "safety", "point")
		key, defect, err := halves("defect", head, ":", "key: what is wrong; system: drive")
		if err != nil {
			return err
		}
		safety, err := l.safetyIn("defect", more["safety"])
		if err != nil {
			return err
		}
		e.Defects = append(e.Defects, entry.Defect{Key: key, Defect: defect, Effect: more["effect"], System: more["system"], Safety: safety, Point: more["point"]})
	}
	return nil
}

func (l *logFlags) addRepaired(e *entry.Entry) error {
	for _, t := range l.repaired {
		head, more := fieldsOf(t, "proof", "of", "affects")
		key, how, err := halves("repaired", head, ":", "key: how")
		if err != nil {
			return err
		}
		e.Repaired = append(e.Repaired, entry.Repair{Key: key, How: how, Proof: more["proof"], Of: more["of"], Affects: several(more["affects"])})
	}
	return nil
}

// addProofs joins a proof to the repair of this entry, or stands it alone where
// the repair was made in an earlier one.
func (l *logFlags) addProofs(e *entry.Entry) error {
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
			e.Repaired = append(e.Repaired, entry.Repair{Key: key, Proof: proof})
		}
	}
	return nil
}

func (l *logFlags) addAround(e *entry.Entry) error {
	for _, t := range l.around {
		head, more := fieldsOf(t, "left", "affects")
		key, how, err := halves("worked-around", head, ":", "key: how; left: what is left")
		if err != nil {
			return err
		}
		e.WorkedAround = append(e.WorkedAround, entry.WorkAround{Key: key, How: how, Left: more["left"], Affects: several(more["affects"])})
	}
	return nil
}

func (l *logFlags) addGone(e *entry.Entry) error {
	for _, t := range l.gone {
		key, with, err := halves("gone", t, ":", "key: the part that took its place")
		if err != nil {
			return err
		}
		e.Gone = append(e.Gone, entry.Gone{Key: key, With: with})
	}
	return nil
}

func (l *logFlags) addChanged(e *entry.Entry) error {
	for _, t := range l.changed {
		what, more := fieldsOf(t, "key", "why", "system", "safety", "adds", "affects", "caution")
		safety, err := l.safetyIn("changed", more["safety"])
		if err != nil {
			return err
		}
		e.Changed = append(e.Changed, entry.Change{
			Key: more["key"], What: what, Why: more["why"], System: more["system"], Safety: safety,
			Adds: yesIn(more["adds"]), Affects: several(more["affects"]), Caution: more["caution"],
		})
	}
	return nil
}

func (l *logFlags) addPutBack(e *entry.Entry) error {
	for _, t := range l.putBack {
		head, more := fieldsOf(t, "affects")
		key, how, err := halves("put-back", head, ":", "key: how")
		if err != nil {
			return err
		}
		e.PutBack = append(e.PutBack, entry.PutBack{Key: key, How: how, Affects: several(more["affects"])})
	}
	return nil
}

func (l *logFlags) addService(e *entry.Entry) error {
	for _, t := range l.service {
		what, more := fieldsOf(t, "amount", "grade", "system", "every", "answers")
		e.Service = append(e.Service, entry.Service{What: what, Amount: more["amount"], Grade: more["grade"], System: more["system"], Every: more["every"], Answers: several(more["answers"])})
	}
	return nil
}
