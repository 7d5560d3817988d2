package record

import (
	"fmt"
	"math"
	"strconv"
	"time"

	"suncellar/internal/weather"
)

// spelledOut is how many findings an error spells out; the rest are counted. After enough of them the reading ends.
const spelledOut, enough = 20, 100

// quantity names what a day of a file may hold.
type quantity int

const (
	low quantity = iota
	high
	sunSum
	dew
	rain
	wind
	freshSnow
	lyingSnow
	quantities // how many there are
)

// facts holds what is possible in one day: temperatures as in package weather; sun above any day outside the air (45 MJ/m2 at the poles); precipitation
// 1.83 m at Foc-Foc, snowfall 1.93 m at Silver Lake, depth 11.8 m at Mount Ibuki; a mean wind of 60 m/s is a hurricane that stays. Figures from memory.
var facts = [quantities]struct {
	name, unit  string
	least, most float64
}{
	low: {"lowest air temperature", "°C", -90, 60}, high: {"highest air temperature", "°C", -90, 60},
	sunSum: {"sun of the day", "Wh/m2", 0, 13000}, dew: {"dew point", "°C", -110, 60}, rain: {"precipitation of the day", "mm", 0, 1900},
	wind: {"wind", "m/s", 0, 60}, freshSnow: {"snowfall of the day", "m", 0, 2.5}, lyingSnow: {"snow depth", "m", 0, 15},
}

// entry is one day of a draft.
type entry struct {
	values [quantities]float64
	line   int // of the file, 0 where it has none
}

// draft is a daily record while it is read.
type draft struct {
	file    string
	options Options
	place   weather.Place // as the file tells it
	name    string
	found   []weather.Finding
	total   int
	first   time.Time // day 0, in UTC
	days    []entry
	read    [quantities]int // how many values of each
	trace   int             // traces taken as 0
	doubted int             // values left out since the source itself marks them as failed
	notes   []weather.Note
}

func newDraft(file string, options Options) *draft {
	return &draft{file: file, name: file, options: options}
}

func (d *draft) add(line, column int, format string, args ...any) {
	d.total++
	if len(d.found) < spelledOut {
		d.found = append(d.found, weather.Finding{File: d.file, Line: line, Column: column, What: fmt.Sprintf(format, args...)})
	}
}

// hint goes with the finding last added.
func (d *draft) hint(text string) {
	if d.total == len(d.found) && d.total > 0 {
		d.found[d.total-1].Hint = text
	}
}

func (d *draft) err() error {
	if d.total == 0 {
		return nil
	}
	return &weather.FileError{Findings: d.found, Total: d.total}
}

// full tells that so much is wrong that reading on says nothing.
func (d *draft) full() bool { return d.total >= enough }

func (d *draft) note(kind weather.NoteKind, what string, days int, format string, args ...any) {
	d.notes = append(d.notes, weather.Note{Kind: kind, What: what, Hours: 24 * days, Text: fmt.Sprintf(format, args...)})
}

// firstYear and lastYear are the years a row may be of.
const firstYear, lastYear = 1700, 2200

// date reads year, month and day.
func (d *draft) date(line int, c cell, year, month, day int) (time.Time, bool) {
	t := time.Date(year, time.Month(month), day, 0, 0, 0, 0, time.UTC)
	if year < firstYear || year > lastYear || t.Day() != day || int(t.Month()) != month {
		d.add(line, c.column, "date is %s, must be a day of the years %d to %d", quote(c.text), firstYear, lastYear)
		return t, false
	}
	return t, true
}

// compactDate reads a date like 20140131 or 2014-01-31.
func (d *draft) compactDate(line int, c cell) (time.Time, bool) {
	for _, layout := range []string{"20060102", "2006-01-02"} {
		if t, err := time.Parse(layout, c.text); err == nil {
			return d.date(line, c, t.Year(), int(t.Month()), t.Day())
		}
	}
	d.add(line, c.column, "date is %s, must be like 20140131", quote(c.text))
	return time.Time{}, false
}

// next is the entry of the day of the next row; days between are entered as not known.
func (d *draft) next(t time.Time, line int, c cell) (int, bool) {
	if len(d.days) == 0 {
		d.first = t
	}
	i := int(t.Sub(d.first) / (24 * time.Hour))
	if i < len(d.days) {
		d.add(line, c.column, "%s does not come after the row before it", quote(c.text))
		return 0, false
	}
	d.grow(i)
	d.days[i].line = line
	return i, true
}

// grow makes the draft hold day i.
func (d *draft) grow(i int) {
	for len(d.days) <= i {
		var e entry
		for q := range e.values {
			e.values[q] = math.NaN()
		}
		d.days = append(d.days, e)
	}
}

// number reads a cell; false, with a finding, when it is none.
func (d *draft) number(line int, c cell) (float64, bool) {
	v, err := strconv.ParseFloat(c.text, 64)
	if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
		d.add(line, c.column, "%s is not a number", quote(c.text))
		return 0, false
	}
	return v, true
}

// put stores a value in the unit of facts after holding it against what is possible.
func (d *draft) put(i int, q quantity, v float64, line int, c cell) {
	f := facts[q]
	if !(v >= f.least && v <= f.most) {
		d.add(line, c.column, "%s is %s, must be %g to %g %s", f.name, quote(c.text), f.least, f.most, f.unit)
		return
	}
	d.days[i].values[q] = v
	d.read[q]++
}
