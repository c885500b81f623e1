package main

import (
	"errors"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/afero"

	"asleft/generator/desk"
	"asleft/generator/rooted"
)

// lastShop is the file of the user's settings that has the folder of the shop whose desk
// was open last.
const lastShop = "asleft/last-shop"

// rememberShop notes the shop for the next double click. That it fails costs one question.
func rememberShop(dir string) {
	if settings, err := anySettings(); err == nil {
		defer closeSettings(settings)
		_ = keepSetting(settings, lastShop, dir+"\n")
	}
}

// remembered is the folder of the last shop; empty where there is none any more.
func remembered() string {
	settings, err := anySettings()
	if err != nil {
		return ""
	}
	defer closeSettings(settings)
	data, err := afero.ReadFile(settings, lastShop)
	dir := strings.TrimSpace(string(data))
	if info, e := os.Stat(dir); err != nil || e != nil || !info.IsDir() || !filepath.IsAbs(dir) {
		return ""
	}
	return dir
}

// runClicked opens the desk of the last shop, or asks where the shop is to be.
func runClicked(s streams, flags deskFlags) error {
	if dir := remembered(); dir != "" {
		folder, err := rooted.Open(dir)
		if err == nil {
			defer folder.Close()
			return runDesk(s, folder, flags)
		}
	}
	return askShop(s, flags)
}

// usualShop is the folder that is proposed for a first shop.
func usualShop() string {
	home, err := os.UserHomeDir()
	if err != nil {
		return ""
	}
	if documents := filepath.Join(home, "Documents"); isDir(documents) {
		home = documents
	}
	return filepath.Join(home, words.Say("command.usual-shop"))
}

func isDir(name string) bool {
	info, err := os.Stat(name)
	return err == nil && info.IsDir()
}

// askShop asks in the browser where the shop is to be, and goes on there.
func askShop(s streams, flags deskFlags) error {
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return faulty(err)
	}
	type answer struct {
		address string
		err     error
	}
	picked, answers := make(chan string), make(chan answer)
	asks := desk.NewChooser(words, usualShop(), func(dir string) (string, error) {
		picked <- dir
		a := <-answers
		return a.address, a.err
	})
	server := &http.Server{Handler: asks.Handler(listener.Addr().String()), ReadHeaderTimeout: 10 * time.Second}
	go func() { _ = server.Serve(listener) }() // it ends when the desk is open
	address := "http://" + listener.Addr().String() + asks.Path()
	if err := openBrowser(s, address, flags.stay); err != nil {
		return err
	}
	for {
		dir, opened := <-picked, false
		flags.opens = func(address string) {
			opened = true
			answers <- answer{address: address}
			time.AfterFunc(10*time.Second, func() { _ = server.Close() }) // the page that leads on wants its style
		}
		folder, err := rooted.Open(dir)
		if err == nil {
			err = errors.Join(runDesk(s, folder, flags), folder.Close())
		}
		if opened {
			return err
		}
		answers <- answer{err: err}
	}
}
