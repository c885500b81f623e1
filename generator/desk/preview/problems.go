package preview

import (
	"strings"

	"github.com/spf13/afero"

	"asleft/generator/logbook"
	"asleft/generator/rooted"
)

// A Problem is a problem of the logs as it is shown over a page. The texts are
// plain; one that stands in no file has no Place.
type Problem struct {
	Place string `json:"place"` // file:line: field
	Line  string `json:"line"`  // the line as it stands in the file
	Says  string `json:"says"`
	Mend  string `json:"mend"`
}

// longestLine is how much of a line is shown, in characters.
const longestLine = 400

// shown are problems with their lines.
func shown(folder afero.Fs, found []logbook.Problem) []Problem {
	files := map[string][]string{}
	var all []Problem
	for _, p := range found {
		if _, read := files[p.File]; !read {
			files[p.File] = lines(folder, p.File)
		}
		one := Problem{Place: p.Place.String(), Says: p.Says, Mend: p.Mend}
		if at := files[p.File]; p.Line > 0 && p.Line <= len(at) {
			one.Line = clip(at[p.Line-1])
		}
		all = append(all, one)
	}
	return all
}

// lines are a text file's lines; none where it is not there to be read, as a
// sheet that comes with the program, or no text.
func lines(folder afero.Fs, name string) []string {
	if !strings.HasSuffix(strings.ToLower(name), ".md") {
		return nil
	}
	data, err := rooted.ReadFile(folder, name, rooted.MostText)
	if err != nil {
		return nil
	}
	return strings.Split(strings.ReplaceAll(strings.ToValidUTF8(string(data), "\uFFFD"), "\r\n", "\n"), "\n")
}

func clip(line string) string {
	line = strings.TrimRight(line, " \t\r")
	if runes := []rune(line); len(runes) > longestLine {
		return string(runes[:longestLine]) + "…"
	}
	return line
}
