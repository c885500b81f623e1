package logbook

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v4"

	"asleft/generator/spelling"
)

// A mapping is one of the front matter of the front matter, read field by field. Each field
// that is asked for becomes known; done reports the ones nobody asked for, so
// the reading code is the list of fields and there is no second one.
//
// A field that is there but empty counts as not filled in.
type mapping struct {
	src    *source
	node   *yaml.Node
	path   string
	asked  []string
	left   []string              // names that mean nothing here and are left alone
	fields []*yaml.Node          // names and values in turn; none where it is no mapping
	index  map[string]*yaml.Node // the values by name, nil where they are few
	broken bool                  // not a mapping at all: what is missing from it is not news
}

// few fields are looked through faster than a map is made of them.
const few = 32

func (s *source) mapping(n *yaml.Node, path string) *mapping {
	f := &mapping{src: s, node: n, path: path, asked: make([]string, 0, 8)}
	if n.Kind == 0 || isNull(n) {
		return f
	}
	if n.Kind != yaml.MappingNode {
		s.report(s.at(n.Line, path), "problem.not-fields", "read", shown(n))
		f.broken = true
		return f
	}
	if len(n.Content) > 2*few {
		f.index = map[string]*yaml.Node{}
	}
	for i := 0; i+1 < len(n.Content); i += 2 {
		f.field(n.Content[i], n.Content[i+1])
		f.fields = n.Content[:i+2]
	}
	return f
}

func (f *mapping) field(key, value *yaml.Node) {
	at := f.src.at(key.Line, f.path)
	if key.Kind != yaml.ScalarNode || isNull(key) {
		f.src.report(at, "problem.not-a-name")
		return
	}
	if f.find(key.Value) != nil || f.find(underscored(key.Value)) != nil {
		f.src.report(at.In(clip(key.Value)), "problem.twice")
		return
	}
	if f.index != nil {
		f.index[key.Value] = value
	}
}

// underscored is the name of a field as the files have it: people write "as found" for
// as_found.
func underscored(name string) string { return strings.ReplaceAll(name, " ", "_") }

// find is the node of a field, nil when it is not there. The words of its name may
// stand apart.
func (f *mapping) find(name string) *yaml.Node {
	if n := f.named(name); n != nil || !strings.Contains(name, "_") {
		return n
	}
	return f.named(strings.ReplaceAll(name, "_", " "))
}

func (f *mapping) named(name string) *yaml.Node {
	if f.index != nil {
		return f.index[name]
	}
	for i := 0; i+1 < len(f.fields); i += 2 {
		if key := f.fields[i]; key.Value == name && key.Kind == yaml.ScalarNode && !isNull(key) {
			return f.fields[i+1]
		}
	}
	return nil
}

// names are those of the fields, in their order.
func (f *mapping) names() []string {
	var names []string
	for i := 0; i+1 < len(f.fields); i += 2 {
		if key, value := f.fields[i], f.fields[i+1]; key.Kind == yaml.ScalarNode && !isNull(key) && f.find(key.Value) == value {
			names = append(names, key.Value)
		}
	}
	return names
}

// place is where the mapping itself stands.
func (f *mapping) place() Place {
	return f.src.at(max(f.node.Line, 1), f.path)
}

// at is where a field stands, or the mapping where the field is not there.
func (f *mapping) at(name string) Place {
	p := f.place().In(clip(name))
	if n := f.find(name); n != nil {
		p.Line = n.Line
	}
	return p
}

func (f *mapping) report(name, key string, pairs ...any) {
	f.src.report(f.at(name), key, pairs...)
}

// value is the field's node, nil when it is not there or not filled in.
func (f *mapping) value(name string) *yaml.Node {
	if !slices.Contains(f.asked, name) {
		f.asked = append(f.asked, name)
	}
	n := f.find(name)
	if n == nil || isNull(n) {
		return nil
	}
	return n
}

// isNull tells whether a value is there but empty: nothing at all, null, or
// nothing between quotes.
func isNull(n *yaml.Node) bool {
	return n.Kind == yaml.ScalarNode && (n.Tag == "!!null" || strings.TrimSpace(n.Value) == "")
}

