package logbook

import "unique"

// longestShared is that of a text, in bytes, that is likely to stand elsewhere too.
const longestShared = 48

// shared is one copy of each short text that stands in many places: shops write the
// same words again and again, and of a large one all copies take more memory than
// anything else.
func shared(text string) string {
	if len(text) > longestShared {
		return text
	}
	return unique.Make(text).Value()
}
