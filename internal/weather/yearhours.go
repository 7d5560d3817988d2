package weather

import (
	"math"
	"math/rand/v2"
	"slices"
)

// The hours of Years from their days, and the corrections that bring long-run means, counted over the hours as a station's log would be, to the normals.

// airShape is how an hour's air lies between a day's lowest and highest (airAt).
type airShape struct {
	share     float64 // Γ, 0 at the lowest
	low, high int     // the days they are taken from
	bendOf    float64 // Γ (1-Γ), what a bend of 1 adds
	month     int
}

// shapesOf are those of all hours from 1 July, by how far the sun's clock is ahead on each day.
func shapesOf(ahead []float64) []airShape {
	n := len(ahead)
	month := fromJuly(monthOf())
	out := make([]airShape, 24*n)
	for i := range out {
		d, solar := i/24, float64(i%24+1)+ahead[i/24]
		a := airShape{month: month[d]}
		if solar < 0 {
			d, solar = d-1, solar+24
		}
		if solar >= 24 {
			d, solar = d+1, solar-24
		}
		a.low, a.high = (d+n)%n, (d+n)%n
		if solar < 5 {
			a.high = (d + n - 1) % n
		}
		if solar > 14 {
			a.low = (d + 1) % n
		}
		a.share = clamp(temperatureShape(solar), 0, 1)
		a.bendOf = a.share * (1 - a.share)
		out[i] = a
	}
	return out
}

// air is the air at the end of every hour, in out [°C].
func (y *Years) air(days []dayWeather, out []float64) {
	for i := range y.shape {
		a := &y.shape[i]
		g := a.share + y.bend[a.month]*a.bendOf
		out[i] = days[a.high].highC*g + days[a.low].lowC*(1-g)
	}
}

// humidity fills the dew point as Typical does, with a fixed correction by month in place of one for each.
func (y *Years) humidity(days []dayWeather, hours []Hour) {
	dew := y.dewDays(days)
	month := fromJuly(monthOf())
	for d := range dew {
		dew[d] += y.damp[month[d]]
	}
	for i := range hours {
		hours[i].DewPointC = min(hours[i].AirC, overNoons(dew, i))
	}
}

// dewDays is the dew point of the days, uncorrected [°C].
func (y *Years) dewDays(days []dayWeather) []float64 {
	dew := make([]float64, len(days))
	for d, day := range days {
		dew[d] = day.lowC
		if !day.wet {
			dew[d] -= dryDewStepK
		}
	}
	return dew
}

// windAndRain fills wind and rain as Typical does, the wind with a fixed factor by month.
func (y *Years) windAndRain(days []dayWeather, hours []Hour, random *rand.Rand) {
	wind := make([]float64, len(days))
	month := fromJuly(monthOf())
	for d := range days {
		wind[d] = days[d].windMS * y.breeze[month[d]]
	}
	for i := range hours {
		hours[i].WindMS = overNoons(wind, i)
		hours[i].RainMM = 0
	}
	for d, day := range days {
		begin := d*24 + random.IntN(24-rainHoursOfDay+1)
		for i := begin; i < begin+rainHoursOfDay; i++ {
			hours[i].RainMM = day.rainMM / rainHoursOfDay
		}
	}
}

// trials is over how many years the corrections are found. What they miss by chance is small, since a trial's own anomaly is known and taken off.
const trials = 60

// settle finds the stretch that the lowest of the year asks for, then the corrections.
func (y *Years) settle() {
	y.correct(2)
	if y.normals.YearLowestKnown {
		y.stretch()
	}
	y.correct(8)
}

// The stretch is looked for within these, as in Typical; beyond four times the generator's spread the days are no weather any more.
const leastStretch, mostStretch = 0.2, 4.0

// stretch sets the factor at which the mean lowest of the trial years is the normals', by secants: the lowest is all but straight in it.
func (y *Years) stretch() {
	miss := func(factor float64) float64 {
		y.factor = factor
		y.months()
		return y.meanLowest() - y.normals.YearLowestC
	}
	a, b := 1.0, 1.3
	missA, missB := miss(a), miss(b)
	for range 8 {
		if math.Abs(missB) < 0.02 || missA == missB {
			return
		}
		next := clamp(b-missB*(b-a)/(missB-missA), leastStretch, mostStretch)
		if next == b {
			return
		}
		a, missA = b, missB
		b, missB = next, miss(next)
	}
}

// trial is the days of trial year k.
func (y *Years) trial(k int) madeDays {
	return y.days(rand.New(rand.NewPCG(scattered(uint64(k)+1), ^uint64(yearsStream)))) // no seed of the user: the climate is one for all seeds
}

// meanLowest is the mean of the lowest hour of trial years [°C].
func (y *Years) meanLowest() float64 {
	air := make([]float64, hoursOfYear)
	sum := 0.0
	for k := range 2 * trials {
		y.air(y.trial(k).days, air)
		sum += slices.Min(air)
	}
	return sum / (2 * trials)
}

// monthSums is what trial years come to by month.
type monthSums struct {
	low, high, mean, bend [12]float64 // [K] off the normals and the trials' own anomaly; what a bend of 1 adds to the mean
	wind, dew             [12]float64
}

// correct moves lows, highs, bends, wind and dew point until the months meet the normals, in some rounds.
func (y *Years) correct(rounds int) {
	air := make([]float64, hoursOfYear)
	for range rounds {
		var sum monthSums
		for k := range trials {
			y.count(&sum, y.trial(k), air)
		}
		want := y.normals.WindOrAssumed()
		y.missK = 0
		for m := range 12 {
			days := float64(trials * daysIn[m])
			y.missK = max(y.missK, math.Abs(sum.low[m])/days, math.Abs(sum.high[m])/days)
			y.lift[m][0] -= sum.low[m] / days
			y.lift[m][1] -= sum.high[m] / days
			y.bend[m] = clamp(y.bend[m]-(sum.mean[m]/24-y.midOff(m)*days)/max(1e-9, sum.bend[m]/24), -0.95, 0.95)
			y.breeze[m] *= want[m] / (sum.wind[m] / days)
			if len(y.normals.DewPointC) == 12 {
				y.damp[m] = y.normals.DewPointC[m] - sum.dew[m]/days
			}
		}
	}
}

// midOff is how far the normals' mean lies from the middle of their mean low and high [K].
func (y *Years) midOff(m int) float64 {
	return y.normals.meanOf(m) - (y.normals.MeanLowC[m]+y.normals.MeanHighC[m])/2
}

// count adds a trial year.
func (y *Years) count(sum *monthSums, made madeDays, air []float64) {
	y.air(made.days, air)
	dew := y.dewDays(made.days)
	month := fromJuly(monthOf())
	for d, day := range made.days {
		m := month[d]
		offMid := (made.offLow[d] + made.offHigh[d]) / 2
		mid := (y.means[d].lowC + y.means[d].highC) / 2
		low, high := math.Inf(1), math.Inf(-1)
		for i := d * 24; i < d*24+24; i++ {
			c, a := air[i], &y.shape[i]
			low, high = min(low, c), max(high, c)
			sum.mean[m] += c - mid - offMid
			sum.bend[m] += a.bendOf * (made.days[a.high].highC - made.days[a.low].lowC)
		}
		sum.low[m] += low - y.means[d].lowC - made.offLow[d]
		sum.high[m] += high - y.means[d].highC - made.offHigh[d]
		sum.wind[m] += day.windMS * y.breeze[m]
		sum.dew[m] += dew[d] - made.offLow[d]
	}
}
