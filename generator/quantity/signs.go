package quantity

import "strings"

// signOf are the fractions that are one character.
var signOf = func() map[string]string {
	signs := map[string]string{}
	for r, plain := range vulgar {
		signs[plain] = string(r)
	}
	return signs
}()

// Signs writes a quantity, reading, limit or gauge, as its String method prints
// it, with the signs that a reader expects: "1⅜ in", "3⁄64 in", "3600 rpm ± 50
// rpm", "≥ 60 psi". [Parse] and the others read it back to the same.
func Signs(printed string) string {
	words := strings.Split(printed, " ")
	for i, w := range words {
		switch w {
		case "+-":
			words[i] = "\u00b1"
		case ">=":
			words[i] = "\u2265"
		case "<=":
			words[i] = "\u2264"
		default:
			words[i] = withFraction(w)
		}
	}
	return strings.Join(words, " ")
}

// withFraction sets the fraction in a word like "-1-3/8"; other words stay.
func withFraction(word string) string {
	before, below, ok := strings.Cut(word, "/")
	if !ok || below == "" || below == "0" || digitsOf(below) != len(below) {
		return word
	}
	at := len(before)
	for at > 0 && isDigit(before[at-1]) {
		at--
	}
	whole, top := before[:at], before[at:]
	if top == "" {
		return word
	}
	if len(whole) > 1 { // "1-" or "-1-"; a "-" alone is the sign
		whole = strings.TrimSuffix(whole, "-")
	}
	if sign := signOf[top+"/"+below]; sign != "" {
		return whole + sign
	}
	if strings.TrimPrefix(whole, "-") != "" { // 1 3⁄64, not 13⁄64
		whole += " "
	}
	return whole + top + "\u2044" + below
}
