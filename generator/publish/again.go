package publish

import (
	"context"
	"errors"
	"time"
)

// againTries is how often a line that broke is opened anew without a file more there.
const againTries = 4

// Broke tells whether an error is the line's: it says nothing against what was typed, and
// may be gone on another line.
func Broke(err error) bool {
	var fault *Fault
	return errors.As(err, &fault) && fault.Line
}

// goOn opens the far end again after the line broke, with longer and longer pauses, until
// all is there, or something else is wrong, or it has been tried often enough. What is told
// then is not what the last try said: the name and the port were right a moment ago.
func (r *run) goOn(ctx context.Context, result Result, err error) (Result, error) {
	r.second = true
	brought := len(r.brought)
	pause := r.o.Pace.Again
	for try := 0; try < againTries && Broke(err); try++ {
		if r.o.Broken != nil {
			r.o.Broken(err, pause)
		}
		select {
		case <-ctx.Done():
			return result, context.Cause(ctx)
		case <-time.After(pause):
		}
		pause *= 3
		far, e := r.o.Again(ctx)
		if e != nil {
			err = e
			continue
		}
		r.far = far
		result, err = r.once(ctx)
		if e := far.Close(); err == nil {
			err = e
		}
		if err == nil {
			return result, nil
		}
		if len(r.brought) > brought {
			brought, pause, try = len(r.brought), r.o.Pace.Again, -1
		}
	}
	if Broke(err) {
		err = NewFault(err, "publish.line-down").OfLine()
	}
	return result, err
}
