package catalog

import "maps"

// English is the first catalog. Its sentences stand in one file for each room
// of the house that says them: en_logbook.go, en_tally.go and so on.
var English = &Catalog{
	Lang: "en",
	Form: func(n int) string {
		if n == 1 {
			return "one"
		}
		return "other"
	},
	Sentences: merged(englishParts),
}

var englishParts = []map[string]string{
	englishWords,
	englishLogbook,
	englishTally,
	englishCondition,
	englishBenchtest,
	englishBenchtestEngine,
	englishBenchtestOther,
	englishBenchtestAdded,
	englishPage,
	englishTheme,
	englishPhoto,
	englishPen,
	englishMend,
	englishCommand,
	englishHandover,
	englishPreview,
	englishFields,
	englishDesk,
	englishPublish,
}

func merged(parts []map[string]string) map[string]string {
	all := map[string]string{}
	for _, part := range parts {
		maps.Copy(all, part)
	}
	return all
}
