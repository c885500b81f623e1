package page

import (
	"errors"
	"fmt"
	"html/template"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"sync/atomic"
	"text/template/parse"
	"time"

	"asleft/generator/catalog"
)

// A theme of the shop's own is a program, and a slip in one, or malice in one that
// was fetched from somewhere, must not hang this program nor fill the memory or the
// disk. No template may call itself; maxPage and maxSite end what writes too much,
// maxSteps what goes on and on and writes next to nothing, maxText and maxMade texts
// that are made of themselves, and maxPageTime whatever is slow in a way that
// nobody has thought of.
const (
	maxSteps    = 300_000   // of one page, and one more for each 16 bytes that it wrote
	maxText     = 256 << 10 // bytes that a theme's function takes or gives; a file has 64 kB of fields
	maxMade     = 64 << 20  // bytes of texts that functions made and no page holds
	maxSite     = 64 << 20  // bytes of all pages together
	sitePerPart = 256 << 10 // and as many more for each machine and each entry
	maxPieces   = 500       // templates of a theme

	maxPageTime     = 20 * time.Second
	maxSiteTime     = time.Minute
	siteTimePerPart = time.Second / 4 // more for each machine and each entry
)

var (
	errMaxSteps = errors.New("the page is not done after 300,000 steps that write next to nothing; the template repeats itself")
	errMaxText  = fmt.Errorf("the text grew past %d kB; the template repeats itself", maxText>>10)
	errMaxMade  = fmt.Errorf("the templates made more than %d MB of text that is on no page; they repeat themselves", maxMade>>20)
	errMaxSite  = errors.New("the pages together grew far past what the logs can fill; the template repeats itself")
	errMaxTime  = fmt.Errorf("the page is not done after %d seconds; the template repeats itself", maxPageTime/time.Second)
	errSlow     = errors.New("the pages together take far longer than the logs can need; the templates repeat themselves")
	errPieces   = fmt.Errorf("the theme has more than %d templates", maxPieces)
	errWidth    = errors.New("a width in a format may have three digits at most, and no *")
)

// A budget is what the templates of a theme may use up for all of a site. The
// functions that they call share it, for they know nothing of the page that they
// are called for.
type budget struct {
	parts   int64 // machines and entries
	made    atomic.Int64
	written atomic.Int64
	spent   atomic.Int64 // time.Duration
	over    atomic.Pointer[error]
}

// stop ends every page that is being filled in, and lets none begin.
func (b *budget) stop(why error) { b.over.CompareAndSwap(nil, &why) }

func (b *budget) err() error {
	if why := b.over.Load(); why != nil {
		return *why
	}
	return nil
}

// make counts bytes of a text that a function made.
func (b *budget) make(n int) error {
	if b.made.Add(int64(n)) > maxMade+b.written.Load() {
		b.stop(errMaxMade)
	}
	return b.err()
}

// write counts bytes that go onto a page.
func (b *budget) write(n int) error {
	if b.written.Add(int64(n)) > maxSite+sitePerPart*b.parts {
		b.stop(errMaxSite)
	}
	return b.err()
}

// page begins one, and gives what ends it.
func (b *budget) page() (done func()) {
	begun := time.Now()
	alarm := time.AfterFunc(maxPageTime, func() { b.stop(errMaxTime) })
	return func() {
		alarm.Stop()
		if b.spent.Add(int64(time.Since(begun))) > int64(maxSiteTime)+b.parts*int64(siteTimePerPart) {
			b.stop(errSlow)
		}
	}
}

