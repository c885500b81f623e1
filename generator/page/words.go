package page

import (
	"html/template"

	"asleft/generator/portable"
)

// words makes the glossary.
func (s *Site) words(put Put) error {
	sh := s.composer("words/index.html")
	v := Words{Page: sh.page("words", s.say("page.words-title"), s.say("page.words-description"))}
	v.Trail = []Link{{To: sh.to("index.html"), Text: s.Shop.Name}, {Text: s.say("page.words-title")}}
	for _, t := range s.Glossary {
		v.Terms = append(v.Terms, Term{ID: portable.Slug(t.Term), Term: t.Term, Means: t.Means})
	}
	return s.Theme.fill(put, sh.path, "words.html", v)
}

// lost makes the page for an address that leads nowhere. A host serves it from
// whatever address was asked for, so it carries its style inside, and its
// links are whole where the shop has a web address.
func (s *Site) lost(put Put) error {
	sh := s.composer("404.html")
	v := Lost{sh.page("lost", s.say("page.lost-title"), s.say("page.lost-description"))}
	v.Style, v.Icon, v.Canonical, v.Policy = "", "", "", lostPolicy
	v.StyleText = template.CSS(s.Theme.style) //nolint:gosec // the theme's own style sheet
	if s.Shop.Web != "" {
		v.Root = s.Shop.Web
		v.Shop.Home, v.Shop.Words, v.Shop.Feed = s.absolute("index.html"), s.absolute("words/index.html"), s.absolute("feed.xml")
		if s.verifies() {
			v.Shop.Verify = s.absolute(verifyPath)
		}
	}
	return s.Theme.fill(put, sh.path, "lost.html", v)
}
