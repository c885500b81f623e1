package desk

import (
	"cmp"
	"errors"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"asleft/generator/frontmatter"
	"asleft/generator/logbook"
)

// The ways that a site can go, besides none.
const (
	waySFTP   = "sftp"
	wayFTPS   = "ftps"
	wayS3     = "s3"
	wayFolder = "folder"
)

// placeView is the form of where the site goes.
type placeView struct {
	frame
	Base   string
	Way    box
	Boxes  []placeBox
	Web    box
	Notice string
}

// A placeBox is a field that some of the ways have.
type placeBox struct {
	box
	Ways string // by their names, with spaces between
}

// placeFields are the parts of a place, with the ways that have them. Those that begin with
// f. are fields of shop.md; the others make up its address.
var placeFields = []struct {
	name string
	ways string
}{
	{"folder", wayFolder},
	{"host", "sftp ftps s3"},
	{"user", "sftp ftps"},
	{"path", "sftp ftps"},
	{"access", wayS3},
	{"bucket", wayS3},
	{"f.publish.region", wayS3},
	{"f.publish.bucket", wayS3},
	{"f.publish.tls", wayS3},
	{"f.publish.key", waySFTP},
	{"f.publish.fingerprint", "sftp ftps s3"},
}

// shopTarget is shop.md, by the address of the place's form.
var shopTarget = target{id: "shop", kind: logbook.FileShop, file: "shop.md", at: placeAt, back: publishAt}

// place shows the form of where the site goes.
func (d *Desk) place(w http.ResponseWriter, r *http.Request) {
	text, err := d.now(shopTarget.file)
	if err != nil || text == nil {
		d.fail(w, cmp.Or(err, errNoFile))
		return
	}
	v, err := partsOf(text)
	if err != nil { // it cannot be shown as a form, and its own page tells why
		http.Redirect(w, r, "/desk/shop", http.StatusSeeOther)
		return
	}
	wrong := map[string][]string{}
	if field, says := d.faultNow(); says != "" {
		name := strings.ReplaceAll(field, "-", ".")
		wrong[name] = append(wrong[name], says)
	}
	d.placePage(w, http.StatusOK, text, v, wrong, "")
}

// partsOf are the parts of the place that a shop's file names. A password that stands in it
// is none of them.
func partsOf(text []byte) (url.Values, error) {
	f, err := frontmatter.Read(text)
	if err != nil {
		return nil, err
	}
	v := url.Values{}
	web, _ := f.Fields().Find("web")
	v.Set("f.web", web.Text)
	given, _ := f.Fields().Find("publish")
	for _, name := range []string{"key", "fingerprint", "region", "bucket", "tls"} {
		n, _ := given.Find(name)
		v.Set("f.publish."+name, n.Text)
	}
	to, _ := given.Find("to")
	scheme, rest, served := strings.Cut(to.Text, "://")
	switch scheme = strings.ToLower(scheme); {
	case to.Text == "":
		return v, nil
	case !served:
		v.Set("way", wayFolder)
		v.Set("folder", to.Text)
		return v, nil
	case slices.Contains([]string{waySFTP, wayFTPS, wayS3}, scheme):
		v.Set("way", scheme)
	}
	at, err := url.Parse(scheme + "://" + rest)
	if err != nil {
		return v, nil
	}
	v.Set("host", at.Host)
	name, where := "user", "path"
	if scheme == wayS3 {
		name, where = "access", "bucket"
	}
	v.Set(name, at.User.Username())
	v.Set(where, at.Path)
	if scheme == wayS3 {
		v.Set(where, strings.TrimPrefix(at.Path, "/"))
	}
	return v, nil
}

