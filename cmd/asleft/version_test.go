package main

import (
	"bytes"
	"runtime"
	"runtime/debug"
	"strings"
	"testing"
)

// builtAs has the program say that it was built in that way.
func builtAs(t *testing.T, module string, settings ...string) {
	t.Helper()
	info := &debug.BuildInfo{GoVersion: "go1.99.1", Main: debug.Module{Path: "asleft", Version: module}}
	for i := 0; i+1 < len(settings); i += 2 {
		info.Settings = append(info.Settings, debug.BuildSetting{Key: settings[i], Value: settings[i+1]})
	}
	was := builtFrom
	t.Cleanup(func() { builtFrom = was })
	builtFrom = func() (*debug.BuildInfo, bool) { return info, true }
}

const aCommit = "0123456789abcdef0123456789abcdef01234567"

func TestVersion(t *testing.T) {
	for _, c := range []struct {
		module   string
		settings []string
		want     string
	}{
		{"v1.2.3", nil, "v1.2.3"},
		{"v1.2.3", []string{"vcs.revision", aCommit, "vcs.modified", "false"}, "v1.2.3"},
		{"v0.0.0-20261128120000-0123456789ab", []string{"vcs.revision", aCommit, "vcs.modified", "false"}, "commit 0123456789ab"},
		{"(devel)", []string{"vcs.revision", aCommit, "vcs.modified", "false"}, "commit 0123456789ab"},
		{"v1.2.3+dirty", []string{"vcs.revision", aCommit, "vcs.modified", "true"}, "commit 0123456789ab with changes of its own"},
		{"(devel)", nil, "version not known"},
		{"", []string{"vcs.modified", "true"}, "version not known"},
	} {
		builtAs(t, c.module, c.settings...)
		if got := version(); got != c.want {
			t.Errorf("%s %v: got %q, want %q", c.module, c.settings, got, c.want)
		}
	}
	builtFrom = func() (*debug.BuildInfo, bool) { return nil, false }
	if got := version(); got != "version not known" {
		t.Errorf("with nothing known: %q", got)
	}
}

func TestVersionFlag(t *testing.T) {
	builtAs(t, "v1.2.3")
	var out, errs bytes.Buffer
	if status := run([]string{"--version"}, streams{strings.NewReader(""), &out, &errs}); status != fine {
		t.Fatalf("status %d: %s", status, errs.String())
	}
	if want := "asleft v1.2.3, built with go1.99.1 for " + runtime.GOOS + "/" + runtime.GOARCH + "\n"; out.String() != want {
		t.Errorf("got %q, want %q", out.String(), want)
	}
}
