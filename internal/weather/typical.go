package weather

import (
	"fmt"
	"math"
	"math/rand/v2"
	"time"

	moist "suncellar/internal/air"
	"suncellar/internal/sun"
)

// generatorStream keeps the generator's random numbers apart from those of other makers with the same seed.
const generatorStream = 0x7765617468657231

// Typical makes an hourly year from monthly normals; the same seed gives the same year. It is dated 2001, in the whole-hour zone nearest the
// longitude, and complete (Complete). Its monthly mean lows and highs meet the normals within 0.1 K, its monthly
// means within 0.3 K, its monthly sun within 5 %; wet days, rain and snow sums as the normals say.
//
// Daily weather after Sommer and Kaplan 2017 (generator.go), daily clearness after Bendt et al. 1981 and hourly sun after Aguiar and
// Collares-Pereira 1992 (clearness.go), hourly temperature after Campbell and Norman 1998 (hourly.go). The length
// of its cold spells is that of the generator, not of the place, and their depth only meets the place when the lowest of the
// year is given: where ten winters of observations exist, they are better.
func Typical(n Normals, place Place, seed uint64) (Series, error) {
	if err := n.Check(); err != nil {
		return Series{}, err
	}
	if !place.PositionKnown || !place.ElevationKnown {
		return Series{}, fmt.Errorf("weather from normals: latitude, longitude and elevation must be known")
	}
	zone := Zone(time.Duration(math.Round(place.LongitudeDeg/15)) * time.Hour)
	s := emptySeries(time.Date(nominalYear, 1, 1, 0, 0, 0, 0, zone), hoursOfYear)
	s.Name, s.Place, s.TypicalYear = fmt.Sprintf("year from normals, seed %d", seed), place, true
	m := maker{series: &s, suns: sunHours(s), random: rand.New(rand.NewPCG(seed, generatorStream))}
	clearness, err := m.clearness(n)
	if err != nil {
		return Series{}, err
	}
	m.days = chainDays(n, clearness, m.random)
	clearDays(m.days, clearness, m.extra())
	m.sun()
	m.air(n)
	m.dewPoint(n)
	m.windAndRain(n)
	s.note(Made, "all", 0, len(s.Hours), "from monthly normals, seed %d; no observed weather", seed)
	s, err = Complete(s, place)
	if err != nil || allZero(n.SnowfallM) {
		return s, err
	}
	return s.WithSnowNormals(n.SnowfallM, n.SnowDays, seed), nil
}

// maker fills a year.
type maker struct {
	series *Series
	suns   []sun.Span
	days   []dayWeather
	random *rand.Rand
}

// extra is what arrives outside the air on each day [Wh/m2].
func (m maker) extra() []float64 {
	out := make([]float64, 365)
	for i, s := range m.suns {
		out[i/24] += extraLevelWM2(s)
	}
	return out
}

// leastExtra is the daily extraterrestrial sun below which a month's clearness says nothing [Wh/m2].
const leastExtra = 50.0

// clearness is the mean clearness of each month; from daily sun where that is given.
func (m maker) clearness(n Normals) ([12]float64, error) {
	var extra [365]float64
	copy(extra[:], m.extra())
	means := monthMeans(extra)
	out := n.Clearness
	for month := range out {
		if !allZero(n.DailySunKWhM2) {
			out[month] = n.DailySunKWhM2[month] * 1e3 / max(1e-9, means[month])
		}
		if means[month] < leastExtra {
			out[month] = 0.4 // the sun hardly rises, what is taken does not count
		}
		if !(out[month] >= 0.08 && out[month] <= 0.75) {
			return out, fmt.Errorf("normals of month %d: clearness is %.3f (%.2f kWh/m2 a day arrive outside the air), must be 0.08 to 0.75",
				month+1, out[month], means[month]/1e3)
		}
	}
	return out, nil
}

// sun fills global; the split is left to Complete.
func (m maker) sun() {
	y := 0.0
	for d := range m.days {
		for i, g := range hourlySun(m.days[d].clearness, m.suns[d*24:d*24+24], &y, m.random) {
			m.series.Hours[d*24+i].GlobalWM2 = g
		}
	}
}

// windAndRain holds the wind of a day around its noon on straight lines, scaled to the month's mean, and lets the day's rain
// fall evenly over six hours.
func (m maker) windAndRain(n Normals) {
	const rainHours = 6
	want := n.WindOrAssumed()
	var wind [365]float64
	for d := range m.days {
		wind[d] = m.days[d].windMS
	}
	means := monthMeans(wind)
	month := monthOf()
	for d := range wind {
		wind[d] *= want[month[d]] / means[month[d]]
	}
	for i := range m.series.Hours {
		h := &m.series.Hours[i]
		h.WindMS = overNoons(wind[:], i)
		h.PressurePa = moist.StandardPressure(m.series.Place.ElevationM)
		h.RainMM = 0
	}
	for d, day := range m.days {
		begin := d*24 + m.random.IntN(24-rainHours+1)
		for i := begin; i < begin+rainHours; i++ {
			m.series.Hours[i].RainMM = day.rainMM / rainHours
		}
	}
}

// overNoons joins daily values, each at noon, by straight lines round the year; the value at the end of hour i.
func overNoons(days []float64, i int) float64 {
	t := float64(i+1)/24 - 0.5
	d := math.Floor(t)
	n := len(days)
	a, b := days[(int(d)+n)%n], days[(int(d)+1)%n]
	return a + (b-a)*(t-d)
}
