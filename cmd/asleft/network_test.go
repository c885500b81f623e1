package main

import (
	"errors"
	"net"
	"net/netip"
	"strings"
	"testing"
)

// TestTunnelsAreNoShopNetworks: a phone page is never opened to whoever is at the
// other end of a tunnel, unless that was asked for by name.
func TestTunnelsAreNoShopNetworks(t *testing.T) {
	mac := net.HardwareAddr{2, 0, 0, 0, 0, 1}
	for _, i := range []net.Interface{
		{Name: "lo", Flags: net.FlagUp | net.FlagLoopback},
		{Name: "tun0", Flags: net.FlagUp | net.FlagPointToPoint},
		{Name: "tap0", Flags: net.FlagUp, HardwareAddr: mac},
		{Name: "wg0", Flags: net.FlagUp},
		{Name: "wg1", Flags: net.FlagUp, HardwareAddr: mac},
		{Name: "utun3", Flags: net.FlagUp, HardwareAddr: mac},
		{Name: "ppp0", Flags: net.FlagUp | net.FlagPointToPoint, HardwareAddr: mac},
		{Name: "br-1234", Flags: net.FlagUp, HardwareAddr: mac},
		{Name: "Office VPN", Flags: net.FlagUp, HardwareAddr: mac},
		{Name: "no-such-device", Flags: net.FlagUp},
	} {
		if isReal(i) {
			t.Errorf("%s is taken for Wi-Fi or cable", i.Name)
		}
	}
	cable := network{"eth0", true, []netip.Addr{netip.MustParseAddr("192.168.1.5")}}
	tunnel := network{"tun0", false, []netip.Addr{netip.MustParseAddr("10.8.0.2")}}
	for _, c := range []struct {
		name   string
		all    []network
		picked string // or what is said
		status int
	}{
		{"", []network{tunnel, cable}, "eth0", 0},
		{"tun0", []network{tunnel, cable}, "tun0", 0},
		{"eth0", []network{tunnel, cable}, "eth0", 0},
		{"wlan9", []network{tunnel, cable}, "no network wlan9", usage},
		{"", []network{tunnel}, "It has tun0", fault},
		{"", nil, "in no network", fault},
		{"eth0", nil, "in no network", fault},
	} {
		got, err := chosen(c.all, c.name)
		var o *outcome
		switch {
		case c.status == 0 && (err != nil || len(got) != 1 || got[0].name != c.picked):
			t.Errorf("%q of %v: %v, %v", c.name, c.all, got, err)
		case c.status != 0 && (!errors.As(err, &o) || o.status != c.status || !strings.Contains(err.Error(), c.picked)):
			t.Errorf("%q of %v: %v", c.name, c.all, err)
		}
	}
}

// TestNetworksOfThisComputer: what is found has private addresses alone.
func TestNetworksOfThisComputer(t *testing.T) {
	all, err := networks()
	if err != nil {
		t.Fatal(err)
	}
	for _, n := range all {
		for _, a := range n.at {
			if !a.IsPrivate() || n.name == "" {
				t.Errorf("%s has %s", n.name, a)
			}
		}
	}
}
