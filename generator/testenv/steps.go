package testenv

import (
	"context"
	"encoding/json"
	"fmt"
	"time"
	"unicode/utf8"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/dom"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
)

// The steps below find what they are for by a script, anew each time, and never by the
// number that the browser gave a node: a page that is left in between, or that exchanges
// a part of itself, makes such numbers void, and a test that holds one fails once in a
// hundred times.

// Shown waits until what the selector finds first can be seen.
func Shown(selector string) chromedp.Action[chromedp.Void] {
	return chromedp.Func(func(ctx context.Context, target *chromedp.Target) error {
		_, err := found(ctx, target, selector, `return e.checkVisibility() && e.getClientRects().length && !e.closest('[inert]') ? {x: 0, y: 0} : null`)
		return err
	})
}

// Press clicks in the middle of what the selector finds first, as soon as it can be
// pressed, stands still and nothing lies over it, and does so again where the page moved
// under the mouse or did not listen yet.
func Press(selector string) chromedp.Action[chromedp.Void] {
	return chromedp.Func(func(ctx context.Context, target *chromedp.Target) error {
		return untilHeard(ctx, target, selector, func() error {
			at, err := found(ctx, target, selector, `
				if (e.disabled || !e.checkVisibility()) return null;
				e.scrollIntoView({block: 'center', behavior: 'instant'});
				const r = e.getClientRects()[0];
				if (!r) return null;
				const at = {x: r.left + r.width / 2, y: r.top + r.height / 2};
				const seen = window.testenvSeen ??= new WeakMap(), was = seen.get(e);
				seen.set(e, at);
				if (was?.x !== at.x || was?.y !== at.y) return null;
				const top = document.elementFromPoint(at.x, at.y);
				const on = (t) => e.contains(t) || [...(e.labels ?? [])].some((l) => l.contains(t));
				if (!top || !on(top)) return null;
				window.testenvMissed = true;
				addEventListener('mousedown', (ev) => { window.testenvMissed = !on(ev.target); }, {capture: true, once: true});
				return at`)
			if err == nil {
				_, err = chromedp.MouseClickXY(at.X, at.Y)(ctx, target)
			}
			return err
		})
	})
}

// Type presses keys in a field, behind what stands there, and does so again where the page
// did not listen yet. The first key shows that; the rest is not pressed before.
func Type(selector, keys string) chromedp.Action[chromedp.Void] {
	return chromedp.Func(func(ctx context.Context, target *chromedp.Target) error {
		_, first := utf8.DecodeRuneInString(keys)
		err := untilHeard(ctx, target, selector, func() error {
			_, err := found(ctx, target, selector, `
				if (e.disabled || !e.checkVisibility()) return null;
				if (document.activeElement !== e) {
					e.focus();
					if (e.setSelectionRange && /^(textarea|text|search|tel|url|password)$/.test(e.type)) e.setSelectionRange(e.value.length, e.value.length);
				}
				if (document.activeElement !== e || e.closest('[inert]')) return null;
				window.testenvMissed = true;
				addEventListener('keydown', () => { window.testenvMissed = false; }, {capture: true, once: true});
				return {x: 0, y: 0}`)
			if err == nil {
				_, err = chromedp.KeyEvent(keys[:first])(ctx, target)
			}
			return err
		})
		if err == nil {
			_, err = chromedp.KeyEvent(keys[first:])(ctx, target)
		}
		return err
	})
}

// untilHeard presses something until the page has heard it: a browser drops what is
// pressed before the page's first picture is on the screen, which a busy machine is slow
// with. A page that was left by it knows of nothing missed.
func untilHeard(ctx context.Context, target *chromedp.Target, selector string, press func() error) error {
	for range 40 {
		if err := press(); err != nil {
			return err
		}
		if missed, err := chromedp.Evaluate[bool]("window.testenvMissed === true")(ctx, target); err != nil || !missed {
			return ctx.Err()
		}
		time.Sleep(50 * time.Millisecond)
	}
	return fmt.Errorf("%s never heard what was pressed", selector)
}

// Fill puts a value into a field in the place of what stands there, and tells the page.
func Fill(selector, value string) chromedp.Action[chromedp.Void] {
	return chromedp.Func(func(ctx context.Context, target *chromedp.Target) error {
		text, err := json.Marshal(value)
		if err != nil {
			return err
		}
		_, err = found(ctx, target, selector, `
			e.value = `+string(text)+`;
			for (const kind of ['input', 'change']) e.dispatchEvent(new Event(kind, {bubbles: true}));
			return {x: 0, y: 0}`)
		return err
	})
}

// Attach gives files to a field for files.
func Attach(selector string, files ...string) chromedp.Action[chromedp.Void] {
	return chromedp.Func(func(ctx context.Context, target *chromedp.Target) error {
		if _, err := found(ctx, target, selector, `return {x: 0, y: 0}`); err != nil {
			return err
		}
		field, err := cdp.Call(ctx, target, runtime.Evaluate, runtime.EvaluateParams{Expression: fmt.Sprintf("document.querySelector(%q)", selector)})
		if err != nil {
			return err
		}
		_, err = cdp.Call(ctx, target, dom.SetFileInputFiles, dom.SetFileInputFilesParams{Files: files, ObjectID: field.Result.ObjectID})
		return err
	})
}

// point is a place in the window, in its pixels.
type point struct{ X, Y float64 }

// found runs the body of a function of e, what the selector finds first, again and
// again until it returns a point. A page that is being left fails a call; the next one
// asks the page that came.
func found(ctx context.Context, target *chromedp.Target, selector, body string) (point, error) {
	script := fmt.Sprintf("(() => { const e = document.querySelector(%q); if (!e) return null; %s })()", selector, body)
	for until := time.Now().Add(longest); ; {
		at, err := chromedp.Evaluate[*point](script)(ctx, target)
		switch {
		case err == nil && at != nil:
			return *at, nil
		case ctx.Err() != nil:
			return point{}, ctx.Err()
		case time.Now().After(until):
			text, _ := chromedp.Evaluate[string](`document.body.innerText`)(ctx, target)
			return point{}, fmt.Errorf("%s never came (%v); the page says\n%s", selector, err, text)
		}
		time.Sleep(15 * time.Millisecond)
	}
}
