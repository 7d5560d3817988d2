package weather

import "time"

// stretch is the hours first to after-1 of a series.
type stretch struct{ first, after int }

// days cuts the series at midnights of its own zone; the first and last may be shorter than 24 h.
func (s Series) days() []stretch {
	var out []stretch
	for i := 0; i < len(s.Hours); {
		start := s.HourStart(i)
		y, m, d := start.Date()
		midnight := time.Date(y, m, d+1, 0, 0, 0, 0, start.Location())
		after := min(len(s.Hours), i+max(1, int(midnight.Sub(start).Hours()+0.999)))
		out = append(out, stretch{i, after})
		i = after
	}
	return out
}
