package spelling_test

import (
	"strings"
	"testing"

	"asleft/generator/spelling"
)

func TestNearest(t *testing.T) {
	fields, tests := []string{"title", "time", "hours", "private"}, []string{"compression", "leak-down", "bore", "pore"}
	for _, c := range []struct {
		known      []string
		name, want string
	}{
		{fields, "tilte", "title"}, {fields, "Titel", "title"}, {fields, "tme", "time"}, {fields, "hour", "hours"}, {fields, "priavte", "private"}, {fields, "privat zu", "private"},
		{fields, "x", ""}, {fields, "qty", ""}, {fields, "wholly else", ""}, {fields, "", ""}, {fields, strings.Repeat("x", 500), ""},
		{tests, "compresion", "compression"}, {tests, "Compression", "compression"}, {tests, "leakdown", "leak-down"}, {tests, "bor", "bore"}, {tests, "CMPRESION", "compression"},
		{tests, "sore", "bore"}, // the first of two that are as near
		{tests, "soup", ""}, {tests, "cmpresin", ""}, {tests, "bo", ""},
		{[]string{"moteur a gaz"}, "moteur à gaz", "moteur a gaz"}, // a letter with an accent is one letter
		{nil, "title", ""},
	} {
		if got := spelling.Nearest(c.name, c.known); got != c.want {
			t.Errorf("%q: got %q, want %q", c.name, got, c.want)
		}
	}
}

func TestSlips(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{
		{"", "", 0}, {"", "abc", 3}, {"abc", "", 3}, {"abc", "abc", 0}, {"ab", "ba", 1}, {"kitten", "sitting", 3},
		{"ca", "abc", 3}, // optimal string alignment, not Damerau's
		{strings.Repeat("x", 120), strings.Repeat("x", 119), 1}, {strings.Repeat("x", 121), strings.Repeat("x", 121), 1000},
	} {
		if got := spelling.Slips(c.a, c.b); got != c.want {
			t.Errorf("%s to %s: %d slips, want %d", c.a, c.b, got, c.want)
		}
	}
}
