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
// of the interval is, else too close to call (decision rule of ISO 14253-1, from
// memory). Without gauge the reading itself is judged; the caller should say
// that the gauge's accuracy was not recorded. Without limit the verdict is
// NotLimited. The error is [ErrNothing], a *[MismatchError] or a *[ParseError].
func Judge(value Quantity, gauge Gauge, limit Limit) (Verdict, error) {
	low, high, err := gauge.Interval(value)
	if err != nil {
		return "", err
	}
	if limit.IsZero() {
		return NotLimited, nil
	}
	if value.Dimension() != limit.Dimension() {
		return "", &MismatchError{Read: "the reading " + value.String(), Have: value.Dimension(), With: "the limit " + limit.String(), Want: limit.Dimension()}
	}
	lowSide, err := aboveEnd(low, high, limit)
	if err != nil {
		return "", err
	}
	highSide, err := belowEnd(low, high, limit)
	if err != nil {
		return "", err
	}
	switch {
	case lowSide == Outside || highSide == Outside:
		return Outside, nil
	case lowSide == TooClose || highSide == TooClose:
		return TooClose, nil
	}
	return Inside, nil
}

// aboveEnd judges the interval by the limit's lower end alone.
func aboveEnd(low, high Quantity, limit Limit) (Verdict, error) {
	end, ok := limit.Low()
	if !ok {
		return Inside, nil
	}
	least, err := low.Cmp(end)
	if err != nil {
		return "", err
	}
	most, err := high.Cmp(end)
	return side(least, most, limit.kind == MoreThan), err
}

// belowEnd judges the interval by the limit's upper end alone.
func belowEnd(low, high Quantity, limit Limit) (Verdict, error) {
	end, ok := limit.High()
	if !ok {
		return Inside, nil
	}
	least, err := low.Cmp(end)
	if err != nil {
		return "", err
	}
	most, err := high.Cmp(end)
	return side(-most, -least, limit.kind == LessThan), err
}

// side judges an interval by one end, given how its worst and its best value
// compare with that end (1 allowed, 0 at the end, -1 beyond). A strict end is
// itself not allowed.
func side(worst, best int, strict bool) Verdict {
	allowed := 0
	if strict {
		allowed = 1
	}
	switch {
	case worst >= allowed:
		return Inside
	case best < allowed:
		return Outside
	}
	return TooClose
}
