package catalog

// englishPress is what the program says in the room called press.
var englishPress = map[string]string{}
