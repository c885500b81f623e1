package desk

import (
	"net/http"
	"net/url"

	"rsc.io/qr"
)

// Phones lets phones in over a network of the shop.
type Phones interface {
	// Networks are those that a phone could be in, by the names that this computer has for
	// them.
	Networks() ([]string, error)
	// Open lets phones in over a network, and goes on where it does so already; an empty
	// name is every network that is real.
	Open(network string) error
	// Doors are the addresses at which phones are let in, as 192.168.1.20:7341; none before
	// Open.
	Doors() []string
	// Code lets the next phone in.
	Code() (string, error)
}

type doorView struct {
	frame
	Back     string
	Networks []string
	Doors    []door
	Code     string
	Wrong    string
}

// A door is an address with its picture for a phone's camera.
type door struct{ Address, Picture string }

// door shows how a phone is let in.
func (d *Desk) door(w http.ResponseWriter, _ *http.Request) { d.doorPage(w, http.StatusOK, "") }

func (d *Desk) doorPage(w http.ResponseWriter, status int, wrong string) {
	v := doorView{frame: d.frame(d.words.Say("desk.phone")), Back: "/desk/", Wrong: wrong}
	if d.o.Phones == nil {
		d.page(w, http.StatusNotFound, "failed", failedView{d.frame(""), d.words.Say("desk.no-phones")})
		return
	}
	doors := d.o.Phones.Doors()
	if len(doors) == 0 {
		all, err := d.o.Phones.Networks()
		if err != nil {
			v.Wrong = err.Error()
		}
		v.Networks = all
		d.page(w, status, "door", v)
		return
	}
	code, err := d.o.Phones.Code()
	if err != nil {
		d.fail(w, err)
		return
	}
	v.Code = code
	for _, at := range doors {
		v.Doors = append(v.Doors, door{"http://" + at + "/phone/pair", "/desk/phone/picture?at=" + url.QueryEscape(at)})
	}
	d.page(w, status, "door", v)
}

// openDoor lets phones in over the network that somebody picked.
func (d *Desk) openDoor(w http.ResponseWriter, r *http.Request) {
	if d.o.Phones == nil {
		http.Error(w, http.StatusText(http.StatusBadRequest), http.StatusBadRequest)
		return
	}
	if err := d.o.Phones.Open(r.PostForm.Get("network")); err != nil {
		d.doorPage(w, http.StatusUnprocessableEntity, err.Error())
		return
	}
	http.Redirect(w, r, "/desk/phone", http.StatusSeeOther)
}

// picture is the QR code of an address, with the code that lets in: a camera leads to the
// page with all filled in.
func (d *Desk) picture(w http.ResponseWriter, r *http.Request) {
	if d.o.Phones == nil {
		http.NotFound(w, r)
		return
	}
	for _, at := range d.o.Phones.Doors() {
		if at != r.URL.Query().Get("at") {
			continue
		}
		code, err := d.o.Phones.Code()
		if err != nil {
			break
		}
		made, err := qr.Encode("http://"+at+"/phone/pair?code="+code, qr.M)
		if err != nil {
			break
		}
		made.Scale = 6
		w.Header().Set("Content-Type", "image/png")
		_, _ = w.Write(made.PNG())
		return
	}
	http.NotFound(w, r)
}
