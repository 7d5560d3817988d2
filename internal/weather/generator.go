package weather

import (
	"math"
	"math/rand/v2"
)

// The daily generator: wet and dry days as a chain of second order, and lowest and highest temperature, cloud and wind as means
// that depend on wet or dry plus residuals that remember the day before.
//
// Source of structure and coefficients: Sommer and Kaplan, A globally calibrated scheme for generating daily meteorology from
// monthly statistics: Global-WGEN v1.0, Geoscientific Model Development 10:3771, 2017; wet days
// after Geng, Penning de Vries and Supit, Agricultural and Forest Meteorology 36:363, 1986.
//
// Left out: the heavy tail of rain (the month's sum is forced anyway) and their correction of the wind's bias, for which the
// deviation is taken in root space by first order, and the month's mean is forced.

// residuals are the standardised deviations of a day: lowest, highest, cloud, root of wind.
type residuals [4]float64

// chainA is what a day keeps of the day before, chainB what is new; rows as residuals. With rows and columns changed the variance of
// the lowest temperature would be 3.5 in place of 1: a test holds the stationary variance at 1.
var (
	chainA = [4][4]float64{
		{0.913437, 0.032532, -0.020658, 0.000573},
		{0.488761, 0.137304, -0.07251, -0.046058},
		{-0.00199, -0.04573, 0.591761, 0.026439},
		{0.010905, -0.044171, -0.018568, 0.666672},
	}
	chainB = [4][4]float64{
		{0.361854, 0, 0, 0},
		{0.11441, 0.802987, 0, 0},
		{0.144862, -0.060622, 0.782791, 0},
		{0.080593, -0.015829, 0.066186, 0.736713},
	}
)

// next is the day after: A r + B e, e independent standard normal.
func (r residuals) next(random *rand.Rand) residuals { return r.nextBy(&chainA, &chainB, random) }

// nextBy is the day after by the chain of a and b.
func (r residuals) nextBy(a, b *[4][4]float64, random *rand.Rand) residuals {
	var e, out residuals
	for i := range e {
		e[i] = random.NormFloat64()
	}
	for i := range out {
		for j := range e {
			out[i] += a[i][j]*r[j] + b[i][j]*e[j]
		}
	}
	return out
}

// dayWeather is one day out of the generator.
type dayWeather struct {
	wet         bool
	lowC, highC float64 // [°C]
	cloud       float64 // 0 to 1; ranks the days by sun
	windMS      float64 // [m/s]
	rainMM      float64 // [mm]
	clearness   float64 // global over extraterrestrial of the day
}

// chainDays makes the days of a year from the normals; clearness is the monthly mean [1].
func chainDays(n Normals, clearness [12]float64, random *rand.Rand) []dayWeather {
	const warmUp = 90 // days for the chain to forget its start: 0.93^90 is 0.1 %
	low, high, wind := daily(n.MeanLowC), daily(n.MeanHighC), daily(n.WindOrAssumed())
	month := monthOf()
	days := make([]dayWeather, 365)
	wetDays(days, n, random)
	var r residuals
	for range warmUp {
		r = r.next(random)
	}
	for d := range days {
		r = r.next(random)
		m := month[d]
		days[d] = dayFrom(days[d], dayMeans{low[d], high[d], meanCloud(clearness[m]), max(0.3, wind[d])}, r)
	}
	rainOf(days, n, random)
	return days
}

// meanCloud is the mean cloud of a month from its clearness: Ångström's line, FAO paper 56, eq. 35.
func meanCloud(clearness float64) float64 { return clamp(1-(clearness-0.25)/0.5, 0.02, 0.98) }

// dayMeans are the normals on one day.
type dayMeans struct {
	lowC, highC float64 // [°C]
	cloud       float64 // 0 to 1
	windMS      float64 // [m/s]
}

