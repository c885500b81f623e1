package catalog

// englishMend is why a form cannot change a file. As the problems of a shop
// folder, they follow a file:line.
var englishMend = map[string]string{
	"problem.unusual":                  "this is written in a way that cannot be changed here without touching something else",
	"problem.unusual.mend":             "change it in a text editor, or write it as name: value there",
	"problem.cannot-change":            "this cannot be changed here without touching something else in the file",
	"problem.cannot-change.mend":       "change it in the file itself, with a text editor",
	"problem.cannot-change-field":      "{field} cannot be changed here without touching something else in the file",
	"problem.cannot-change-field.mend": "change {field} in the file itself, with a text editor",
}
