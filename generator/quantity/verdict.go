package quantity

// Verdict is the outcome of a judgement, in the words of the report.
type Verdict string

// The verdicts.
const (
	Inside     Verdict = "inside the limit"
	Outside    Verdict = "outside the limit"
	TooClose   Verdict = "too close to call"
	NotLimited Verdict = "no limit given"
)

// Judge compares a value, read with a gauge, with a limit. The value is inside
// when the whole interval value ± gauge is inside the limit, outside when none
// of the interval is, else too close to call: the whole interval of the tool's
// accuracy has to lie on one side. Editions of ISO 14253-1 differ in what they take
// off, so this rule goes by no edition. Without gauge the reading itself is judged; the caller should say
// that the gauge's accuracy was not recorded. Without limit the verdict is
// NotLimited. The error is [ErrNothing], a *[MismatchError] or a *[ParseError].
func Judge(value Quantity, gauge Gauge, limit Limit) (Verdict, error) {
	return JudgeReading(ReadingOf(value), gauge, limit)
}

// JudgeReading is [Judge] for a reading of any form. A range or an open reading
// is inside only when all of it is, outside when none of it is, else too close
// to call; its ends are moved outward by the gauge. "About" without a gauge is
// always too close to call, since nobody said how far off it may be. OL is above
// every limit of a resistance; against any other limit it is too close to call,
// for it does not say what the meter could have shown.
func JudgeReading(reading Reading, gauge Gauge, limit Limit) (Verdict, error) {
	if reading.IsOpen() {
		return judgeOpen(limit), nil
	}
	least, most, err := reading.edges(gauge)
	if err != nil {
		return "", err
	}
	if limit.IsZero() {
		return NotLimited, nil
	}
	if reading.Dimension() != limit.Dimension() {
		return "", &MismatchError{Read: "the reading " + reading.String(), Have: reading.Dimension(), With: "the limit " + limit.String(), Want: limit.Dimension()}
	}
	if reading.IsAbout() && gauge.IsZero() {
		return TooClose, nil
	}
	lowSide, highSide := aboveEnd(least, most, limit), belowEnd(least, most, limit)
	switch {
	case lowSide == Outside || highSide == Outside:
		return Outside, nil
	case lowSide == TooClose || highSide == TooClose:
		return TooClose, nil
	}
	return Inside, nil
}

func judgeOpen(limit Limit) Verdict {
	_, bounded := limit.High()
	switch {
	case limit.IsZero():
		return NotLimited
	case limit.Dimension() != Resistance:
		return TooClose
	case bounded:
		return Outside
	}
	return Inside
}

// edge is one end of what a reading may stand for.
type edge struct {
	at     Quantity // not given where nothing bounds it
	strict bool     // the end itself is not part of it
}

// edges returns the two ends of the reading, moved outward by the gauge.
func (r Reading) edges(gauge Gauge) (least, most edge, err error) {
	least.strict, most.strict = r.form == aboveReading, r.form == belowReading
	if least.at, _, err = gauge.Interval(r.low); err != nil {
		return least, most, err
	}
	if _, most.at, err = gauge.Interval(r.high); err != nil {
		return least, most, err
	}
	_, _, lowOpen, highOpen := r.Bounds()
	if lowOpen {
		least.at = Quantity{}
	}
	if highOpen {
		most.at = Quantity{}
	}
	return least, most, nil
}

// aboveEnd judges by the limit's lower end alone. A reading like "< 0.1 V" is
// taken to be no less than zero where the limit begins at zero, for then neither
// of the two was thought to go below it; temperatures do.
func aboveEnd(least, most edge, limit Limit) Verdict {
	end, ok := limit.Low()
	if !ok {
		return Inside
	}
	if least.at.IsZero() && end.Sign() == 0 && most.upTo(end) > 0 && end.Dimension() != Temperature {
		least = edge{at: end}
	}
	return side(least.from(end), most.upTo(end), limit.kind == MoreThan)
}

// belowEnd judges by the limit's upper end alone.
func belowEnd(least, most edge, limit Limit) Verdict {
	end, ok := limit.High()
	if !ok {
		return Inside
	}
	return side(-most.upTo(end), -least.from(end), limit.kind == LessThan)
}

// The places of an edge about the end of a limit.
const (
	beyond = 2 // above the end
	beside = 1 // as near above it as can be
)

// from places a lower edge about the end of a limit: above, just above, at or
// below it. Their dimensions are known to be alike.
func (e edge) from(end Quantity) int {
	if e.at.IsZero() {
		return -beyond
	}
	order := e.at.order(end)
	if order == 0 && e.strict {
		return beside
	}
	return beyond * order
}

// upTo places an upper edge about the end of a limit: above, at, just below or
// below it.
func (e edge) upTo(end Quantity) int {
	if e.at.IsZero() {
		return beyond
	}
	order := e.at.order(end)
	if order == 0 && e.strict {
		return -beside
	}
	return beyond * order
}

// side judges by one end, given where the worst and the best value stand about
// that end (above 0 allowed, 0 at the end, below 0 beyond it). A strict end is
// itself not allowed.
func side(worst, best int, strict bool) Verdict {
	allowed := 0
	if strict {
		allowed = beside
	}
	switch {
	case worst >= allowed:
		return Inside
	case best < allowed:
		return Outside
	}
	return TooClose
}

// Worse returns the verdict that a reader has to know of two.
func Worse(a, b Verdict) Verdict {
	for _, v := range []Verdict{Outside, TooClose, Inside} {
		if a == v || b == v {
			return v
		}
	}
	return NotLimited
}
