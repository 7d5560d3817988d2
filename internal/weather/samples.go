package weather

import (
	"fmt"
	"math"
	"sort"
	"time"
)

// stepName is a step in words.
func stepName(step time.Duration) string {
	if step == time.Hour {
		return "hours"
	}
	return fmt.Sprintf("steps of %d minutes", int(step/time.Minute))
}

// toHours reduces a draft whose hours are steps of a part of an hour, each ending at Start+(i+1) step, to whole hours of its zone: sun, sky longwave, cloud and albedo
// become the mean of the steps that are known, where at least half of them are, rain and snowfall the sum of those, and states are those of the hour's last step, or of the last
// one known in it.
func (d *draft) toHours(step time.Duration) {
	s := &d.series
	steps, lineOf, begin, perHour := s.Hours, d.line, s.Start, int(time.Hour/step)
	skipped := 0 // steps of the first hour that are not there
	for at := begin; at.Minute() != 0 || at.Second() != 0; at = at.Add(-step) {
		if skipped++; skipped >= perHour {
			break
		}
	}
	s.Start = begin.Add(-time.Duration(skipped) * step)
	n := (len(steps) + skipped + perHour - 1) / perHour
	s.Hours, d.line = make([]Hour, n), make([]int, n)
	for i := range s.Hours {
		first, after := max(0, i*perHour-skipped), min(len(steps), (i+1)*perHour-skipped)
		s.Hours[i] = hourOfSteps(steps[first:after], perHour)
		d.line[i] = lineOf[first]
		for _, q := range []quantity{global, beam, diffuse} {
			if v := *s.Hours[i].value(q); v > facts[q].high {
				d.add(d.line[i], 0, "%s of the hour from here is %.0f %s, must be %g to %g", facts[q].name, v, facts[q].unit, facts[q].low, facts[q].high)
			}
		}
	}
	s.note(Derived, "hours", -1, n, "of %s: means and sums of the steps, states at the end", stepName(step))
}

// hourOfSteps is the hour made of those of its steps that are there, perHour when none lacks.
func hourOfSteps(steps []Hour, perHour int) Hour {
	h := unknownHour()
	for q := range quantities {
		sum, known := 0.0, 0
		for i := range steps {
			if v := *steps[i].value(q); !math.IsNaN(v) {
				sum, known = sum+v, known+1
				if facts[q].state {
					*h.value(q) = v
				}
			}
		}
		switch {
		case facts[q].state || known == 0:
		case q == rain || q == snowfall:
			*h.value(q) = sum
		case 2*known >= perHour:
			*h.value(q) = sum / float64(known)
		}
	}
	return h
}

// instant is the weather at one instant, as a satellite or a model gives it.
type instant struct {
	at   time.Time
	line int
	now  Hour
}

// ofInstants makes the hours of a draft of values at instants, which run on straight lines between them; a line over more than a step is not known. States are those at
// the end of the hour, the others the mean of the line over it, so that sums over days stay as served. Before the first and after the last instant values are held for up to a step.
func (d *draft) ofInstants(list []instant, step time.Duration, zone *time.Location) {
	if len(list) == 0 {
		return
	}
	first := list[0].at.In(zone)
	y, m, day := first.Date()
	s := &d.series
	s.Start = time.Date(y, m, day, first.Hour(), 0, 0, 0, zone)
	last := list[len(list)-1].at
	n := int((last.Sub(s.Start) + time.Hour - 1) / time.Hour)
	s.Hours, d.line = make([]Hour, n), make([]int, n)
	for i := range s.Hours {
		from, end := s.HourStart(i), s.HourStart(i+1)
		k := sort.Search(len(list), func(k int) bool { return !list[k].at.Before(from) })
		d.line[i] = list[min(k, len(list)-1)].line
		s.Hours[i] = unknownHour()
		for q := range quantities {
			if facts[q].state {
				*s.Hours[i].value(q) = lineAt(list, q, end, step)
			} else {
				*s.Hours[i].value(q) = lineMean(list, q, from, end, step)
			}
		}
	}
}