func (d *Desk) placePage(w http.ResponseWriter, status int, text []byte, v url.Values, wrong map[string][]string, notice string) {
	say := d.words.Say
	p := placeView{frame: d.frame(say("desk.place")), Base: Digest(text), Notice: notice}
	p.Way = box{ID: "way", Name: "way", Label: say("desk.place-way"), Ask: "choice", Wrong: wrong["way"], Options: []option{{Value: "", Label: say("desk.place-none")}}}
	for _, way := range []string{waySFTP, wayFTPS, wayS3, wayFolder} {
		p.Way.Options = append(p.Way.Options, option{Value: way, Label: say("desk.way-" + way)})
	}
	for n, o := range p.Way.Options {
		p.Way.Options[n].Chosen = o.Value == v.Get("way")
	}
	f := filling{d: d, file: logbook.FileShop, lists: map[string][]string{}, wrong: wrong}
	for _, of := range placeFields {
		b := box{ID: of.name, Name: of.name, Label: say("desk.place-" + of.name), Help: say("desk.place-" + of.name + "-help"), Ask: "line", Value: v.Get(of.name), Wrong: wrong[of.name]}
		if path, its := strings.CutPrefix(of.name, fieldPrefix+"publish."); its {
			b = f.box(find(find(fieldsOf(logbook.FileShop), "publish").of, path), frontmatter.Node{Kind: frontmatter.Text, Text: v.Get(of.name)}, of.name)
		}
		p.Boxes = append(p.Boxes, placeBox{b, of.ways})
	}
	p.Web = f.box(find(fieldsOf(logbook.FileShop), "web"), frontmatter.Node{Kind: frontmatter.Text, Text: v.Get("f.web")}, "f.web")
	// Who is told of something wrong is led to it.
	all := []*box{&p.Way}
	for n := range p.Boxes {
		all = append(all, &p.Boxes[n].box)
	}
	for _, b := range append(all, &p.Web) {
		if len(b.Wrong) > 0 {
			b.Focus = true
			break
		}
	}
	d.page(w, status, "place", p)
}

// keepPlace keeps where the site goes. All else in the shop's file stays as it is.
func (d *Desk) keepPlace(w http.ResponseWriter, r *http.Request) {
	v := r.PostForm
	text, err := d.now(shopTarget.file)
	if err != nil || text == nil {
		d.fail(w, cmp.Or(err, errNoFile))
		return
	}
	to, wrong := d.placeSaid(v)
	if len(wrong) > 0 {
		d.placePage(w, http.StatusUnprocessableEntity, text, v, wrong, "")
		return
	}
	if Digest(text) != v.Get("base") {
		d.placePage(w, http.StatusConflict, text, v, nil, d.words.Say("desk.place-changed"))
		return
	}
	s := writing{target: shopTarget, base: v.Get("base")}
	if s.text, err = d.formText(s.target, to, text, true, placed{}); err != nil {
		d.fail(w, err)
		return
	}
	t, err := d.try(s)
	if err != nil {
		d.fail(w, err)
		return
	}
	if wrong := d.placeWrong(t, v.Get("way")); len(wrong) > 0 {
		d.placePage(w, http.StatusUnprocessableEntity, text, v, wrong, "")
		return
	}
	if string(s.text) != string(text) {
		err = d.save(s.file, s.base, s.text)
	}
	switch {
	case errors.Is(err, errOther):
		d.placePage(w, http.StatusConflict, text, v, nil, d.words.Say("desk.place-changed"))
		return
	case err != nil:
		d.fail(w, err)
		return
	}
	d.publish.mu.Lock()
	if run := d.publish.run; run != nil {
		select {
		case <-run.ended: // what it found was of another place
			d.publish.run = nil
		default:
		}
	}
	d.publish.mu.Unlock()
	d.refresh()
	http.Redirect(w, r, publishAt, http.StatusSeeOther)
}

