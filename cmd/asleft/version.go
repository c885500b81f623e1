package main

import (
	"runtime"
	"runtime/debug"
	"strings"
)

// builtFrom is what the program says of its own making; tests put a fixed one here.
var builtFrom = debug.ReadBuildInfo

// shownCommit is how many digits of a commit are shown: enough to find it by.
const shownCommit = 12

// version names the sources that the program was built from: the module's version, or
// the commit, and whether files were changed after it. It says nothing of the machine,
// so that one report printed on two systems is the same to the byte.
func version() string {
	info, ok := builtFrom()
	if !ok {
		return words.Say("command.version-unknown")
	}
	set := map[string]string{}
	for _, s := range info.Settings {
		set[s.Key] = s.Value
	}
	commit, changed := set["vcs.revision"], set["vcs.modified"] == "true"
	commit = commit[:min(len(commit), shownCommit)]
	switch v := info.Main.Version; {
	case changed && commit != "":
		return words.Say("command.version-changed", "commit", commit)
	case v != "" && v != "(devel)" && (commit == "" || !strings.Contains(v, commit)):
		return v
	case commit != "":
		return words.Say("command.version-commit", "commit", commit)
	}
	return words.Say("command.version-unknown")
}

// fullVersion is what --version prints: the version, and what built it for what.
func fullVersion() string {
	by := runtime.Version()
	if info, ok := builtFrom(); ok && info.GoVersion != "" {
		by = info.GoVersion
	}
	return words.Say("command.version", "version", version(), "go", by, "system", runtime.GOOS+"/"+runtime.GOARCH)
}
