package testenv

import (
	"bytes"
	"net/url"
	"path"
	"regexp"
	"slices"
	"strings"

	"golang.org/x/net/html"
)

// Crawl reads a site as a visitor would: from its front page, and from what robots
// ask for, along every reference in pages, style sheets, the feed and the sitemap.
// Base is the site's address, for references that are written out. It returns all
// that it read, by path, and each reference that leads to nothing.
func Crawl(read func(path string) ([]byte, error), base string) (found map[string]string, broken []string) {
	found = map[string]string{}
	todo := []string{"index.html"}
	for _, name := range []string{"robots.txt", "sitemap.xml", "feed.xml"} {
		if _, err := read(name); err == nil {
			todo = append(todo, name)
		}
	}
	for len(todo) > 0 {
		name := todo[0]
		todo = todo[1:]
		if _, seen := found[name]; seen {
			continue
		}
		data, err := read(name)
		if err != nil {
			broken = append(broken, name+": "+err.Error())
			continue
		}
		found[name] = string(data)
		for _, ref := range references(name, data) {
			to, inside := resolve(name, ref, base)
			if _, seen := found[to]; !inside || seen {
				continue
			}
			if _, err := read(to); err != nil {
				broken = append(broken, name+" refers to "+to+", which is not there")
				continue
			}
			todo = append(todo, to)
		}
	}
	slices.Sort(broken)
	return found, slices.Compact(broken)
}

var (
	styleRef = regexp.MustCompile(`url\(\s*["']?([^"')]+)["']?\s*\)`)
	address  = regexp.MustCompile(`<loc>([^<]+)</loc>|(?:href|src)="([^"]+)"|Sitemap: (\S+)`)
)

// references are all that a file refers to, as it is written there.
func references(name string, data []byte) (refs []string) {
	switch path.Ext(name) {
	case ".html":
		return htmlReferences(data)
	case ".css", ".svg":
		for _, m := range styleRef.FindAllSubmatch(data, -1) {
			refs = append(refs, string(m[1]))
		}
	case ".xml", ".txt":
		for _, m := range address.FindAllSubmatch(data, -1) {
			refs = append(refs, html.UnescapeString(string(bytes.Join(m[1:], nil))))
		}
	}
	return refs
}

func htmlReferences(data []byte) (refs []string) {
	for z := html.NewTokenizer(bytes.NewReader(data)); ; {
		kind := z.Next()
		if kind == html.ErrorToken {
			return refs
		}
		token := z.Token()
		for _, m := range styleRef.FindAllStringSubmatch(token.Data, -1) {
			refs = append(refs, m[1])
		}
		for _, a := range token.Attr {
			switch a.Key {
			case "href", "src", "data", "poster":
				refs = append(refs, a.Val)
			case "srcset", "imagesrcset":
				for part := range strings.SplitSeq(a.Val, ",") {
					if fields := strings.Fields(part); len(fields) > 0 {
						refs = append(refs, fields[0])
					}
				}
			case "style":
				for _, m := range styleRef.FindAllStringSubmatch(a.Val, -1) {
					refs = append(refs, m[1])
				}
			}
		}
	}
}

// resolve is the file of the site that a reference in another leads to; not inside
// where it leads elsewhere.
func resolve(from, ref, base string) (to string, inside bool) {
	if below, ok := strings.CutPrefix(ref, base); ok {
		ref = "/" + below
	}
	u, err := url.Parse(ref)
	if err != nil || u.IsAbs() || u.Host != "" || strings.HasPrefix(ref, "#") {
		return "", false
	}
	at := &url.URL{Path: "/" + from}
	to = strings.TrimPrefix(at.ResolveReference(u).Path, "/")
	if to == "" || strings.HasSuffix(to, "/") {
		to += "index.html"
	}
	return to, true
}
