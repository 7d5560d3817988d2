package sun

import "time"

// Span is the sun over a length of time, as hourly means need it.
type Span struct {
	Position         // the one that stands for the span
	UpShare  float64 // share of the span in which the sun's centre is above the level plane, 0 to 1
}

// Instant returns the span that is no more than the instant t.
func Instant(p Place, t time.Time) Span {
	s := Span{Position: At(p, t)}
	if s.Elevation > 0 {
		s.UpShare = 1
	}
	return s
}

// OverHour returns the sun over the hour that ends at end.
func OverHour(p Place, end time.Time) Span { return Over(p, end.Add(-time.Hour), end) }

// Over returns the sun over the time from one instant to another, at most two
// hours later. The position is that of the middle of the part in which the
// sun's centre is above the level plane (geometric elevation 0, not the
// refracted horizon: what is projected on planes is the geometric direction).
// With the sun down throughout it is the position in the middle, and UpShare 0.
//
// A mean beam over the span holds the dark part as zeros, so that the mean on a
// plane is the mean beam times cos θ at this position, with no further factor;
// what a formula takes as strength while the sun is up is the mean over UpShare.
// The middle of an hour's arc stands a little above its mean: cos θ comes out up
// to 0.0029 too large (1 - sin 7.5°/7.5°), as with all mid-hour reckoning.
//
// The sun is looked for at the beginning, middle and end. A sun that shows only
// between them counts as down, one that dips only between beginning and end as
// up: both happen near polar night and day alone, within a fraction of a degree
// of the horizon.
func Over(p Place, from, to time.Time) Span {
	if length := to.Sub(from); length <= 0 || length > 2*time.Hour {
		panic("sun: span of " + length.String() + ", must be above 0 and at most 2h")
	}
	up := func(t time.Time) bool { return At(p, t).Elevation > 0 }
	middle := from.Add(to.Sub(from) / 2)
	atFrom, atMiddle, atTo := up(from), up(middle), up(to)
	if !atFrom && !atMiddle && !atTo {
		return Span{Position: At(p, middle)}
	}
	start, end := from, to
	switch {
	case !atFrom && atMiddle:
		start = crossing(from, middle, up)
	case !atFrom:
		start = crossing(middle, to, up)
	}
	switch {
	case !atTo && atMiddle:
		end = crossing(to, middle, up)
	case !atTo:
		end = crossing(middle, from, up)
	}
	return Span{
		Position: At(p, start.Add(end.Sub(start)/2)),
		UpShare:  float64(end.Sub(start)) / float64(to.Sub(from)),
	}
}
