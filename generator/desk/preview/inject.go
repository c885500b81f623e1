package preview

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

	"golang.org/x/net/html"
)

// own is where the preview's own files are. No page of a site is hidden.
const own = "/.preview/"

// inject puts the script that follows into a page. It returns the page and the
// content policy to send with it: the page's own, with leave for the script. A
// page without a policy has none to send.
func inject(page []byte, build int64) ([]byte, string) {
	script := fmt.Sprintf(`<script src="%slive.js" data-build="%d" defer></script>`, own, build)
	var out bytes.Buffer
	policy, done := "", false
	z := html.NewTokenizer(bytes.NewReader(page))
	for {
		kind := z.Next()
		if kind == html.ErrorToken {
			break
		}
		raw := bytes.Clone(z.Raw())
		name, more := z.TagName()
		switch {
		case (kind == html.StartTagToken || kind == html.SelfClosingTagToken) && string(name) == "meta" && more:
			// The first is the program's own. A theme's would loosen nothing on a page, so it is
			// not taken for it here either.
			if content, is := policyOf(z); is && policy == "" {
				policy = content
				continue
			}
		case kind == html.EndTagToken && string(name) == "head" && !done:
			done = true
			out.WriteString(script)
		}
		out.Write(raw)
	}
	if !done {
		out.WriteString(script)
	}
	if policy != "" {
		policy = widen(policy)
	}
	return out.Bytes(), policy
}

// policyOf is the content policy that a meta element holds.
func policyOf(z *html.Tokenizer) (content string, is bool) {
	for {
		key, value, more := z.TagAttr()
		switch string(key) {
		case "http-equiv":
			is = strings.EqualFold(string(value), "Content-Security-Policy")
		case "content":
			content = string(value)
		}
		if !more {
			return content, is
		}
	}
}

// widen lets a policy load the preview's script and style and have it ask for
// news; all three come from where the page does.
func widen(policy string) string {
	var all []string
	need := []string{"script-src", "style-src", "connect-src"}
	for directive := range strings.SplitSeq(policy, ";") {
		words := strings.Fields(directive)
		if len(words) == 0 {
			continue
		}
		if slices.Contains(need, words[0]) {
			need = slices.DeleteFunc(need, func(n string) bool { return n == words[0] })
			words = slices.DeleteFunc(words, func(w string) bool { return w == "'none'" || w == "'self'" })
			words = append(words, "'self'")
		}
		all = append(all, strings.Join(words, " "))
	}
	for _, n := range need {
		all = append(all, n+" 'self'")
	}
	return strings.Join(append(all, "frame-ancestors 'none'"), "; ")
}
