package catalog

// englishPhoto is what goes wrong with photos and themes.
var englishPhoto = map[string]string{
	"problem.photo":                 "{file}: {why}",
	"problem.photo.mend":            "put a good photo of that name in its place, or take the line out",
	"problem.theme":                 "there is no theme {read}",
	"problem.theme-name":            "{read} is no name of a theme: a theme is one that comes with the program, or a folder inside the shop's folder",
	"problem.theme-name.mend":       "write its name alone, such as jobcard, or the way to its folder from here, without .. in it",
	"problem.theme-link":            "this is a link, and a theme is read from its own folder alone",
	"problem.theme-link.mend":       "put the file or folder itself here, in place of the link",
	"problem.theme-pipe":            "this is not an ordinary file: it is a folder, a pipe or a device",
	"problem.theme-pipe.mend":       "take it out of the theme's folder",
	"problem.theme-file-large":      "the file is larger than {kb} kB, which is more than any style or template needs",
	"problem.theme-file-large.mend": "make it smaller",
	"problem.theme-large":           "the templates and the style together are larger than {kb} kB",
	"problem.theme-large.mend":      "take out what the theme does not need",
	"problem.theme-many":            "the folder of the theme holds more than {n} files",
	"problem.theme-many.mend":       "keep the theme in a folder of its own, with its style.css and its templates",
	"problem.theme.mend":            "write the name of a built-in theme, or a folder of the shop that holds style.css and the templates",
}