// keepFingerprint keeps the fingerprint to trust of the place that shop.md names; errOther
// where it names another by now.
func (d *Desk) keepFingerprint(to logbook.Destination, fingerprint string) error {
	text, err := d.now(shopTarget.file)
	if err != nil {
		return err
	}
	f, err := frontmatter.Read(text)
	if err != nil {
		return errOther // somebody is at it by hand
	}
	given, _ := f.Fields().Find("publish")
	named, _ := given.Find("to")
	if now, wrong := logbook.ParseDestination(named.Text); wrong != "" || now.String() != to.String() {
		return errOther
	}
	kept, err := d.formText(shopTarget, url.Values{"f.publish.fingerprint": {fingerprint}}, text, true, placed{})
	if err != nil {
		return err
	}
	if err := d.save(shopTarget.file, Digest(text), kept); err != nil {
		return err
	}
	d.refresh()
	return nil
}

// placeSaid is what the form says, as the fields of the file, or what is wrong in it.
func (d *Desk) placeSaid(v url.Values) (fields url.Values, wrong map[string][]string) {
	way := v.Get("way")
	fields, wrong = url.Values{"f.publish.to": {""}, "f.web": {v.Get("f.web")}}, map[string][]string{}
	put := func(name string, key string) { wrong[name] = append(wrong[name], d.words.Say(key)) }
	part := map[string]string{}
	for _, of := range placeFields {
		has := slices.Contains(strings.Fields(of.ways), way)
		if strings.HasPrefix(of.name, fieldPrefix) {
			fields.Set(of.name, "")
			if has {
				fields.Set(of.name, v.Get(of.name))
			}
			continue
		}
		if part[of.name] = lined(v.Get(of.name)); has && part[of.name] == "" && of.name != "user" && (of.name != "path" || way == waySFTP) {
			put(of.name, "desk.required")
		}
	}
	name, where := part["user"], part["path"]
	switch way {
	case "":
		return fields, wrong
	case wayFolder:
		if strings.Contains(part["folder"], "://") {
			put("folder", "desk.place-not-folder")
		}
		// A shell puts the user's own folder in the place of ~; nobody does it for a form.
		if rest, of := strings.CutPrefix(filepath.ToSlash(part["folder"]), "~"); of && (rest == "" || rest[0] == '/') {
			home, err := os.UserHomeDir()
			if err != nil {
				put("folder", "desk.place-no-home")
			}
			part["folder"] = filepath.Join(home, filepath.FromSlash(rest))
		}
		fields.Set("f.publish.to", part["folder"])
		return fields, wrong
	case wayS3:
		name, where = part["access"], part["bucket"]
	}
	if strings.ContainsAny(part["host"], "/@?# \\") {
		put("host", "desk.place-not-host")
	}
	if strings.ContainsAny(name, ":@/ ") {
		field := "user"
		if way == wayS3 {
			field = "access"
		}
		put(field, "desk.place-not-name")
		only, _, _ := strings.Cut(name, ":")
		v.Set(field, only) // what stands behind it may be a password, and is not to stand on the page
	}
	if len(wrong) > 0 {
		return fields, wrong
	}
	at := url.URL{Scheme: way, Host: part["host"], Path: "/" + strings.TrimPrefix(where, "/")}
	if name != "" {
		at.User = url.User(name)
	}
	fields.Set("f.publish.to", at.String())
	return fields, wrong
}

// placeWrong are the problems of the place's fields, by their names in its form.
func (d *Desk) placeWrong(t *tried, way string) map[string][]string {
	wrong := map[string][]string{}
	for _, p := range t.problems {
		name := fieldPrefix + p.Field
		of, its := strings.CutPrefix(p.Field, "publish.")
		switch {
		case !its && p.Field != "web":
			continue // it was there before
		case of != "to":
		case way == wayFolder:
			name = "folder"
		case p.Says == d.words.Say("problem.publish-folder"):
			name = "path"
		case p.Says == d.words.Say("problem.publish-s3"):
			name = "bucket"
		default:
			name = "host"
		}
		wrong[name] = append(wrong[name], says(d.words, p, keyOf(t.kind, p.Field)))
	}
	return wrong
}
