package weather

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"time"
)

// SnowEvent is one snowfall: its fresh depth, fallen evenly over the hours given (one when 0) from Time on.
type SnowEvent struct {
	Time   time.Time
	DepthM float64 // fresh [m]
	Hours  int
}

// snowStream keeps the random numbers of snow apart from those of other makers with the same seed.
const snowStream = 0x736e6f7731

// Snow falls in air below this [°C]; about half of precipitation is snow at +1 (US Army Corps of Engineers, Snow Hydrology, 1956).
const warmestSnowC = 1.0

// snowHours is how long a made snowfall lasts [h]; no source.
const snowHours = 8

// MakeSnowfalls makes dated snowfalls from the monthly sums of fresh snow [m] and numbers of days with snow, January first. Precipitation of the
// series is not looked at. In each month the days are those with cold hours (below +1 °C), the cloudiest more likely; depths are drawn from an
// exponential distribution and scaled, so that the sum of a month the series holds whole is exact. A month held in part gets its part of sum and days.
// Where a month has fewer cold days than asked, its snow falls on those; where it has none, none falls and a note says so.
func MakeSnowfalls(s Series, monthlyM, monthlyDays [12]float64, seed uint64) ([]SnowEvent, []Note) {
	random := rand.New(rand.NewPCG(seed, snowStream))
	var events []SnowEvent
	var noted Series
	noted.Start = s.Start
	for _, month := range s.calendarMonths() {
		first := s.HourStart(month.days[0].first)
		m := int(first.Month()) - 1
		share := min(1, float64(len(month.days))/float64(daysIn[m]))
		depth, wanted := monthlyM[m]*share, int(math.Round(monthlyDays[m]*share))
		if depth <= 0 {
			continue
		}
		made := s.snowDays(month, max(1, wanted), random)
		if len(made) == 0 {
			noted.note(Missing, "snowfall", month.days[0].first, 24*len(month.days), "%.2f m of %s not placed, no hour below %g °C", depth, first.Month(), warmestSnowC)
			continue
		}
		if len(made) < wanted {
			noted.note(Flagged, "snowfall", month.days[0].first, 24*len(month.days), "%d days with snow in place of %d in %s, no more are cold enough", len(made), wanted, first.Month())
		}
		shareOut(made, depth, random)
		events = append(events, made...)
	}
	return events, noted.Notes
}

// calendarMonth is the days of one month of a series.
type calendarMonth struct{ days []stretch }

func (s Series) calendarMonths() []calendarMonth {
	var out []calendarMonth
	last := time.Month(0)
	for _, d := range s.days() {
		if m := s.HourStart(d.first).Month(); m != last {
			out = append(out, calendarMonth{})
			last = m
		}
		out[len(out)-1].days = append(out[len(out)-1].days, d)
	}
	return out
}

// snowDays draws up to n days of the month for snow, without their depths, in order of time.
func (s Series) snowDays(month calendarMonth, n int, random *rand.Rand) []SnowEvent {
	type candidate struct {
		event SnowEvent
		rank  float64
	}
	var all []candidate
	for _, d := range month.days {
		if begin, hours, ok := s.coldStretch(d); ok {
			weight := 0.02 + s.meanCloud(d)*s.meanCloud(d)
			// drawing without replacement by weights: the largest ln(u)/w; Efraimidis and Spirakis 2006
			rank := math.Log(1-random.Float64()) / weight
			all = append(all, candidate{SnowEvent{Time: s.HourStart(begin), Hours: hours}, rank})
		}
	}
	slices.SortStableFunc(all, func(a, b candidate) int {
		switch {
		case a.rank > b.rank:
			return -1
		case a.rank < b.rank:
			return 1
		}
		return 0
	})
	events := make([]SnowEvent, min(n, len(all)))
	for i := range events {
		events[i] = all[i].event
	}
	slices.SortStableFunc(events, func(a, b SnowEvent) int { return a.Time.Compare(b.Time) })
	return events
}

// coldStretch is the longest run of hours of the day below warmestSnowC, cut to snowHours round its middle.
func (s Series) coldStretch(d stretch) (begin, hours int, ok bool) {
	run := 0
	for i := d.first; i < d.after; i++ {
		if s.Hours[i].AirC >= warmestSnowC {
			run = 0
			continue
		}
		run++
		if run > hours {
			begin, hours = i-run+1, run
		}
	}
	if hours > snowHours {
		begin, hours = begin+(hours-snowHours)/2, snowHours
	}
	return begin, hours, hours > 0
}

func (s Series) meanCloud(d stretch) float64 {
	sum := 0.0
	for i := d.first; i < d.after; i++ {
		sum += known(s.Hours[i].CloudShare)
	}
	return sum / float64(d.after-d.first)
}

// shareOut gives the snowfalls their depths, in sum depth [m].
func shareOut(events []SnowEvent, depth float64, random *rand.Rand) {
	sum := 0.0
	for i := range events {
		events[i].DepthM = 0.1 + random.ExpFloat64() // none is next to nothing
		sum += events[i].DepthM
	}
	for i := range events {
		events[i].DepthM *= depth / sum
	}
}

// WithSnowfalls returns s with the snowfalls of the list, made or dated by the user, in place of any it had, and the snow lying
// and albedo that follow (Pack). It fails when a snowfall lies outside the series or is no depth.
func (s Series) WithSnowfalls(events []SnowEvent) (Series, error) {
	s = s.Clone()
	for i := range s.Hours {
		s.Hours[i].SnowfallM = 0
	}
	total := 0.0
	for _, e := range events {
		if !(e.DepthM > 0 && e.DepthM <= 3) || e.Hours < 0 || e.Hours > 240 {
			return Series{}, fmt.Errorf("snowfall of %s: %g m in %d h, must be above 0 to 3 m in at most 240 h", stamp(e.Time), e.DepthM, e.Hours)
		}
		begin, ok := s.Index(e.Time.Add(time.Nanosecond))
		hours := max(1, e.Hours)
		if !ok || begin+hours > len(s.Hours) {
			return Series{}, fmt.Errorf("snowfall of %s for %d h: outside the weather, %s to %s", stamp(e.Time), hours, stamp(s.Start), stamp(s.End()))
		}
		for i := begin; i < begin+hours; i++ {
			s.Hours[i].SnowfallM += e.DepthM / float64(hours)
		}
		total += e.DepthM
	}
	s.note(Changed, "snowfall", -1, len(s.Hours), "%d dated snowfalls, %.2f m in all", len(events), total)
	return s.WithPack(GroundUnderSnow{}), nil
}

// WithSnowNormals returns s with snowfalls made by MakeSnowfalls and the snow lying and albedo that follow.
func (s Series) WithSnowNormals(monthlyM, monthlyDays [12]float64, seed uint64) Series {
	events, notes := MakeSnowfalls(s, monthlyM, monthlyDays, seed)
	out, err := s.WithSnowfalls(events)
	if err != nil {
		panic("weather: a made snowfall does not fit its series: " + err.Error())
	}
	out.Notes = append(out.Notes, notes...)
	return out
}
