package handover

import (
	"encoding/json"
	"fmt"
	"maps"
	"slices"
)

// A Difference is one value that differs between a sealed report and what
// somebody holds. Where names it as the sealed file does, as in
// facts.record.defects[0].state. Sealed and Here are JSON, empty for nothing.
type Difference struct {
	Where  string `json:"where"`
	Sealed string `json:"sealed"`
	Here   string `json:"here"`
}

// differences holds two JSON values against each other.
func differences(where string, sealed, here any) []Difference {
	switch s := sealed.(type) {
	case map[string]any:
		if h, ok := here.(map[string]any); ok {
			return differentFields(where, s, h)
		}
	case []any:
		if h, ok := here.([]any); ok {
			return differentItems(where, s, h)
		}
	}
	if sealed == here {
		return nil
	}
	return []Difference{{where, shown(sealed), shown(here)}}
}

func differentFields(where string, sealed, here map[string]any) []Difference {
	names := map[string]bool{}
	for name := range sealed {
		names[name] = true
	}
	for name := range here {
		names[name] = true
	}
	var all []Difference
	for _, name := range slices.Sorted(maps.Keys(names)) {
		at := name
		if where != "" {
			at = where + "." + name
		}
		s, inSealed := sealed[name]
		h, inHere := here[name]
		switch {
		case !inSealed:
			all = append(all, Difference{at, "", shown(h)})
		case !inHere:
			all = append(all, Difference{at, shown(s), ""})
		default:
			all = append(all, differences(at, s, h)...)
		}
	}
	return all
}

func differentItems(where string, sealed, here []any) []Difference {
	var all []Difference
	for i := range max(len(sealed), len(here)) {
		at := fmt.Sprintf("%s[%d]", where, i)
		switch {
		case i >= len(sealed):
			all = append(all, Difference{at, "", shown(here[i])})
		case i >= len(here):
			all = append(all, Difference{at, shown(sealed[i]), ""})
		default:
			all = append(all, differences(at, sealed[i], here[i])...)
		}
	}
	return all
}

func shown(v any) string {
	text, _ := json.Marshal(v) // it was read as JSON
	return string(text)
}