// callsItself is an error where a template leads back to itself: nothing that a
// site shows is deep enough to need that.
func callsItself(t *template.Template) error {
	const on, clear = 1, 2
	seen := map[string]int{}
	var walk func(name string) error
	walk = func(name string) error {
		piece := t.Lookup(name)
		if piece == nil || piece.Tree == nil || seen[name] == clear {
			return nil
		}
		seen[name] = on
		for _, n := range nodesOf(piece.Tree.Root) {
			call, ok := n.(*parse.TemplateNode)
			if !ok {
				continue
			}
			if seen[call.Name] == on {
				where, _ := piece.Tree.ErrorContext(call)
				return fmt.Errorf("the theme's %s: the template %q calls itself, straight or by way of others; take the call out", where, call.Name)
			}
			if err := walk(call.Name); err != nil {
				return err
			}
		}
		seen[name] = clear
		return nil
	}
	all := t.Templates()
	if len(all) > maxPieces {
		return errPieces
	}
	slices.SortFunc(all, func(a, b *template.Template) int { return strings.Compare(a.Name(), b.Name()) })
	for _, piece := range all {
		if err := walk(piece.Name()); err != nil {
			return err
		}
	}
	return nil
}

// countSteps has each turn of a range, each use of a piece and each call of a
// function write an empty text, which the page's buffer counts as a step.
func countSteps(t *template.Template) {
	for _, piece := range t.Templates() {
		if piece.Tree != nil {
			countIn(piece.Tree.Root)
			stepAt(piece.Tree.Root)
		}
	}
}

func countIn(list *parse.ListNode) {
	if list == nil {
		return
	}
	var counted []parse.Node
	for _, n := range list.Nodes {
		var pipe *parse.PipeNode
		switch n := n.(type) {
		case *parse.RangeNode:
			pipe = n.Pipe
			countIn(n.List)
			countIn(n.ElseList)
			stepAt(n.List)
		case *parse.IfNode:
			pipe = n.Pipe
			countIn(n.List)
			countIn(n.ElseList)
		case *parse.WithNode:
			pipe = n.Pipe
			countIn(n.List)
			countIn(n.ElseList)
		case *parse.ActionNode:
			pipe = n.Pipe
		case *parse.TemplateNode:
			pipe = n.Pipe
		}
		for range calls(pipe) {
			counted = append(counted, step(n.Position()))
		}
		counted = append(counted, n)
	}
	list.Nodes = counted
}

// calls is how many functions a pipe calls.
func calls(pipe *parse.PipeNode) (n int) {
	if pipe == nil {
		return 0
	}
	for _, command := range pipe.Cmds {
		for _, arg := range command.Args {
			switch arg := arg.(type) {
			case *parse.IdentifierNode:
				n++
			case *parse.PipeNode:
				n += calls(arg)
			}
		}
	}
	return n
}

func step(at parse.Pos) parse.Node { return &parse.TextNode{NodeType: parse.NodeText, Pos: at} }

func stepAt(list *parse.ListNode) {
	list.Nodes = append([]parse.Node{step(list.Pos)}, list.Nodes...)
}

// functions are what a theme may call: sentences, and those of text/template
// that make texts, none of which may grow without end.
func functions(words *catalog.Catalog, b *budget) template.FuncMap {
	return template.FuncMap{
		"say": func(key string, pairs ...any) (string, error) {
			return b.within(func(pairs ...any) string { return words.Say(key, pairs...) }, pairs)
		},
		"printf": func(format string, values ...any) (string, error) {
			if wide.MatchString(format) || len(format) > maxText {
				return "", errWidth
			}
			return b.within(func(values ...any) string { return fmt.Sprintf(format, values...) }, values)
		},
		"print":    func(values ...any) (string, error) { return b.within(fmt.Sprint, values) },
		"println":  func(values ...any) (string, error) { return b.within(fmt.Sprintln, values) },
		"html":     func(values ...any) (string, error) { return b.within(template.HTMLEscaper, values) },
		"js":       func(values ...any) (string, error) { return b.within(template.JSEscaper, values) },
		"urlquery": func(values ...any) (string, error) { return b.within(template.URLQueryEscaper, values) },
	}
}

var wide = regexp.MustCompile(`[0-9]{4}|\*`)

// within calls a function that makes a text of values, unless they or it are
// too long.
func (b *budget) within(do func(...any) string, values []any) (string, error) {
	long := 0
	for _, v := range values {
		if r := reflect.ValueOf(v); r.Kind() == reflect.String {
			long += r.Len()
		}
	}
	if long > maxText {
		return "", errMaxText
	}
	made := do(values...)
	if len(made) > maxText {
		return "", errMaxText
	}
	return made, b.make(len(made))
}
