package desk_test

import (
	"errors"
	"image/png"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"

	"asleft/generator/desk"
)

// fakePhones lets phones in over one network.
type fakePhones struct{ doors []string }

func (p *fakePhones) Networks() ([]string, error) { return []string{"wlan0", "eth0"}, nil }
func (p *fakePhones) Open(network string) error {
	if network != "wlan0" {
		return errors.New("this computer has no network " + network)
	}
	p.doors = []string{"192.168.1.20:7341"}
	return nil
}
func (p *fakePhones) Doors() []string       { return p.doors }
func (p *fakePhones) Code() (string, error) { return "123456", nil }

// TestAPhoneIsLetIn: the desk lets phones in over the network that somebody picks, and
// shows the address, its picture and the code; before that there is no address.
func TestAPhoneIsLetIn(t *testing.T) {
	b := newTable(t)
	if w := b.ask(httptest.NewRequest(http.MethodGet, "/desk/phone", nil)); w.Code != http.StatusNotFound {
		t.Errorf("where no phones are let in: %d", w.Code)
	}
	phones := &fakePhones{}
	b.desk = desk.New(b.folder, desk.Options{Reading: b.reading, Now: b.now, Phones: phones})
	b.handle = b.desk.Handler(host)
	if page := b.get("/desk/phone"); !strings.Contains(page, "<option>wlan0</option>") || strings.Contains(page, "123456") {
		t.Errorf("before it is open:\n%s", page)
	}
	if w := b.post("/desk/phone", url.Values{"network": {"tun0"}}); w.Code != http.StatusUnprocessableEntity || !strings.Contains(w.Body.String(), "no network tun0") {
		t.Errorf("a network that is none: %d\n%s", w.Code, w.Body)
	}
	if w := b.post("/desk/phone", url.Values{"network": {"wlan0"}}); w.Code != http.StatusSeeOther {
		t.Fatalf("%d\n%s", w.Code, w.Body)
	}
	page := b.get("/desk/phone")
	for _, want := range []string{"http://192.168.1.20:7341/phone/pair", "123456", "/desk/phone/picture?at=192.168.1.20%3A7341"} {
		if !strings.Contains(page, want) {
			t.Errorf("the page lacks %q:\n%s", want, page)
		}
	}
	w := b.ask(httptest.NewRequest(http.MethodGet, "/desk/phone/picture?at=192.168.1.20%3A7341", nil))
	if _, err := png.Decode(w.Body); w.Code != http.StatusOK || err != nil {
		t.Errorf("its picture: %d, %v", w.Code, err)
	}
	if w := b.ask(httptest.NewRequest(http.MethodGet, "/desk/phone/picture?at=evil.example", nil)); w.Code != http.StatusNotFound {
		t.Errorf("a picture of another address: %d", w.Code)
	}
}