// lineAt is the line of a quantity at the instant t.
func lineAt(list []instant, q quantity, t time.Time, step time.Duration) float64 {
	k := sort.Search(len(list), func(k int) bool { return !list[k].at.Before(t) })
	switch {
	case k < len(list) && list[k].at.Equal(t):
		return *list[k].now.value(q)
	case k == 0: // held
		if list[0].at.Sub(t) > step {
			return math.NaN()
		}
		return *list[0].now.value(q)
	case k == len(list):
		if t.Sub(list[k-1].at) > step {
			return math.NaN()
		}
		return *list[k-1].now.value(q)
	}
	a, b := &list[k-1], &list[k]
	span := b.at.Sub(a.at)
	if span > step {
		return math.NaN()
	}
	va, vb := *a.now.value(q), *b.now.value(q)
	return va + (vb-va)*float64(t.Sub(a.at))/float64(span)
}

// lineMean is the mean of the line over the time between.
func lineMean(list []instant, q quantity, from, end time.Time, step time.Duration) float64 {
	sum, at, v := 0.0, from, lineAt(list, q, from, step)
	for k := sort.Search(len(list), func(k int) bool { return list[k].at.After(from) }); at.Before(end); k++ {
		next := end
		if k < len(list) && list[k].at.Before(end) {
			next = list[k].at
		}
		w := lineAt(list, q, next, step)
		sum += (v + w) / 2 * next.Sub(at).Hours()
		at, v = next, w
	}
	return sum / end.Sub(from).Hours()
}

// hourEnding is the hour that ends at end, for rows that come in order; the series grows up to it.
func (d *draft) hourEnding(end time.Time, line int, c cell) (int, bool) {
	s := &d.series
	if len(s.Hours) == 0 {
		s.Start = end.Add(-time.Hour)
	}
	since := end.Sub(s.Start)
	i := int(since/time.Hour) - 1
	switch {
	case since%time.Hour != 0:
		d.add(line, c.column, "%s is not a whole number of hours after the first row", quote(c.text))
	case i < len(s.Hours):
		d.add(line, c.column, "%s does not come after the row before it", quote(c.text))
	case i-len(s.Hours) >= longestJump:
		d.add(line, c.column, "%s comes %d h after the row before it; rows must be hourly", quote(c.text), i-len(s.Hours)+1)
	default:
		for len(s.Hours) <= i {
			s.Hours, d.line = append(s.Hours, unknownHour()), append(d.line, 0)
		}
		d.line[i] = line
		return i, true
	}
	return 0, false
}

// trim cuts hours without air from both ends: services fill what they have not yet got with a mark.
func (d *draft) trim() {
	s := &d.series
	first, after := 0, len(s.Hours)
	for first < after && math.IsNaN(s.Hours[first].AirC) {
		first++
	}
	for after > first && math.IsNaN(s.Hours[after-1].AirC) {
		after--
	}
	if cut := len(s.Hours) - (after - first); cut > 0 && after > first {
		s.Start, s.Hours, d.line = s.HourStart(first), s.Hours[first:after], d.line[first:after]
		s.note(Missing, "hours", -1, cut, "at the ends have no air temperature and are left out")
	}
}

// wholeZone is the zone for hours that are whole ones in UTC: that of the options, else the whole hour nearest the longitude.
func (d *draft) wholeZone(options ReadOptions, longitudeDeg float64) (*time.Location, bool) {
	if !options.ZoneGiven {
		return Zone(time.Duration(math.Round(longitudeDeg/15)) * time.Hour), true
	}
	if options.UTCOffset%time.Hour != 0 || options.UTCOffset.Abs() > 14*time.Hour {
		d.add(0, 0, "time zone is %s from UTC, must be a whole hour of at most 14 for a file of full UTC hours", options.UTCOffset)
		return nil, false
	}
	return Zone(options.UTCOffset), true
}
