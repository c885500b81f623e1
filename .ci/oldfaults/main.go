// Oldfaults puts faults that the judge once had back, one at a time, and asks
// whether the oracle of generated shops notices: a fault that nobody notices
// would come back some day.
//
//	go run ./.ci/oldfaults [-shops 100] [-only REGEX]
//
// The tree itself is never changed. It fails where a fault is not noticed, where
// its lines are not found any more, or where the program does not build with it.
package main

import (
	"encoding/json"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
)

// tests are the oracle's.
const tests = "^(TestLeavesNothingOut|TestAccusesNobody|TestMoreBadNewsIsNeverFewer|TestOrderWithinAnEntryDoesNotMatter)$"

func main() {
	shops := flag.Int("shops", 100, "how many generated shops each test looks at")
	only := flag.String("only", "", "only faults whose name matches this")
	flag.Parse()
	tried, missed, err := run(*shops, *only)
	if err != nil {
		fmt.Fprintln(os.Stderr, "oldfaults:", err)
		os.Exit(1)
	}
	if missed > 0 {
		fmt.Printf("%d of %d faults were not noticed\n", missed, tried)
		os.Exit(1)
	}
	fmt.Printf("all %d faults were noticed\n", tried)
}

func run(shops int, only string) (tried, missed int, err error) {
	pick, err := regexp.Compile(only)
	if err != nil {
		return 0, 0, err
	}
	scratch, err := os.MkdirTemp("", "oldfaults-")
	if err != nil {
		return 0, 0, err
	}
	defer os.RemoveAll(scratch)
	for _, f := range faults {
		if !pick.MatchString(f.name) {
			continue
		}
		tried++
		noticed, err := f.noticed(scratch, shops)
		if err != nil {
			return 0, 0, fmt.Errorf("%s: %w", f.name, err)
		}
		if !noticed {
			missed++
		}
		fmt.Printf("%-5t %s\n", noticed, f.name)
	}
	return tried, missed, nil
}

// noticed tells whether a test of the oracle fails with the fault put back.
func (f fault) noticed(scratch string, shops int) (bool, error) {
	overlay, err := f.overlay(scratch)
	if err != nil {
		return false, err
	}
	bin := filepath.Join(scratch, "oracle.test")
	if out, err := exec.Command("go", "test", "-c", "-overlay", overlay, "-o", bin, "./generator").CombinedOutput(); err != nil { //nolint:gosec // our own
		return false, fmt.Errorf("it does not build: %w\n%s", err, out)
	}
	oracle := exec.Command(bin, "-test.failfast", "-test.run", tests) //nolint:gosec // our own
	oracle.Dir = "generator"
	oracle.Env = append(os.Environ(), "ASLEFT_CHECKS=none", "ASLEFT_ORACLE_SHOPS="+strconv.Itoa(shops))
	out, err := oracle.CombinedOutput()
	if err != nil && !strings.Contains(string(out), "--- FAIL: ") {
		return false, fmt.Errorf("the oracle did not run: %w\n%s", err, out)
	}
	return err != nil, nil
}

// overlay writes the files with the fault in them, and what the go command needs
// to know to take them for ours.
func (f fault) overlay(scratch string) (string, error) {
	replace, texts := map[string]string{}, map[string]string{}
	for _, e := range f.edits {
		if _, ok := texts[e.file]; !ok {
			text, err := os.ReadFile(e.file)
			if err != nil {
				return "", err
			}
			texts[e.file] = string(text)
		}
		if n := strings.Count(texts[e.file], e.is); n != 1 {
			return "", fmt.Errorf("%s: found %d times, expected once: %q", e.file, n, e.is)
		}
		texts[e.file] = strings.Replace(texts[e.file], e.is, e.was, 1)
	}
	for file, text := range texts {
		changed := filepath.Join(scratch, filepath.Base(file))
		if err := os.WriteFile(changed, []byte(text), 0o600); err != nil {
			return "", err
		}
		replace[file] = changed
	}
	list, err := json.Marshal(map[string]any{"Replace": replace})
	if err != nil {
		return "", err
	}
	overlay := filepath.Join(scratch, "overlay.json")
	return overlay, os.WriteFile(overlay, list, 0o600)
}
