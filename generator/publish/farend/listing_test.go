package farend

import (
	"context"
	"io"
	"io/fs"
	"net/http"
	"net/http/httptest"
	"strings"
	"sync/atomic"
	"testing"
	"testing/fstest"
	"time"

	"asleft/generator/publish"
)

// A bucket whose listing begins anew for ever ends in a fault.
func TestListingWithoutAnEnd(t *testing.T) {
	const inOne = 50_000
	text := "<L><IsTruncated>true</IsTruncated><NextContinuationToken>n</NextContinuationToken>" + strings.Repeat("<Contents><Key>a</Key></Contents>", inOne) + "</L>"
	asked := 0
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) {
		asked++
		if asked <= mostListed/inOne+1 { // and none more, so that the test has an end too
			_, _ = io.WriteString(w, text)
		}
	}))
	defer server.Close()
	s := &s3End{line: &s3Line{client: server.Client(), scheme: "http", host: strings.TrimPrefix(server.URL, "http://"), path: "/b", now: time.Now}}
	if _, err := s.List(context.Background()); !publish.IsFault(err, "publish.too-many") {
		t.Errorf("after %d answers: %v", asked, err)
	}
}

// Folders within folders for ever, and one that holds itself, end in a fault.
func TestFoldersWithoutAnEnd(t *testing.T) {
	for name, most := range map[string]int64{"a": longestPath, "x/..": mostListed + 1} {
		within := fstest.MapFS{"a/b": {}}
		info, err := fs.Stat(within, "a")
		if err != nil {
			t.Fatal(err)
		}
		var asked atomic.Int64
		_, err = listTree(context.Background(), 4, func(string) ([]fs.FileInfo, error) {
			if asked.Add(1) > most { // so that the test has an end too
				return nil, nil
			}
			return []fs.FileInfo{renamed{info, name}}, nil
		})
		if !publish.IsFault(err, "publish.too-many") {
			t.Errorf("%s: %v", name, err)
		}
	}
}

type renamed struct {
	fs.FileInfo
	name string
}

func (r renamed) Name() string { return r.name }
