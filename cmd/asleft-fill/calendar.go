package main

import (
	"fmt"
	"time"
)

// The calendar is ten years; a log that finds no free evening may run a few
// years past it. All of it is in the past, for a date in the future is a
// problem.
const (
	years   = 3653 // days from the first
	overrun = 1400 // days after them
)

var firstDay = time.Date(2012, time.January, 1, 0, 0, 0, 0, time.UTC)

func dateOf(day int) string { return firstDay.AddDate(0, 0, day).Format(time.DateOnly) }

// A calendar is who is busy until when. A person's sessions are given out one
// after the other, so no two of them overlap, on whatever machine.
type calendar struct {
	crew []string
	busy [][]int // minutes after midnight, by day and person
}

func newCalendar(entries int) *calendar {
	// Two sessions an evening and four on a Saturday make about two and a half
	// a day; with this many people six evenings of ten have work.
	people := max(3, entries*3/2/(years*3/2)+1)
	c := &calendar{busy: make([][]int, years+overrun)}
	for i := range people {
		c.crew = append(c.crew, initials(i))
	}
	for day := range c.busy {
		c.busy[day] = make([]int, people)
	}
	return c
}

// initials are all different for 676 people; a shop that large does not come
// up, and then they are numbered.
func initials(i int) string {
	a, b := byte('A'+(i*7+9)%26), byte('A'+(i/26*5+i*11+12)%26)
	if i >= 26*26 {
		return fmt.Sprintf("%c%c%d", a, b, i)
	}
	return string([]byte{a, b})
}

// opens is when work begins on a day: in the evening, at nine on Saturdays.
func opens(day int) int {
	if firstDay.AddDate(0, 0, day).Weekday() == time.Saturday {
		return 9 * 60
	}
	return 18 * 60
}

// lastOut is when nobody begins any more.
const lastOut = 22 * 60

// A session is one person's stretch of work, in minutes after midnight of the
// day it began. It may run past midnight, but never into the next opening.
type session struct {
	person     string
	from, to   int
	less       int // not worked
	task       string
	personRank int
}

func (s session) worked() int { return s.to - s.from - s.less }

// book finds a person for a day, beginning the search at a random one, and
// takes their next free stretch. Not ok where everybody is busy.
func (c *calendar) book(pick chance, day, minutes int, except int) (session, bool) {
	start := pick.IntN(len(c.crew))
	for i := range c.crew {
		who := (start + i) % len(c.crew)
		from := max(opens(day), c.busy[day][who])
		if who == except || from > lastOut {
			continue
		}
		c.busy[day][who] = from + minutes + 5*pick.IntN(4)
		return session{person: c.crew[who], from: from, to: from + minutes, personRank: who}, true
	}
	return session{}, false
}

func clock(minute int) string {
	return fmt.Sprintf("%02d:%02d", minute/60%24, minute%60)
}
