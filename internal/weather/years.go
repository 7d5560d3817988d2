package weather

import (
	"fmt"
	"math"
	"math/rand/v2"
	"time"

	"suncellar/internal/sun"
)

// Years are arbitrarily many plausible years of one climate, where Typical is a single one whose months meet the normals. Months are free about the normals here: over
// many years their means, sun, wet days, precipitation and wind are the normals', a year's are its own.
//
// A year runs from 1 July to 30 June, so that its winter has no seam; it is dated 2001 to 2002, without 29 February, and complete (Complete). What comes together:
//
//   - wet and dry days as in Typical, with the share of wet days exact in the long run (drawnShare)
//   - lowest, highest, cloud and wind: means that depend on wet or dry, deviations (deviation.go) times residuals with the memory of stations (stationA):
//     dull days are wetter, their lows higher and their highs lower than those of clear days
//   - months: an anomaly of lows and highs alike, AR(1) from month to month, on straight lines between the middles of months. It makes up what the
//     chain of days lacks of the deviation of monthly means: Spread.MonthK, or where that is not known what the published chain of Sommer and Kaplan has (chain.go)
//   - clearness: each day's cloud as a share of the days that are cloudier, in the month's distribution (clearnessSpread)
//   - precipitation: gamma, not scaled to a sum; snowfall as in Typical
//   - where the lowest of the year is given, deviations are stretched until the mean of the lowest of many years meets it, as in Typical
//
// Left out: skew of temperatures, heavy tails of rain, months that are wet or dull as well as cold beyond what the days bring, any trend.
//
// Source: Richardson 1981 and Sommer and Kaplan 2017 as in generator.go and chain.go; the anomaly of months as remedy for too little variance between years after Wilks and Wilby
// 1999. How well they do is held against records in docs/validation.md; what an answer should add for it: MadeWinters.
//
// A Years does not change; Year may be called from many goroutines.
type Years struct {
	normals Normals
	spread  Spread
	place   Place
	seed    uint64

	start  time.Time
	suns   []sun.Span // over every hour
	extra  []float64  // outside the air on each day [Wh/m2]
	clear  []float64  // global of the cloudless sky over every hour [W/m2]
	shape  []airShape // of every hour
	shares [12]spreadOfMonth
	means  [365]dayMeans // the normals on each day, from 1 July
	slow   slowMemory
	bend   [12]float64 // of the day's shape (airAt)
	lift   [12][2]float64
	breeze [12]float64 // factor of wind
	damp   [12]float64 // added to the dew point [K]
	factor float64     // by which deviations are stretched in the coldest month
	missK  float64     // by how much trial years missed the normals' lows and highs before the last correction [K]
	notes  []Note      // those of every year
}

// firstMonth is that in which a year begins, 0 for January.
const firstMonth = 6

// mostMissK is up to which the long-run means may miss the normals without being told [K].
const mostMissK = 0.1

// yearsStream keeps the years' random numbers apart from those of other makers with the same seed.
const yearsStream = 0x79656172733031

// NewYears prepares the years of a climate: the sun's path, the distributions, and by a fixed set of trial years the small corrections that bring the
// long-run means to the normals. The same input gives the same years. It takes some tenths of a second, a year then some milliseconds.
func NewYears(n Normals, spread Spread, place Place, seed uint64) (*Years, error) {
	if err := n.Check(); err != nil {
		return nil, err
	}
	if err := spread.Check(); err != nil {
		return nil, err
	}
	if !place.PositionKnown || !place.ElevationKnown {
		return nil, fmt.Errorf("years from normals: latitude, longitude and elevation must be known")
	}
	zone := Zone(time.Duration(math.Round(place.LongitudeDeg/15)) * time.Hour)
	y := &Years{normals: n, spread: spread, place: place, seed: seed, slow: slowMemoryOf(), factor: 1,
		start: time.Date(nominalYear, firstMonth+1, 1, 0, 0, 0, 0, zone)}
	if err := y.sky(); err != nil {
		return nil, err
	}
	low, high, wind := fromJuly(daily(n.MeanLowC)), fromJuly(daily(n.MeanHighC)), fromJuly(daily(n.WindOrAssumed()))
	for d := range y.means {
		y.means[d] = dayMeans{lowC: low[d], highC: high[d], windMS: max(0.3, wind[d])}
	}
	for m := range y.breeze {
		y.breeze[m] = 1
	}
	y.months()
	y.settle()
	y.tell()
	return y, nil
}