// done reports the fields that nobody asked for.
func (f *mapping) done() {
	for i := 0; !f.broken && i+1 < len(f.node.Content); i += 2 {
		key, value := f.node.Content[i], f.node.Content[i+1]
		if key.Kind == yaml.ScalarNode && !isNull(key) && !slices.Contains(f.asked, key.Value) && !slices.Contains(f.asked, underscored(key.Value)) && !slices.Contains(f.left, key.Value) {
			f.unknown(key, value)
		}
	}
}

func (f *mapping) unknown(key, value *yaml.Node) {
	at := f.src.at(key.Line, f.path).In(clip(key.Value))
	near := spelling.Nearest(key.Value, f.asked)
	elsewhere := ""
	if f.path == "" { // a field of a whole file
		elsewhere = belongs(key.Value, f.asked)
	}
	switch {
	case f.node.Style&yaml.FlowStyle != 0 && isNull(value):
		f.src.report(at, "problem.comma", "field", key.Value)
	case elsewhere != "" && !strings.EqualFold(near, key.Value):
		f.src.report(at, elsewhere, "field", key.Value, "stages", strings.Join(Stages, ", "))
	case near != "":
		f.src.report(at, "problem.unknown-field-near", "field", key.Value, "near", near)
	default:
		sentence := "problem.unknown-field"
		if slices.Contains(f.asked, "private") {
			sentence = "problem.unknown-field-or-private"
		}
		if f.path == "publish" { // most likely a password, which must not go into the text below
			sentence = "problem.publish-field"
		}
		f.src.report(at, sentence, "field", key.Value, "fields", strings.Join(f.asked, ", "))
	}
}

// each reads each item of a list of mappings.
func (f *mapping) each(name string, read func(item *mapping)) {
	for _, i := range f.items(name) {
		item := f.src.mapping(i.node, i.path)
		read(item)
		item.done()
	}
}

// list is what is read of each item of a list of mappings.
func list[T any](f *mapping, name string, read func(item *mapping) T) []T {
	var all []T
	f.each(name, func(item *mapping) {
		if all == nil { // a slice that grows as it goes would keep twice the room
			all = make([]T, 0, len(f.find(name).Content))
		}
		all = append(all, read(item))
	})
	return all
}

// An item is one item of a list, with its path.
type item struct {
	node *yaml.Node
	path string
}

func (f *mapping) items(name string) []item {
	n := f.value(name)
	if n == nil {
		return nil
	}
	if n.Kind != yaml.SequenceNode {
		f.report(name, "problem.not-a-list", "read", shown(n))
		return nil
	}
	return items(n, f.at(name).Field)
}

func items(n *yaml.Node, path string) []item {
	all := make([]item, len(n.Content))
	for i, c := range n.Content {
		all[i] = item{c, numbered(path, i)}
	}
	return all
}

// numbered is the path of an item of a list.
func numbered(path string, i int) string { return path + "[" + strconv.Itoa(i) + "]" }

// A texted is one text of a list with its place.
type texted struct {
	Place
	text string
}

// texts reads a list of plain texts.
func (f *mapping) texts(name string) []texted {
	var all []texted
	for _, i := range f.items(name) {
		if s := f.src.scalar(i.node, i.path); s != "" && !isNull(i.node) {
			all = append(all, texted{f.src.at(i.node.Line, i.path), s})
		}
	}
	return all
}

// words are the texts of a list, without their places.
func (f *mapping) words(name string) []string {
	var all []string
	for _, t := range f.texts(name) {
		all = append(all, t.text)
	}
	return all
}

// sub is a field that is a mapping itself, nil when not given. The caller
// calls its done.
func (f *mapping) sub(name string) *mapping {
	n := f.value(name)
	if n == nil {
		return nil
	}
	return f.src.mapping(n, f.at(name).Field)
}

// shown is a node as a message quotes it.
func shown(n *yaml.Node) string {
	switch n.Kind {
	case yaml.MappingNode:
		return "{...}"
	case yaml.SequenceNode:
		return "[...]"
	}
	return n.Value
}

func codePoint(r rune) string { return fmt.Sprintf("U+%04X", r) }
