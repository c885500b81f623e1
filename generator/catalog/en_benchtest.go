package catalog

// englishBenchtest is what the program says in the room called benchtest.
var englishBenchtest = map[string]string{}