// sky prepares what all years share of the sun.
func (y *Years) sky() error {
	s := y.empty()
	y.suns = sunHours(s)
	m := maker{series: &s, suns: y.suns, days: make([]dayWeather, len(y.means))}
	y.extra = m.extra()
	clearness, err := maker{series: &s, suns: fromJanuary(y.suns)}.clearness(y.normals)
	if err != nil {
		return err
	}
	c := completion{&s, y.suns, nil}
	c.setPressure()
	y.clear = make([]float64, len(s.Hours))
	for i := range y.clear {
		y.clear[i] = c.clearGlobal(i)
	}
	y.shape = shapesOf(m.solarShift())
	for k := range y.shares {
		y.shares[k].clearness, y.shares[k].sun = clearness[k], spreadOf(clearness[k])
	}
	return nil
}

// empty is a year of which nothing is known.
func (y *Years) empty() Series {
	s := emptySeries(y.start, hoursOfYear)
	s.Place, s.TypicalYear = y.place, true
	return s
}

// Year returns year k, 0 or more; the same for the same k, whichever other years were asked for.
func (y *Years) Year(k int) (Series, error) {
	if k < 0 {
		return Series{}, fmt.Errorf("made year is %d, must be 0 or more", k)
	}
	seed := y.seed ^ scattered(uint64(k)+1)
	random := rand.New(rand.NewPCG(seed, yearsStream))
	made := y.days(random)
	s := y.empty()
	s.Name = fmt.Sprintf("made year %d, seed %d", k, y.seed)
	s.Notes = append(s.Notes, Note{Kind: Made, What: "all", Hours: len(s.Hours), From: y.start,
		Text: fmt.Sprintf("year %d of many plausible ones from monthly normals, seed %d; no observed weather", k, y.seed)})
	s.Notes = append(s.Notes, y.notes...)
	m := maker{series: &s, suns: y.suns, days: made.days, random: random}
	m.sun()
	air := make([]float64, len(s.Hours))
	y.air(made.days, air)
	for i := range air {
		s.Hours[i].AirC = air[i]
	}
	y.humidity(made.days, s.Hours)
	y.windAndRain(made.days, s.Hours, random)
	completion{&s, y.suns, y.clear}.all()
	if allZero(y.normals.SnowfallM) {
		return s, nil
	}
	return s.WithSnowNormals(y.normals.SnowfallM, y.normals.SnowDays, seed), nil
}

// scattered turns neighbouring numbers into ones that share nothing. Source: Steele, Lea and Flood, Fast splittable pseudorandom number generators, 2014.
func scattered(x uint64) uint64 {
	x *= 0x9e3779b97f4a7c15
	x = (x ^ x>>30) * 0xbf58476d1ce4e5b9
	x = (x ^ x>>27) * 0x94d049bb133111eb
	return x ^ x>>31
}

// tell makes the notes of every year: what the normals lack and what was taken for it.
func (y *Years) tell() {
	s := Series{Start: y.start}
	whole := func(kind NoteKind, what, format string, args ...any) {
		s.note(kind, what, -1, hoursOfYear, format, args...)
	}
	if !y.normals.YearLowestKnown {
		whole(Flagged, "air temperature", "the lowest of the year is not given: cold spells of such years are too mild")
	} else {
		if y.factor == leastStretch || y.factor == mostStretch {
			whole(Flagged, "air temperature", "the lowest of the year, %.1f °C, is not met: deviations would have to be stretched beyond %g to %g times", y.normals.YearLowestC, leastStretch, mostStretch)
		}
		whole(Made, "air temperature", "deviations of days of the coldest month stretched %.2f times, for a mean lowest of the year of %.1f °C", y.factor, y.normals.YearLowestC)
	}
	if y.missK > mostMissK {
		whole(Flagged, "air temperature", "mean lows or highs are missed by up to %.1f K: days of so small a swing do not go with what days and months differ", y.missK)
	}
	if allZero(y.spread.MonthK) {
		whole(Assumed, "air temperature", "deviation of the months' means between years not given, taken from the published memory of days: %.1f K in January, %.1f K in July",
			y.shares[0].monthK, y.shares[6].monthK)
	}
	if allZero(y.normals.WindMS) {
		whole(Assumed, "wind", "mean of 2 m/s in every month")
	}
	if len(y.normals.DewPointC) == 0 {
		whole(Assumed, "dew point", "near the lowest air temperature of the day")
	}
	if allZero(y.normals.SnowfallM) {
		whole(Missing, "snowfall", "not given, none is made")
	}
	s.Notes = append(s.Notes, MadeWinters.Note())
	y.notes = s.Notes
}
