package weather

import (
	"math"
	"time"
)

// MonthStatistics is one calendar month of a series. A sum holds only known hours.
type MonthStatistics struct {
	Year        int
	Month       time.Month
	Hours       int
	MeanC       float64 // mean air temperature [°C]
	LowestC     float64 // [°C]
	HighestC    float64 // [°C]
	MeanLowC    float64 // mean of the days' lowest [°C]
	MeanHighC   float64 // mean of the days' highest [°C]
	GlobalKWhM2 float64 // sum [kWh/m2]
	BeamKWhM2   float64 // sum on a plane facing the sun [kWh/m2]
	WindMS      float64 // mean [m/s]
	RainMM      float64 // sum [mm]
	SnowfallM   float64 // sum of fresh depths [m]
}

// Months returns the statistics of every calendar month the series touches, in order.
func (s Series) Months() []MonthStatistics {
	var out []MonthStatistics
	var days int
	for _, d := range s.days() {
		year, month, _ := s.HourStart(d.first).Date()
		if n := len(out); n == 0 || out[n-1].Month != month || out[n-1].Year != year {
			finishMonth(out, days)
			out = append(out, MonthStatistics{Year: year, Month: month, LowestC: math.Inf(1), HighestC: math.Inf(-1)})
			days = 0
		}
		days++
		addDay(&out[len(out)-1], s.Hours[d.first:d.after])
	}
	finishMonth(out, days)
	return out
}

// addDay sums a day; means are sums until finishMonth.
func addDay(m *MonthStatistics, hours []Hour) {
	low, high := math.Inf(1), math.Inf(-1)
	for _, h := range hours {
		m.Hours++
		m.MeanC += h.AirC
		low, high = min(low, h.AirC), max(high, h.AirC)
		m.GlobalKWhM2 += known(h.GlobalWM2) / 1e3
		m.BeamKWhM2 += known(h.BeamWM2) / 1e3
		m.WindMS += h.WindMS
		m.RainMM += known(h.RainMM)
		m.SnowfallM += known(h.SnowfallM)
	}
	m.MeanLowC += low
	m.MeanHighC += high
	m.LowestC, m.HighestC = min(m.LowestC, low), max(m.HighestC, high)
}

func finishMonth(months []MonthStatistics, days int) {
	if len(months) == 0 {
		return
	}
	m := &months[len(months)-1]
	m.MeanC /= float64(m.Hours)
	m.WindMS /= float64(m.Hours)
	m.MeanLowC /= float64(days)
	m.MeanHighC /= float64(days)
}

// known is v, or 0 when it is not known.
func known(v float64) float64 {
	if math.IsNaN(v) {
		return 0
	}
	return v
}

// DegreeHoursBelow returns the sum of how far the air lies below limitC [°C], over the hours, in K h.
func (s Series) DegreeHoursBelow(limitC float64) float64 {
	sum := 0.0
	for _, h := range s.Hours {
		sum += max(0, limitC-h.AirC)
	}
	return sum
}

// Coldest returns the stretch of n hours with the lowest mean air temperature: where it begins and that mean [°C]. False when
// the series is shorter. 72 h is the cold that a heavy house feels.
func (s Series) Coldest(n int) (from time.Time, meanC float64, ok bool) {
	if n <= 0 || n > len(s.Hours) {
		return time.Time{}, 0, false
	}
	sums := make([]float64, len(s.Hours)+1)
	for i, h := range s.Hours {
		sums[i+1] = sums[i] + h.AirC
	}
	first := 0
	for i := 0; i+n < len(sums); i++ {
		if sums[i+n]-sums[i] < sums[first+n]-sums[first] {
			first = i
		}
	}
	return s.HourStart(first), (sums[first+n] - sums[first]) / float64(n), true
}

// DullRun is a run of dull days.
type DullRun struct {
	From      time.Time // midnight at which it begins
	Days      int
	Clearness float64 // global over extraterrestrial, of the whole run
	MeanC     float64 // mean air temperature [°C]
}

// LongestDullRun returns the longest run of whole days whose clearness (global over what arrives outside the air)
// stays below limit, 0.25 for a dull day; of equals the coldest. Days 0 when there is none or the place is not known.
func (s Series) LongestDullRun(limit float64) DullRun {
	suns := sunHours(s)
	var best, run DullRun
	var got, extra, warmth float64
	for _, d := range s.days() {
		if suns == nil || d.after-d.first != 24 {
			run = DullRun{}
			continue
		}
		dayGot, dayExtra, dayWarmth := 0.0, 0.0, 0.0
		for i := d.first; i < d.after; i++ {
			dayGot += s.Hours[i].GlobalWM2
			dayExtra += extraLevelWM2(suns[i])
			dayWarmth += s.Hours[i].AirC / 24
		}
		if !(dayGot <= limit*dayExtra) {
			run = DullRun{}
			continue
		}
		if run.Days == 0 {
			run.From, got, extra, warmth = s.HourStart(d.first), 0, 0, 0
		}
		run.Days++
		got, extra, warmth = got+dayGot, extra+dayExtra, warmth+dayWarmth
		run.MeanC = warmth / float64(run.Days)
		if extra > 0 {
			run.Clearness = got / extra
		}
		if run.Days > best.Days || (run.Days == best.Days && run.MeanC < best.MeanC) {
			best = run
		}
	}
	return best
}