// wetShare holds the lines by which the means shift on wet and on dry days: offset and slope.
type wetShare struct {
	low, high [2]float64
	wind      float64 // factor
	cloudA    float64 // curvature of cloud
	cloudSD   float64 // of c (1-c)
	windSD    [3]float64
}

var (
	onWet = wetShare{[2]float64{1.164653, 0.955787}, [2]float64{-0.586296, 0.948669}, 1.092938, -0.738271, 0.981917,
		[3]float64{0.81840997, -0.12633931, 0.00933591}}
	onDry = wetShare{[2]float64{-0.528308, 1.020964}, [2]float64{0.386508, 1.0061}, 0.945229, 0.420534, 1.041732,
		[3]float64{1.08596114, -0.24073323, 0.02216454}}
)

// dayFrom is the day's weather from its means and residuals.
func dayFrom(day dayWeather, mean dayMeans, r residuals) dayWeather {
	on, lowSD, highSD := onDry, lowDrySD, highDrySD
	if day.wet {
		on, lowSD, highSD = onWet, lowWetSD, highWetSD
	}
	low, high := on.low[0]+on.low[1]*mean.lowC, on.high[0]+on.high[1]*mean.highC
	day.lowC = low + r[0]*lowSD.at(low)
	day.highC = max(day.lowC+1, high+r[1]*highSD.at(high))
	c := on.cloudOf(mean.cloud)
	day.cloud = c + r[2]*on.cloudSD*c*(1-c)
	day.windMS = on.windOf(mean.windMS, r[3])
	return day
}

// cloudOf is the mean cloud of such days where that of all days is mean.
func (on wetShare) cloudOf(mean float64) float64 {
	a := on.cloudA
	return (-a-1)/(a*a*mean-a*a-a) - 1/a
}

// windOf is the day's wind [m/s] where the mean is meanMS, from its residual.
func (on wetShare) windOf(meanMS, r float64) float64 {
	w := on.wind * meanMS
	sd := w * max(0.2, polynomial(w, on.windSD[0], on.windSD[1], on.windSD[2]))
	root := math.Sqrt(w) + clamp(r, -2.326, 2.326)*sd/(2*math.Sqrt(w))
	return max(0.1, root*math.Abs(root))
}

// wetDays draws which days are wet; of up to 200 draws of a month the first within half a day of the normals is taken, else
// the nearest.
func wetDays(days []dayWeather, n Normals, random *rand.Rand) {
	before, twoBefore := false, false
	first := 0
	for m, length := range daysIn {
		share := n.WetDays[m] / float64(length)
		var best []bool
		miss := math.Inf(1)
		for range 200 {
			drawn, count := drawWet(length, share, before, twoBefore, random)
			if off := math.Abs(float64(count) - n.WetDays[m]); off < miss {
				best, miss = drawn, off
			}
			if miss <= 0.5 {
				break
			}
		}
		for i, wet := range best {
			days[first+i].wet = wet
		}
		before, twoBefore = best[length-1], best[length-2]
		first += length
	}
}

// drawWet draws a month; the chance of a wet day depends on the two days before.
func drawWet(length int, share float64, before, twoBefore bool, random *rand.Rand) (wet []bool, count int) {
	wet = make([]bool, length)
	for i := range wet {
		wet[i] = random.Float64() < wetChance(share, before, twoBefore)
		if wet[i] {
			count++
		}
		before, twoBefore = wet[i], before
	}
	return wet, count
}

// wetChance is the chance of a wet day where a share of the days is wet, by whether the day before and the one before that were.
func wetChance(share float64, before, twoBefore bool) float64 {
	switch {
	case share == 0:
		return 0
	case before:
		return 0.254877 + 0.745123*share
	case twoBefore:
		return 0.846326 * share
	}
	return 0.724019 * share
}

// WindOrAssumed is the wind of the normals, or what is assumed where they have none [m/s].
func (n Normals) WindOrAssumed() [12]float64 {
	wind := n.WindMS
	if allZero(wind) {
		for m := range wind {
			wind[m] = assumedWindMS
		}
	}
	return wind
}
