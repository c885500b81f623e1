package main

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"

	"github.com/spf13/afero"

	"asleft/generator/entry"
	"asleft/generator/logbook"
)

// edit has the person fill in a form in an editor, and sets down what it was
// made into.
func (l *logging) edit() error {
	editor := findEditor()
	if editor == "" {
		return wrongUsage(errors.New(words.Say("command.no-editor")))
	}
	form := l.entry.Form(l.offer(), words)
	d, err := l.newDraft(form)
	if err != nil {
		return &outcome{fault, err}
	}
	return l.fillIn(editor, d, form)
}

// editDraft goes on with a draft in the editor.
func (l *logging) editDraft(d *draft, data []byte) error {
	editor := findEditor()
	if editor == "" {
		return wrongUsage(errors.New(words.Say("command.no-editor")))
	}
	return l.fillIn(editor, d, data)
}

// fillIn has a draft filled in and sets down what it was made into. The draft stays
// where that cannot be written, and where a window may still be open on it.
func (l *logging) fillIn(editor string, d *draft, before []byte) error {
	edited, open, err := l.edited(editor, d, before)
	if err != nil {
		return err
	}
	settled := entry.Settle(edited, l.entry.Form(l.offer(), words))
	if open {
		fmt.Fprintln(l.out, words.Say("command.nothing-written"))
		fmt.Fprintln(l.err, words.Say("command.editor-open", "file", d.file, "key", l.key))
		return nil
	}
	name, err := l.saveForm(settled)
	if err != nil {
		return &outcome{fault, fmt.Errorf("%s: %w", words.Say("command.form-kept", "file", d.file), err)}
	}
	if err := d.drop(); err != nil {
		return &outcome{fault, err}
	}
	if name == "" {
		fmt.Fprintln(l.out, words.Say("command.nothing-written"))
		return nil
	}
	return l.mend(editor, name)
}

// saveForm sets down a form that was filled in, under the date and the title
// that stand in it. It returns no name where there was nothing to set down.
func (l *logging) saveForm(data []byte) (string, error) {
	if len(bytes.TrimSpace(data)) == 0 {
		return "", nil
	}
	probe := "machines/" + l.key + "/" + l.entry.Stem() + "-try.md"
	shop, _, err := entry.Try(l.folder, map[string][]byte{probe: data}, today(), words)
	if err != nil {
		return "", err
	}
	named := l.entry
	for _, m := range shop.Machines {
		for _, e := range m.Entries {
			if e.File == probe {
				named.Title = e.Title
				if e.Date != "" {
					named.Date = string(e.Date)
				}
				l.tellUnsaid(shop, e)
			}
		}
	}
	return l.save(named.Stem(), data)
}

// tellUnsaid names what a form leaves unsaid: whether it can hurt someone.
func (l *logging) tellUnsaid(shop *logbook.Shop, e *logbook.Entry) {
	tell := func(what, system string, said logbook.Safety) {
		if said == logbook.NotSaid && !shop.AlwaysSafety(system) {
			fmt.Fprintln(l.err, printable(words.Say("command.safety-unsaid", "what", what)))
		}
	}
	for _, d := range e.Defects {
		tell(d.Defect, d.System, d.Safety)
	}
	for _, c := range e.Changed {
		tell(c.What, c.System, c.Safety)
	}
}

// mend tells what is wrong with a file and, where somebody is there to answer,
// offers to open it at that line, as often as it takes.
func (l *logging) mend(editor, name string) error {
	for {
		err := l.tell(name)
		var o *outcome
		if err == nil || !errors.As(err, &o) || o.status != problems || !l.ask.interactive || l.ask.over {
			return err
		}
		found, e := problemsIn(l.folder, []string{name})
		if e != nil {
			return e
		}
		line := firstLine(found)
		if answer := strings.ToLower(l.ask.ask(words.Say("command.ask-reopen", "line", line))); answer == "n" || answer == "no" || l.ask.over {
			return err
		}
		file := filepath.Join(l.dir, filepath.FromSlash(name))
		if e := l.runEditor(editor, file, line); e != nil {
			return &outcome{fault, fmt.Errorf("%s: %w", words.Say("command.editor-failed", "editor", editor, "file", file), e)}
		}
		if there, e := afero.Exists(l.folder, name); e != nil || !there {
			return err
		}
	}
}

func firstLine(found []logbook.Problem) int {
	for _, p := range found {
		if p.Line > 0 {
			return p.Line
		}
	}
	return 1
}

// findEditor is the user's editor, as the environment names it, or the one that
// the system is sure to have.
func findEditor() string {
	for _, name := range []string{"VISUAL", "EDITOR"} {
		if editor := strings.TrimSpace(os.Getenv(name)); editor != "" {
			return editor
		}
	}
	for _, usual := range []string{"sensible-editor", "nano", "vi", "notepad.exe"} {
		if _, err := exec.LookPath(usual); err == nil {
			return usual
		}
	}
	return ""
}

// runEditor runs the editor on a file, at a line, and waits for it to end. The
// environment's setting is a command with its arguments, as the shell reads it.
func (l *logging) runEditor(editor, file string, line int) error {
	args := atLine(editor, file, line)
	cmd := exec.Command("sh", append([]string{"-c", editor + ` "$@"`, editor}, args...)...)
	if runtime.GOOS == "windows" {
		parts := strings.Fields(editor)
		if _, err := exec.LookPath(editor); err == nil {
			parts = []string{editor} // a path with spaces in it
		}
		cmd = exec.Command(parts[0], append(parts[1:], args...)...)
	}
	cmd.Stdin, cmd.Stdout, cmd.Stderr = l.in, terminalOf(l.out), terminalOf(l.err)
	return cmd.Run()
}

// atLine is a file and a line as the editor takes them. +LINE is what the
// editors of POSIX and most others understand; the few that do not are named.
func atLine(editor, file string, line int) []string {
	if line <= 1 {
		return []string{file}
	}
	program, _, _ := strings.Cut(editor, " ")
	program = strings.TrimSuffix(strings.ToLower(filepath.Base(program)), ".exe")
	switch program {
	case "code", "codium", "code-insiders":
		return []string{"--goto", file + ":" + strconv.Itoa(line)}
	case "subl", "zed", "hx", "helix":
		return []string{file + ":" + strconv.Itoa(line)}
	case "notepad", "open", "xdg-open":
		return []string{file}
	}
	return []string{"+" + strconv.Itoa(line), file}
}
