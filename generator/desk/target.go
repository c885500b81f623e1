package desk

import (
	"net/http"
	"path"
	"regexp"
	"strings"

	"asleft/generator/entry"
	"asleft/generator/logbook"
)

// A target is what a form is of: one file of the shop, there or to come.
type target struct {
	id      string // of its draft
	kind    string // logbook.FileEntry and the like
	file    string // in the shop's folder; empty for one that has no name yet
	machine string // the key of the machine that it is about; empty for none
	at      string // its address
	back    string // the address of the page above it
	begunAs string // the id of its draft before it had a name; empty for none
}

// idOfFile is the id of the draft of a file.
func idOfFile(file string) string { return strings.TrimSuffix(file, ".md") }

// newID names a draft of a file that is not there yet. It is made when somebody begins,
// so that two that are begun are two, and one that is sent twice is one.
var newID = regexp.MustCompile(`^([0-9]{8}T[0-9]{6}-[0-9a-f]{6}|[0-9a-f]{32})$`)

// targetOf is what the address of a request stands for; false where it is nothing.
func targetOf(r *http.Request) (target, bool) {
	key, file, id := r.PathValue("key"), r.PathValue("file"), r.PathValue("id")
	at := r.URL.Path
	sound := (key == "" || entry.GoodKey(key)) && (id == "" || newID.MatchString(id)) &&
		(file == "" || path.Base(file) == file && strings.HasSuffix(file, ".md") && !strings.HasPrefix(file, "."))
	if !sound {
		return target{}, false
	}
	switch {
	case at == "/desk/shop":
		return target{id: "shop", kind: logbook.FileShop, file: "shop.md", at: at, back: "/desk/"}, true
	case strings.HasPrefix(at, "/desk/s/new/"):
		return target{id: "sheets/new-" + id, kind: logbook.FileSheet, at: at, back: "/desk/"}, true
	case strings.HasPrefix(at, "/desk/s/"):
		return target{id: idOfFile("sheets/" + file), kind: logbook.FileSheet, file: "sheets/" + file, at: at, back: "/desk/"}, true
	case strings.HasPrefix(at, "/desk/new/"):
		return target{id: "machines/new-" + id, kind: logbook.FileMachine, at: at, back: "/desk/"}, true
	case file != "":
		name := "machines/" + key + "/" + file
		return target{id: idOfFile(name), kind: logbook.FileEntry, file: name, machine: key, at: at, back: machineAt(key)}, true
	case id != "":
		return target{id: "machines/" + key + "/new-" + id, kind: logbook.FileEntry, machine: key, at: at, back: machineAt(key)}, true
	}
	return target{id: "machines/" + key + "/machine", kind: logbook.FileMachine, file: entry.MachineFile(key), machine: key, at: at, back: "/desk/"}, true
}

// moved is the target in the machine's folder as it is called now.
func (t target) moved(key string) target {
	folder := func(name string) string {
		if rest, its := strings.CutPrefix(name, "machines/"+t.machine+"/"); its {
			return "machines/" + key + "/" + rest
		}
		return name
	}
	address := func(at string) string {
		if rest, its := strings.CutPrefix(at, machineAt(t.machine)); its {
			return machineAt(key) + rest
		}
		return at
	}
	return target{id: folder(t.id), kind: t.kind, file: folder(t.file), machine: key, at: address(t.at), back: address(t.back), begunAs: folder(t.begunAs)}
}

// followed is a target as it is called now: its machine's folder may have got another name
// since the page was opened, and what was begun without a name may have one.
func (d *Desk) followed(t target) target {
	if key := nowCalled(d.o.Reading(), t.machine); key != t.machine {
		t = t.moved(key)
	}
	if was, kept := d.named.of(t.id); kept {
		t.begunAs, t.id, t.file = t.id, idOfFile(was.file), was.file
	}
	return t
}

// address is where its form is shown: one that was begun without a name has another since it
// was kept.
func (t target) address() string {
	if t.begunAs != "" {
		return addressOf(t.id)
	}
	return t.at
}

func machineAt(key string) string { return "/desk/m/" + key }

// addressOf is the address of the draft of that id; empty for none.
func addressOf(id string) string {
	parts := strings.Split(id, "/")
	last := parts[len(parts)-1]
	begun, isNew := strings.CutPrefix(last, "new-")
	switch {
	case id == "shop":
		return "/desk/shop"
	case parts[0] == "sheets" && isNew:
		return "/desk/s/new/" + begun
	case parts[0] == "sheets" && len(parts) == 2:
		return "/desk/s/" + last + ".md"
	case parts[0] == "machines" && len(parts) == 2 && isNew:
		return "/desk/new/" + begun
	case parts[0] == "machines" && len(parts) == 3 && last == "machine":
		return machineAt(parts[1])
	case parts[0] == "machines" && len(parts) == 3 && isNew:
		return machineAt(parts[1]) + "/new/" + begun
	case parts[0] == "machines" && len(parts) == 3:
		return machineAt(parts[1]) + "/e/" + last + ".md"
	}
	return ""
}
