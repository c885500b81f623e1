package desk

import (
	"regexp"
	"strings"
	"unicode"
	"unicode/utf8"

	"asleft/generator/catalog"
	"asleft/generator/logbook"
	"asleft/themes"
)

// A problem's words are for somebody who reads the file. In a form there are no names with
// colons behind them, no brackets and no hyphens in a row: what names a field is told by
// the field's label, and how to mend it only where that can be told without the file.

// fieldMark is a field as a file has it: price_unknown: or sold:.
var fieldMark = regexp.MustCompile(`\b([a-z]+(?:_[a-z]+)*):(?:\s|$|[,;.)])`)

// fileMarks are signs of a file that no form has.
var fileMarks = regexp.MustCompile(`[{}\[\]]|---|\b[a-z]+_[a-z_]+\b|\.md\b`)

// fieldNames are the names of all fields, with the file and path of the first that has it.
var fieldNames = func() map[string]string {
	all := map[string]string{}
	for _, f := range logbook.Fields {
		names := strings.Split(f.Path, "/")
		name := names[len(names)-1]
		if _, has := all[name]; !has || len(names) == 1 {
			all[name] = fileWord(f.File) + "." + strings.ReplaceAll(f.Path, "/", ".")
		}
	}
	return all
}()

// says is what is wrong, in a form's words; key is the field that it is at, as
// entry.parts.each, empty where that is not known.
func says(words *catalog.Catalog, p logbook.Problem, key string) string {
	told := labeled(words, p.Says)
	mend := p.Mend
	name := indexes.ReplaceAllString(p.Field[strings.LastIndex(p.Field, ".")+1:], "")
	if name != "" {
		if p.Says == words.Say("problem.required", "field", name) {
			told, mend = words.Say("desk.required"), ""
		}
		// It stands at the field: its name is the label.
		mend = strings.NewReplacer("write "+name+": ", "write ", "as in "+name+": ", "as in ", "such as "+name+": ", "such as ").Replace(mend)
	}
	if own := "desk.mend." + key; key != "" && words.Has(own) {
		mend = words.Say(own, "themes", strings.Join(themes.Names(), ", "))
	}
	if strings.HasPrefix(key, "entry.tests.") { // several readings have commas between
		mend = strings.NewReplacer("[", "", "]", "").Replace(mend)
	}
	if mend == "" || inFile(mend) {
		return told
	}
	parts := strings.Split(mend, ". ")
	for i := range parts {
		parts[i] = sentence(parts[i])
	}
	return words.Say("desk.says", "what", strings.TrimRight(told, "."), "mend", strings.Join(parts, ". "))
}

// sentence is a text as a sentence of its own, but for the stop at its end.
func sentence(text string) string {
	text = strings.TrimRight(text, ".")
	first, n := utf8.DecodeRuneInString(text)
	return string(unicode.ToUpper(first)) + text[n:]
}

// inFile tells whether a text speaks of a file's signs.
func inFile(text string) bool {
	if fileMarks.MatchString(text) {
		return true
	}
	for _, m := range fieldMark.FindAllStringSubmatch(text, -1) {
		if fieldNames[m[1]] != "" {
			return true
		}
	}
	return false
}

// labeled is a text in which fields are named by their labels.
func labeled(words *catalog.Catalog, text string) string {
	return fieldMark.ReplaceAllStringFunc(text, func(mark string) string {
		name, rest, _ := strings.Cut(mark, ":")
		if key := fieldNames[name]; key != "" {
			return words.Say("desk.field", "label", words.Say("desk.label."+key)) + rest
		}
		return mark
	})
}

// keyOf is the key of a field's label from its path in a problem: measured[1].value of an
// entry is entry.measured.value.
func keyOf(kind, path string) string {
	if path == "" {
		return ""
	}
	return fileWord(kind) + "." + indexes.ReplaceAllString(path, "")
}

var indexes = regexp.MustCompile(`\[[^\]]*\]`)
