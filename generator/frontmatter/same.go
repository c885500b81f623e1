package frontmatter

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"asleft/generator/frontmatter/yamlvalue"
)

// meant is what the readers of a folder take a text for.
func meant(s string) string { return strings.TrimSpace(yamlvalue.Tidy(s)) }

// tells is whether a value says anything: a text that is not empty, or something
// with such a one in it.
func (n Node) tells() bool {
	switch n.Kind {
	case Text:
		return meant(n.Text) != ""
	case Fields:
		return slices.ContainsFunc(n.Fields, func(f Field) bool { return f.Node.tells() })
	}
	return slices.ContainsFunc(n.Items, Node.tells)
}

// inOrder are the items of a list in the order in which a file has them: those
// that it has, then the new ones.
func (n Node) inOrder() []Node {
	items := slices.Clone(n.Items)
	slices.SortStableFunc(items, func(a, b Node) int { return cmp.Compare(uint(a.From-1), uint(b.From-1)) })
	return items
}

// differs is where a value that was read is not the wanted one. Fields may stand
// in any order, and what says nothing is as good as not there.
func differs(got, want Node, path string) (at string, differ bool) {
	switch {
	case !got.tells() && !want.tells():
		return "", false
	case got.Kind != want.Kind, got.tells() != want.tells():
		return path, true
	case got.Kind == Text:
		return path, meant(got.Text) != meant(want.Text)
	case got.Kind == List:
		return itemsDiffer(got, want, path)
	}
	has, wanted := got.names(), want.names()
	for _, f := range want.Fields {
		have := Node{}
		if i, is := has[underscored(f.Name)]; is {
			have = got.Fields[i].Node
		}
		if at, differ := differs(have, f.Node, within(path, f.Name)); differ {
			return at, true
		}
	}
	for _, f := range got.Fields {
		if _, is := wanted[underscored(f.Name)]; !is && f.Node.tells() {
			return within(path, f.Name), true
		}
	}
	return "", false
}

func itemsDiffer(got, want Node, path string) (at string, differ bool) {
	silent := func(n Node) bool { return !n.tells() }
	have, need := slices.DeleteFunc(slices.Clone(got.Items), silent), slices.DeleteFunc(want.inOrder(), silent)
	for i := range min(len(have), len(need)) {
		if at, differ := differs(have[i], need[i], numbered(path, i)); differ {
			return at, true
		}
	}
	return path, len(have) != len(need)
}

func within(path, name string) string {
	if path == "" {
		return name
	}
	return path + "." + name
}

func numbered(path string, i int) string { return fmt.Sprintf("%s[%d]", path, i) }

// impossible is the field of which no file can say what is wanted: two of one
// name, a new one whose name is none, or an item that the file does not have or is
// wanted twice.
func impossible(want Node, old *value, path string) (at string, bad bool) {
	has := old.names()
	names := map[string]bool{}
	for _, f := range want.Fields {
		name, at := underscored(f.Name), within(path, f.Name)
		_, there := has[name]
		if names[name] || !there && (meant(f.Name) != f.Name || name == "") {
			return at, true
		}
		names[name] = true
		if at, bad := impossible(f.Node, has[name], at); bad {
			return at, true
		}
	}
	had := map[int]bool{}
	for i, item := range want.Items {
		at := numbered(path, i)
		var was *value
		if item.From != 0 {
			if old == nil || old.kind != List || item.From < 1 || item.From > len(old.children) || had[item.From] {
				return at, true
			}
			had[item.From] = true
			was = old.children[item.From-1].value
		}
		if at, bad := impossible(item, was, at); bad {
			return at, true
		}
	}
	return "", false
}

// names are the values of fields by their names.
func (v *value) names() map[string]*value {
	all := map[string]*value{}
	if v != nil && v.kind == Fields {
		for _, c := range v.children {
			all[underscored(c.name)] = c.value
		}
	}
	return all
}
