package record

import (
	"fmt"
	"slices"
	"time"

	"suncellar/internal/weather"
)

// LongestGap is the longest run of days without lowest or highest air that a winter may have; weather.FromDays bridges as many.
const LongestGap = 3

// FewWinters is the number of winters below which a record says little about what comes once in ten years; own judgement.
const FewWinters = 10

// Winters is the winters of a record from one day of the year to another.
type Winters struct {
	List    []Winter
	LeftOut []LeftOut
	// Few says that there are fewer winters than FewWinters, so that a wider band is due; empty where there are enough.
	Few string

	record      *Record
	from, until weather.MonthDay
}

// LeftOut is a winter that the record holds in part, or with a gap too long.
type LeftOut struct{ Name, Reason string }

// Winter is one winter: observed days one after another, or blocks of them.
type Winter struct {
	Name   string    // its years, "1983-84" or "1984"; "blocks 7"
	Start  time.Time // midnight of the first day; of blocks in the nominal year 2001
	Blocks []Block   // nil for an observed one

	record *Record
	days   []int           // of the record, in order
	joined *weather.Series // of a typical year, joined at its end
}

// Block is days that follow one another in the record.
type Block struct {
	From time.Time // midnight of the first day
	Days int
}

// Winters cuts the record into winters from 00:00 of the day from to 24:00 of the day until, which may lie in the next year. Those that it holds in part, or
// with more than LongestGap days without air in a row, are left out and named. A typical year gives one winter, joined at its end.
func (r *Record) Winters(from, until weather.MonthDay) (Winters, error) {
	for _, d := range []weather.MonthDay{from, until} {
		if err := d.Check(); err != nil {
			return Winters{}, fmt.Errorf("winters of %s: %w", r.Name, err)
		}
	}
	w := Winters{record: r, from: from, until: until}
	if r.count() == 0 {
		return Winters{}, fmt.Errorf("winters of %s: it has no whole day", r.Name)
	}
	if r.Hourly != nil && r.Hourly.TypicalYear {
		s, err := r.Hourly.Winter(from, until)
		if err != nil {
			return Winters{}, err
		}
		w.List = []Winter{{Name: "typical", Start: s.Start, joined: &s}}
	} else {
		gaps := r.gaps()
		for year := r.Start.Year() - 1; year <= r.Date(r.count()-1).Year(); year++ {
			w.cut(year, gaps)
		}
	}
	if len(w.List) < FewWinters {
		w.Few = fmt.Sprintf("%s has %d whole winters: fewer than %d say little about what comes once in ten years, and a wider band is due", r.Name, len(w.List), FewWinters)
	}
	return w, nil
}

// cut adds the winter that begins in a year, or says why not.
func (w *Winters) cut(year int, gaps []gap) {
	r := w.record
	first, after, name := w.span(year)
	if after <= 0 || first >= r.count() {
		return
	}
	if first < 0 || after > r.count() {
		w.leaveOut(name, "the record has %d of its %d days", min(after, r.count())-max(first, 0), after-first)
		return
	}
	for _, g := range gaps {
		if g.after <= first || g.first >= after {
			continue
		}
		if r.tooLong(g) {
			w.leaveOut(name, "%d days without air temperature from %s", g.after-g.first, r.Date(g.first).Format(time.DateOnly))
			return
		}
	}
	winter := Winter{Name: name, Start: r.Date(first), record: r}
	for i := first; i < after; i++ {
		winter.days = append(winter.days, i)
	}
	w.List = append(w.List, winter)
}

func (w *Winters) leaveOut(name, format string, args ...any) {
	w.LeftOut = append(w.LeftOut, LeftOut{name, fmt.Sprintf(format, args...)})
}

// span is the days of the record, perhaps beyond its ends, of the winter that begins in a year, and the winter's name.
func (w *Winters) span(year int) (first, after int, name string) {
	last, name := year, fmt.Sprintf("%d", year)
	if w.until.Month < w.from.Month || (w.until.Month == w.from.Month && w.until.Day < w.from.Day) {
		last++
		name = fmt.Sprintf("%d-%02d", year, last%100)
	}
	return w.record.dayOf(year, w.from), w.record.dayOf(last, w.until) + 1, name
}

// dayOf is the number of a day since the record's first.
func (r *Record) dayOf(year int, d weather.MonthDay) int {
	return int(time.Date(year, d.Month, d.Day, 0, 0, 0, 0, r.Start.Location()).Sub(r.Start) / (24 * time.Hour))
}

// count is how many whole days the record has.
func (r *Record) count() int {
	if r.Hourly == nil {
		return len(r.Days)
	}
	return max(0, len(r.Hourly.Hours)-r.firstHour()) / 24
}

// firstHour is the hour of an hourly record at which its first whole day begins.
func (r *Record) firstHour() int { return int(r.Start.Sub(r.Hourly.Start) / time.Hour) }

// gap is days first to after-1, all without lowest or highest air.
type gap struct{ first, after int }

// gaps are the runs of days without air. A day of hours with any hour open is one, and counts as too long: readers have bridged what can be bridged.
func (r *Record) gaps() []gap {
	var out []gap
	for i := range r.count() {
		if r.airKnown(i) {
			continue
		}
		if n := len(out); n > 0 && out[n-1].after == i {
			out[n-1].after++
		} else {
			out = append(out, gap{i, i + 1})
		}
	}
	return out
}

func (r *Record) airKnown(i int) bool {
	if r.Hourly == nil {
		return known(r.Days[i].LowC) && known(r.Days[i].HighC)
	}
	first := r.firstHour() + 24*i
	return !slices.ContainsFunc(r.Hourly.Hours[first:first+24], func(h weather.Hour) bool { return !known(h.AirC) })
}

// tooLong tells whether the gap cannot be bridged.
func (r *Record) tooLong(g gap) bool {
	return r.Hourly != nil || g.after-g.first > LongestGap || g.first == 0 || g.after == r.count()
}
