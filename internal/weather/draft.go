package weather

import (
	"fmt"
	"math"
	"time"
)

// draft is a series while a reader fills it: the hours, the line each came from, and what was
// found wrong so far.
type draft struct {
	*findings
	series Series
	line   []int // line of the file of each hour, 0 where no row was found
	read   [quantities]bool
	// keepGaps leaves gaps too long to be bridged open in place of refusing the file.
	keepGaps bool
	brief    bool // values are of steps shorter than an hour
}

// briefSunWM2 is the most sun of a minute [W/m2]: the edges of bright clouds add to the beam; above 1,800 have been measured (from memory).
const briefSunWM2 = 2000

// put stores a value in hour i after holding it against what is possible; cell is where it stands.
// Numbers are in the unit of facts. Small negative sun is an instrument's zero and becomes 0.
func (d *draft) put(i int, q quantity, value float64, line int, c cell) {
	if v, ok := d.possible(q, value, line, c); ok {
		*d.series.Hours[i].value(q) = v
	}
}

// possible is the value as it is stored; false, with a finding, when it cannot be.
func (d *draft) possible(q quantity, value float64, line int, c cell) (float64, bool) {
	f := facts[q]
	if d.brief && isSun(q) {
		f.high = briefSunWM2
	}
	if !(value >= f.low && value <= f.high) {
		d.add(line, c.column, "%s is %s, must be %g to %g %s", f.name, quote(c.text), f.low, f.high, f.unit)
		return 0, false
	}
	if isSun(q) && value <= 0 {
		value = 0
	}
	d.read[q] = true
	return value, true
}

// quote shortens a cell for an error.
func quote(s string) string {
	const most = 40
	if len(s) > most {
		s = s[:most] + "..."
	}
	return "\"" + s + "\""
}

// finish bridges short gaps, refuses long ones, holds the values against each other and returns
// the series, or all that was found wrong.
func (d *draft) finish() (Series, error) {
	if d.total > 0 {
		return Series{}, d.err()
	}
	if len(d.series.Hours) == 0 {
		d.add(0, 0, "no hours of weather found")
		return Series{}, d.err()
	}
	if !d.read[airTemperature] {
		d.add(0, 0, "no air temperature found, it must be given")
		return Series{}, d.err()
	}
	if d.bridge(airTemperature); d.total > 0 {
		return Series{}, d.err()
	}
	if mean := d.meanAir(); mean > warmestMeanC {
		d.add(0, 0, "mean air temperature is %.1f °C, no place has more than %d °C", mean, warmestMeanC)
		d.hint("these look like °F")
		return Series{}, d.err()
	}
	for q := airTemperature + 1; q < quantities; q++ {
		d.bridge(q)
	}
	if d.total > 0 {
		return Series{}, d.err()
	}
	d.capDewPoint()
	flagSun(&d.series)
	return d.series, nil
}

// warmestMeanC is the highest mean of a file that is taken for °C, where it has at least a week: no place has such weeks, and °F of a temperate year or summer lie above. Own
// judgement.
const warmestMeanC = 45

// meanAir is the mean of what is known of the air [°C], 0 for less than a week.
func (d *draft) meanAir() float64 {
	sum, n := 0.0, 0
	for _, h := range d.series.Hours {
		if !math.IsNaN(h.AirC) {
			sum, n = sum+h.AirC, n+1
		}
	}
	if n < 7*24 {
		return 0
	}
	return sum / float64(n)
}

// bridge looks for the gaps of one quantity.
func (d *draft) bridge(q quantity) {
	if !d.read[q] {
		d.series.note(Missing, facts[q].name, -1, len(d.series.Hours), "the file has none")
		return
	}
	hours, f := d.series.Hours, facts[q]
	before := len(d.series.Notes)
	left := 0
	for first := 0; first < len(hours); first++ {
		if !math.IsNaN(*hours[first].value(q)) {
			continue
		}
		after := first
		for after < len(hours) && math.IsNaN(*hours[after].value(q)) {
			after++
		}
		if !d.close(q, first, after) {
			left += after - first
			if f.must && !d.keepGaps && !d.canDerive(q, first, after) {
				d.add(d.lineNear(first), 0, "%s is missing for %d h, %s to %s; at most %d h are bridged", f.name, after-first,
					stamp(d.series.HourStart(first)), stamp(d.series.HourStart(after)), f.fillHours)
			}
		}
		first = after
	}
	d.gather(f.name, before)
	if left > 0 {
		d.series.note(Missing, f.name, -1, left, "left open, to be derived or taken as stated")
	}
}

// eachGap is how many filled gaps of a quantity are told one by one.
const eachGap = 10

// gather makes one note of the filled gaps beyond the first eachGap told since there were before notes.
func (d *draft) gather(what string, before int) {
	notes := d.series.Notes
	if len(notes)-before <= eachGap {
		return
	}
	rest := notes[before+eachGap:]
	hours := 0
	for _, n := range rest {
		hours += n.Hours
	}
	first := rest[0].From
	d.series.Notes = append(notes[:before+eachGap], Note{Filled, what, first, hours, fmt.Sprintf("%d more short gaps, the first here", len(rest))})
}

// close bridges the gap of hours first to after-1 where that is sound, and tells so.
func (d *draft) close(q quantity, first, after int) bool {
	hours, f := d.series.Hours, facts[q]
	if isSun(q) && d.series.allDark(first, after) {
		for i := first; i < after; i++ {
			*hours[i].value(q) = 0
		}
		d.series.note(Filled, f.name, first, after-first, "the sun is below the horizon, 0 taken")
		return true
	}
	if after-first > f.fillHours {
		return false
	}
	a, b := math.NaN(), math.NaN()
	if first > 0 {
		a = *hours[first-1].value(q)
	}
	if after < len(hours) {
		b = *hours[after].value(q)
	}
	switch {
	case math.IsNaN(a) && math.IsNaN(b):
		return false
	case math.IsNaN(a):
		a = b
	case math.IsNaN(b):
		b = a
	}
	for i := first; i < after; i++ {
		share := float64(i-first+1) / float64(after-first+1)
		*hours[i].value(q) = a + (b-a)*share
	}
	d.series.note(Filled, f.name, first, after-first, "bridged by a straight line")
	return true
}

// canDerive tells whether what lacks in the gap follows from the other sun values.
func (d *draft) canDerive(q quantity, first, after int) bool {
	if q != global {
		return false
	}
	for _, h := range d.series.Hours[first:after] {
		if math.IsNaN(h.BeamWM2) || math.IsNaN(h.DiffuseWM2) {
			return false
		}
	}
	return true
}

// lineNear returns the line of hour i, or of the next hour that has one.
func (d *draft) lineNear(i int) int {
	for ; i < len(d.line); i++ {
		if d.line[i] > 0 {
			return d.line[i]
		}
	}
	return 0
}

// capDewPoint takes a dew point above the air temperature as the air temperature. Rounding in
// the files makes it differ by a tenth; more is told.
func (d *draft) capDewPoint() {
	doubtful, worst := 0, 0.0
	for i := range d.series.Hours {
		h := &d.series.Hours[i]
		if over := h.DewPointC - h.AirC; over > 0 {
			h.DewPointC = h.AirC
			if over > 0.2 {
				doubtful++
				worst = max(worst, over)
			}
		}
	}
	if doubtful > 0 {
		d.series.note(Flagged, "dew point", -1, doubtful, "above the air temperature by up to %.1f K, taken as the air temperature", worst)
	}
}

func isSun(q quantity) bool { return q == global || q == beam || q == diffuse }

func stamp(t time.Time) string { return t.Format("2006-01-02 15:04") }
