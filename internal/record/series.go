package record

import (
	"fmt"
	"slices"
	"time"

	"suncellar/internal/weather"
)

// Series is the winter hour by hour: made by weather.FromDays of a daily record, the record's own hours otherwise. What neither knows is
// NaN: see weather.Complete.
func (w Winter) Series() (weather.Series, error) {
	var s weather.Series
	var err error
	switch {
	case w.joined != nil:
		return w.joined.Clone(), nil
	case w.record.Hourly != nil:
		s = w.ofHours()
	default:
		s, err = w.ofDays()
	}
	if err != nil {
		return weather.Series{}, fmt.Errorf("winter %s of %s: %w", w.Name, w.record.Name, err)
	}
	s.Name = w.record.Name + ", " + w.Name
	if w.Blocks != nil {
		s.TypicalYear = true // the dates are nominal
		s.Notes = append(s.Notes, weather.Note{Kind: weather.Made, What: "winter", Hours: len(s.Hours),
			Text: fmt.Sprintf("of %d blocks of observed days, the first from %s; the seams are no weather, and spells longer than a block come too seldom", len(w.Blocks), w.Blocks[0].From.Format(time.DateOnly))})
	}
	return s, nil
}

// Longest is the longest run of whole days of the record without a gap that cannot be bridged, hour by hour: an hourly record as it is where it has none.
func (r *Record) Longest() (weather.Series, error) {
	if r.Hourly != nil && len(r.gaps()) == 0 {
		return r.Hourly.Clone(), nil
	}
	first, longest := 0, gap{}
	for _, g := range append(r.gaps(), gap{r.count(), r.count()}) {
		if g.first < r.count() && !r.tooLong(g) {
			continue
		}
		if g.first-first > longest.after-longest.first {
			longest = gap{first, g.first}
		}
		first = g.after
	}
	if longest.first == longest.after {
		return weather.Series{}, fmt.Errorf("record %s has no whole day whose air is known", r.Name)
	}
	w := Winter{Name: fmt.Sprintf("%s to %s", r.Date(longest.first).Format(time.DateOnly), r.Date(longest.after-1).Format(time.DateOnly)), Start: r.Date(longest.first), record: r}
	for i := longest.first; i < longest.after; i++ {
		w.days = append(w.days, i)
	}
	s, err := w.Series()
	if left := r.count() - len(w.days); err == nil && left > 0 {
		s.Notes = append(s.Notes, weather.Note{Kind: weather.Missing, What: "days", Hours: 24 * left,
			Text: fmt.Sprintf("of the record lie before or after gaps too long to be bridged and are left out; this is the longest of its whole runs, %s", w.Name)})
	}
	return s, err
}

// Years is the record from the first to the last of the years given, cut to what it has.
func (r *Record) Years(first, last int) (*Record, error) {
	from, after := max(0, r.dayOf(first, newYear)), min(r.count(), r.dayOf(last+1, newYear))
	if from >= after {
		return nil, fmt.Errorf("record %s runs from %s to %s and has nothing of %d to %d", r.Name, r.Date(0).Format(time.DateOnly), r.Date(r.count()-1).Format(time.DateOnly), first, last)
	}
	out := *r
	out.Start = r.Date(from)
	if r.Hourly == nil {
		out.Days = r.Days[from:after]
		return &out, nil
	}
	s := r.Hourly.Between(out.Start, r.Date(after))
	out.Hourly = &s
	return &out, nil
}

var newYear = weather.MonthDay{Month: time.January, Day: 1}

// ofHours takes the hours of the days.
func (w Winter) ofHours() weather.Series {
	h := w.record.Hourly
	s := weather.Series{Place: h.Place, Start: w.Start, Notes: slices.Clone(h.Notes), Hours: make([]weather.Hour, 0, 24*len(w.days))}
	for _, d := range w.days {
		first := w.record.firstHour() + 24*d
		s.Hours = append(s.Hours, h.Hours[first:first+24]...)
	}
	return s
}

// ofDays makes hours of the days, with the days before and after, so that the first night begins from the day that was, and gaps at the ends are bridged.
func (w Winter) ofDays() (weather.Series, error) {
	before, after := w.record.before(w.days[0]), w.record.after(w.days[len(w.days)-1])
	list := slices.Clone(before)
	for _, d := range w.days {
		list = append(list, w.record.Days[d])
	}
	list = append(list, after...)
	s, err := weather.FromDays(w.Start.AddDate(0, 0, -len(before)), w.record.Place, list)
	if err != nil {
		return weather.Series{}, err
	}
	s = s.Between(w.Start, w.Start.AddDate(0, 0, len(w.days)))
	s.Notes = append(slices.Clone(w.record.Notes), s.Notes...)
	return s, nil
}

// before is the days before day i back to the next one whose air is known; day i again where there is none.
func (r *Record) before(i int) []weather.Day {
	for first := i - 1; first >= max(0, i-LongestGap); first-- {
		if r.airKnown(first) {
			return r.Days[first:i]
		}
	}
	return r.Days[i : i+1]
}

// after is the days after day i up to the next one whose air is known; day i again where there is none.
func (r *Record) after(i int) []weather.Day {
	for last := i + 1; last < min(len(r.Days), i+1+LongestGap); last++ {
		if r.airKnown(last) {
			return r.Days[i+1 : last+1]
		}
	}
	return r.Days[i : i+1]
}
