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
	return s.Between(w.Start, w.Start.AddDate(0, 0, len(w.days))), nil
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
