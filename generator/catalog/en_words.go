package catalog

// englishWords is how dates, lengths of time and lists are said.
var englishWords = map[string]string{
	"date.long":           "{month} {day}, {year}",
	"date.long-day-first": "{day} {month} {year}",
	"month.1":             "January",
	"month.2":             "February",
	"month.3":             "March",
	"month.4":             "April",
	"month.5":             "May",
	"month.6":             "June",
	"month.7":             "July",
	"month.8":             "August",
	"month.9":             "September",
	"month.10":            "October",
	"month.11":            "November",
	"month.12":            "December",
	"length.minutes":      "{m} min",
	"length.hours":        "{h} h",
	"length.both":         "{h} h {m} min",
	"list.comma":          ", ",
	"list.last":           "{items} and {last}",
}
