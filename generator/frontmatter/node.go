package frontmatter

import "strings"

// A Node is a value of the front matter as a form shows it: a text, fields, or a
// list.
type Node struct {
	Kind   Kind
	Text   string  // of a Text, as YAML reads it
	Fields []Field // of Fields, in the order of the file
	Items  []Node  // of a List
	From   int     // of an item of a list: which item of the file's list it was, counted from 1; 0 for a new one
}

// A Field is a value with its name.
type Field struct {
	Name string
	Node Node
}

// A Kind is what a value is made of.
type Kind int

// The kinds of values.
const (
	Text Kind = iota
	Fields
	List
)

// Find is the value of a field of a field and so on. A name may be written with
// spaces for underscores.
func (n Node) Find(path ...string) (Node, bool) {
	for _, name := range path {
		at, is := n.names()[underscored(name)]
		if !is {
			return Node{}, false
		}
		n = n.Fields[at].Node
	}
	return n, true
}

// names are where each of the fields stands.
func (n Node) names() map[string]int {
	all := map[string]int{}
	if n.Kind == Fields {
		for i, f := range n.Fields {
			all[underscored(f.Name)] = i
		}
	}
	return all
}

// underscored is the name of a field as the list of fields has it: people write
// "as found" for as_found.
func underscored(name string) string { return strings.ReplaceAll(name, " ", "_") }
