package catalog

// englishPhoto is what goes wrong with photos and themes.
var englishPhoto = map[string]string{
	"problem.photo":      "{file}: {why}",
	"problem.photo.mend": "put a good photo of that name in its place, or take the line out",
	"problem.theme":      "there is no theme {read}",
	"problem.theme.mend": "write the name of a built-in theme, or a folder of the shop that holds style.css and the templates",
}
