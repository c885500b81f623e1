package main

import (
	"bytes"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"
	"time"

	"github.com/yuin/goldmark"
)

// bodies are the Markdown below the front matter of every file of a shop.
func bodies(shop string) ([][]byte, error) {
	var all [][]byte
	err := filepath.WalkDir(shop, func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(name, ".md") {
			return err
		}
		data, err := os.ReadFile(name)
		if err != nil {
			return err
		}
		_, body, ok := bytes.Cut(data[len("---\n"):], []byte("\n---\n"))
		if !ok {
			return fmt.Errorf("%s has no front matter", name)
		}
		all = append(all, body)
		return nil
	})
	return all, err
}

// renderAll prints how many seconds plain goldmark takes on one core for the
// rendering alone, on the clock and of the processor: files are read before,
// and what comes out is dropped.
func renderAll(shop string) error {
	all, err := bodies(shop)
	if err != nil {
		return err
	}
	runtime.GOMAXPROCS(1)
	md := goldmark.New()
	began, busy := time.Now(), processorTime()
	for _, body := range all {
		if err := md.Convert(body, io.Discard); err != nil {
			return err
		}
	}
	fmt.Println(time.Since(began).Seconds(), (processorTime() - busy).Seconds())
	return nil
}

// processorTime is what this program has had of the processor so far.
func processorTime() time.Duration {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		panic(err) // only a wrong argument can be the cause
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}
