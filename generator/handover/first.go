package handover

import (
	"encoding/json"
	"fmt"

	"asleft/generator/condition"
	"asleft/generator/record"
)

// A firstRecord is what reports that were sealed in the first form held of a
// machine, as far as it can be held against today's log.
type firstRecord struct {
	Machine record.Machine `json:"machine"`
	Checks  []struct {
		Item   string  `json:"item"`
		Result string  `json:"result"`
		Date   *string `json:"date"`
		Safety bool    `json:"safety"`
	} `json:"checks"`
	Readings []struct {
		What   string     `json:"what"`
		Where  string     `json:"where"`
		State  string     `json:"state"`
		Found  firstValue `json:"as_found"`
		Left   firstValue `json:"as_left"`
		Result string     `json:"verdict"`
	} `json:"readings"`
	Defects []struct {
		Key    string `json:"key"`
		Defect string `json:"defect"`
		Safety bool   `json:"safety"`
		State  string `json:"state"`
		Found  string `json:"found"`
	} `json:"defects"`
	Changes []struct {
		What string `json:"what"`
		Date string `json:"date"`
	} `json:"changes"`
	Missing []struct {
		Part   string  `json:"part"`
		Fitted *string `json:"fitted"`
	} `json:"missing"`
}

type firstValue struct {
	Value string `json:"value"`
	Date  string `json:"date"`
}

// firstFacts are the parts of the first form that are still of use.
type firstFacts struct {
	Format   string      `json:"format"`
	Language string      `json:"language"`
	Sealed   string      `json:"sealed"`
	AsOf     string      `json:"as_of"`
	Shop     ShopFacts   `json:"shop"`
	Record   firstRecord `json:"record"`
	Sections []struct {
		Statements []struct {
			Evidence []Evidence `json:"evidence"`
		} `json:"statements"`
	} `json:"sections"`
}

// readFirst reads facts of the first form into those of today: what it knew of a
// machine becomes subjects with the history that it told.
func (f *Facts) readFirst(data []byte) error {
	var old firstFacts
	if err := json.Unmarshal(data, &old); err != nil {
		return fmt.Errorf("facts of the first form: %w", err)
	}
	*f = Facts{Format: old.Format, Language: old.Language, Sealed: old.Sealed, AsOf: old.AsOf, Shop: old.Shop, first: &old.Record}
	f.Record.Machine = old.Record.Machine
	f.Record.Subjects = old.Record.subjects()
	seen := map[Evidence]bool{}
	for _, sec := range old.Sections {
		for _, st := range sec.Statements {
			for _, e := range st.Evidence {
				if !seen[e] {
					seen[e] = true
					f.Entries = append(f.Entries, e)
				}
			}
		}
	}
	return nil
}

// firstStates are the standings of what the first form called otherwise.
var firstStates = map[string]condition.Standing{
	"still there": condition.Wrong, "worked around": condition.WorkedAround, "repaired, not proven": condition.NotProven,
	"repaired and proven": condition.InOrder, "works": condition.InOrder, "fails": condition.Wrong, "stale": condition.OutOfDate,
	"not checked": condition.NotChecked, "inside the limit": condition.InOrder, "outside the limit": condition.Wrong,
	"too close to call": condition.TooClose, "no limit given": condition.NoLimit,
}

func (r *firstRecord) subjects() []record.Subject {
	var all []record.Subject
	add := func(kind condition.Kind, name, key, state string, history ...record.Said) {
		all = append(all, record.Subject{Kind: string(kind), Name: name, Key: key, Standing: string(firstStates[state]), History: history})
	}
	for _, d := range r.Defects {
		add(condition.KindDefect, d.Defect, d.Key, d.State, record.Said{Date: d.Found, Said: condition.Found + ": " + d.Defect})
	}
	for _, c := range r.Checks {
		var history []record.Said
		if c.Date != nil {
			history = append(history, record.Said{Date: *c.Date})
		}
		add(condition.KindPoint, c.Item, "", c.Result, history...)
	}
	for _, m := range r.Readings {
		history := []record.Said{{Date: m.Found.Date, Said: condition.Read + ": " + m.Found.Value}}
		if m.Left != m.Found {
			history = append(history, record.Said{Date: m.Left.Date, Said: condition.Read + ": " + m.Left.Value})
		}
		add(condition.KindMeasurement, named(m.What, m.Where, m.State), "", m.Result, history...)
	}
	for _, c := range r.Changes {
		add(condition.KindChange, c.What, "", "", record.Said{Date: c.Date, Said: condition.WasChanged + ": " + c.What})
	}
	for _, m := range r.Missing {
		add(condition.KindMissing, m.Part, "", "")
	}
	return all
}

// named is the name of a measurement as the first form had it.
func named(what, where, state string) string {
	name := what
	if where != "" {
		name += ", " + where
	}
	if state != "" {
		name += " (" + state + ")"
	}
	return name
}
