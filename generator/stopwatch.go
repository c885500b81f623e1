package generator

import "time"

// A Stage is a part of a run's work.
type Stage string

// The stages of a run, in their order.
const (
	StageLook     Stage = "look"     // is everything as the last run left it?
	StageRead     Stage = "read"     // the logs
	StageJudge    Stage = "judge"    // hours, money, bench tests, conditions
	StagePhotos   Stage = "photos"   // what the photos are
	StageResize   Stage = "resize"   // those that the site has not got yet
	StageCompose  Stage = "compose"  // the pages
	StageSet      Stage = "set-down" // the site in its place on the disk
	StageRemember Stage = "remember" // for the next run
)

// A stopwatch tells how long each stage took. A nil one tells nobody.
type stopwatch struct {
	last time.Time
	tell func(Stage, time.Duration)
}

func newStopwatch(tell func(Stage, time.Duration)) *stopwatch {
	if tell == nil {
		return nil
	}
	return &stopwatch{time.Now(), tell}
}

// lap ends a stage; the next one begins.
func (w *stopwatch) lap(s Stage) {
	if w == nil {
		return
	}
	now := time.Now()
	w.tell(s, now.Sub(w.last))
	w.last = now
}
