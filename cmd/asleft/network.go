package main

import (
	"cmp"
	"errors"
	"fmt"
	"net"
	"net/netip"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strings"
)

// A network is one of the computer's interfaces, with the addresses that a phone in
// the same network can type: those of version 4 first.
type network struct {
	name string
	real bool // Wi-Fi or cable, and no tunnel or bridge that a program made
	at   []netip.Addr
}

// networks are those that are up and have a private address. Addresses that hold for
// one cable only are left out.
func networks() ([]network, error) {
	found, err := net.Interfaces()
	if err != nil {
		return nil, fmt.Errorf("the networks of this computer cannot be read: %w", err)
	}
	var all []network
	for _, i := range found {
		addrs, err := i.Addrs()
		if err != nil || i.Flags&net.FlagUp == 0 {
			continue
		}
		n := network{name: i.Name, real: isReal(i)}
		for _, a := range addrs {
			prefix, err := netip.ParsePrefix(a.String())
			if err == nil && prefix.Addr().Unmap().IsPrivate() {
				n.at = append(n.at, prefix.Addr().Unmap())
			}
		}
		slices.SortFunc(n.at, func(a, b netip.Addr) int {
			return cmp.Or(cmp.Compare(a.BitLen(), b.BitLen()), a.Compare(b))
		})
		if len(n.at) > 0 {
			all = append(all, n)
		}
	}
	return all, nil
}

// made are the names that systems give to interfaces that no hardware is behind
// (common practice, no source). A tunnel leads to people who are not in the shop.
var made = regexp.MustCompile(`(?i)^(tun|tap|utun|wg|ppp|ipsec|gif|veth|vmnet|vnet|virbr|br-|bridge|docker|awdl|llw|feth)|vpn|virtual|tunnel|loopback`)

func isReal(i net.Interface) bool {
	if i.Flags&(net.FlagLoopback|net.FlagPointToPoint) != 0 || len(i.HardwareAddr) == 0 || made.MatchString(i.Name) {
		return false
	}
	if runtime.GOOS != "linux" {
		return true
	}
	// The kernel links to the device of an interface that has one.
	_, err := os.Stat(filepath.Join("/sys/class/net", filepath.Base(i.Name), "device"))
	return err == nil
}

// chosen are the networks for phones: the one that was named, whatever it is; else
// all that are real.
func chosen(all []network, name string) ([]network, error) {
	var picked []network
	var names []string
	for _, n := range all {
		names = append(names, n.name)
		if n.name == name || name == "" && n.real {
			picked = append(picked, n)
		}
	}
	switch {
	case len(picked) > 0:
		return picked, nil
	case len(all) == 0:
		return nil, &outcome{fault, errors.New(words.Say("command.phone-no-net"))}
	case name == "":
		return nil, &outcome{fault, errors.New(words.Say("command.phone-no-real-net", "names", strings.Join(names, ", ")))}
	}
	return nil, wrongUsage(errors.New(words.Say("command.phone-no-such-net", "read", name, "names", strings.Join(names, ", "))))
}
