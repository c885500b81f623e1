package catalog

// englishTally is what the program says in the room called tally.
var englishTally = map[string]string{}
