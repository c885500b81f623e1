package phone

// frame is what every page has.
type frame struct{ Lang string }

type pairView struct {
	frame
	Note, Code string
}

// pairView is the page for the code. A stranger is told nothing, not even whose shop it is.
func (b *Base) pairView(key, code string) pairView {
	v := pairView{frame: frame{Lang: b.words.Lang}, Code: code}
	if key != "" {
		v.Note = b.words.Say(key)
	}
	return v
}
