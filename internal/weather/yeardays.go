package weather

import (
	"math"
	"math/rand/v2"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"
)

// The days of Years, from 1 July on.

// spreadOfMonth is how the days of a month, and its mean from year to year, lie about the normals.
type spreadOfMonth struct {
	wet    float64        // share of wet days
	drawn  float64        // the share to draw with (drawnShare)
	kind   [2]spreadOfDay // dry, wet
	slowK  float64        // deviation of the month's anomaly [K]
	monthK float64        // of the month's mean air from year to year, in all [K]

	clearness float64 // mean
	sun       clearnessSpread
}

// spreadOfDay is that of dry or of wet days.
type spreadOfDay struct {
	on             wetShare
	lowK, highK    float64 // deviations [K]
	cloud, cloudSD float64
}

// wetIndex is 1 for wet days, 0 for dry ones.
func wetIndex(wet bool) int {
	if wet {
		return 1
	}
	return 0
}

// months sets the spread of every month by the stretch that is y.factor in the coldest month and 1 in the warmest.
func (y *Years) months() {
	n := y.normals
	coldest, warmest := slices.Min(n.MeanLowC[:]), slices.Max(n.MeanLowC[:])
	for m := range y.shares {
		s := &y.shares[m]
		s.wet = n.WetDays[m] / float64(daysIn[m])
		s.drawn = drawnShare(s.wet)
		dry, wet := daySpread(onDry, lowDrySD, highDrySD, n, m, s.clearness), daySpread(onWet, lowWetSD, highWetSD, n, m, s.clearness)
		s.kind = [2]spreadOfDay{dry, wet}
		low, high := y.ownSpread(m)
		stretch := 1 + (y.factor-1)*(warmest-n.MeanLowC[m])/max(0.1, warmest-coldest)
		for i := range s.kind {
			s.kind[i].lowK *= low * stretch
			s.kind[i].highK *= high * stretch
		}
		weights := residuals{mixed(s.wet, wetLow, s.kind) / 2, mixed(s.wet, wetHigh, s.kind) / 2}
		days := meanDeviation(stationA, stationB, weights, monthDays)
		s.monthK = y.spread.MonthK[m]
		if allZero(y.spread.MonthK) {
			s.monthK = meanDeviation(chainA, chainB, weights, monthDays)
		}
		s.slowK = math.Sqrt(max(0, s.monthK*s.monthK-days*days))
		s.monthK = math.Hypot(s.slowK, days)
	}
}

// daySpread is the spread of dry or wet days of month m about their own mean.
func daySpread(on wetShare, lowSD, highSD deviation, n Normals, m int, clearness float64) spreadOfDay {
	c := on.cloudOf(meanCloud(clearness))
	return spreadOfDay{on: on, lowK: lowSD.at(on.low[0] + on.low[1]*n.MeanLowC[m]), highK: highSD.at(on.high[0] + on.high[1]*n.MeanHighC[m]),
		cloud: c, cloudSD: on.cloudSD * c * (1 - c)}
}

func wetLow(s spreadOfDay) float64  { return s.lowK }
func wetHigh(s spreadOfDay) float64 { return s.highK }

// mixed is the root of the mean square over dry and wet days.
func mixed(wet float64, of func(spreadOfDay) float64, kind [2]spreadOfDay) float64 {
	return math.Sqrt((1-wet)*of(kind[0])*of(kind[0]) + wet*of(kind[1])*of(kind[1]))
}

// ownSpread are the factors that bring the deviations of lows and highs of month m to those of the place, where they are known. A deviation about the month's own mean lacks
// what the mean of the month takes of it: sigma_within² = sigma² (1 - v), v the variance of the mean of 30 days of the chain. What dry and wet days differ is a part of it.
func (y *Years) ownSpread(m int) (low, high float64) {
	s := y.shares[m]
	factor := func(ownK float64, of func(spreadOfDay) float64, chain residuals, apart float64) float64 {
		if ownK == 0 {
			return 1
		}
		v := meanDeviation(stationA, stationB, chain, monthDays)
		wanted := ownK*ownK/(1-v*v) - s.wet*(1-s.wet)*apart*apart
		return math.Sqrt(max(0.01, wanted)) / mixed(s.wet, of, s.kind)
	}
	lowApart := onWet.low[0] - onDry.low[0] + (onWet.low[1]-onDry.low[1])*y.normals.MeanLowC[m]
	highApart := onWet.high[0] - onDry.high[0] + (onWet.high[1]-onDry.high[1])*y.normals.MeanHighC[m]
	return factor(y.spread.LowK[m], wetLow, residuals{1, 0}, lowApart), factor(y.spread.HighK[m], wetHigh, residuals{0, 1}, highApart)
}

// madeDays are the days of one year; offLow and offHigh is how far each lies from the normals, its correction aside [K]: zero in the mean of all years.
type madeDays struct {
	days            []dayWeather
	offLow, offHigh []float64
}

// days makes the days of a year.
func (y *Years) days(random *rand.Rand) madeDays {
	const warmUp = 60 // days for the chain to forget its start: 0.82^60, its slowest share, is nothing
	n := len(y.means)
	out := madeDays{make([]dayWeather, n), make([]float64, n), make([]float64, n)}
	slow := y.anomalies(random)
	month := fromJuly(monthOf())
	var r residuals
	before, twoBefore := false, false
	for d := -warmUp; d < n; d++ {
		r = r.nextBy(&stationA, &stationB, random)
		at := max(0, d)
		wet := random.Float64() < wetChance(y.shares[month[at]].drawn, before, twoBefore)
		before, twoBefore = wet, before
		if d >= 0 {
			out.days[d].wet = wet
			y.day(&out, d, month[d], slow[d], r)
		}
	}
	y.rain(out.days, random)
	return out
}

// day sets the weather of day d in month m.
func (y *Years) day(out *madeDays, d, m int, slow float64, r residuals) {
	day, s := &out.days[d], &y.shares[m]
	k := s.kind[wetIndex(day.wet)]
	mean := y.means[d]
	out.offLow[d] = s.apart(day.wet, mean.lowC, lowLine) + slow*s.slowK + r[0]*k.lowK
	out.offHigh[d] = s.apart(day.wet, mean.highC, highLine) + slow*s.slowK + r[1]*k.highK
	day.lowC = mean.lowC + y.lift[m][0] + out.offLow[d]
	day.highC = max(day.lowC+1, mean.highC+y.lift[m][1]+out.offHigh[d])
	day.cloud = k.cloud + r[2]*k.cloudSD
	day.clearness = min(clearestDay, s.sun.quantile(clamp(1-s.cloudier(day.cloud), 1e-6, 1-1e-6)))
	day.windMS = k.on.windOf(mean.windMS, r[3])
}

func lowLine(on wetShare) [2]float64  { return on.low }
func highLine(on wetShare) [2]float64 { return on.high }

// apart is by how much the mean of a wet or dry day lies off that of all days [K]: zero in the mean over wet and dry days.
func (s *spreadOfMonth) apart(wet bool, meanC float64, line func(wetShare) [2]float64) float64 {
	at := func(on wetShare) float64 { l := line(on); return l[0] + l[1]*meanC }
	dry, rainy := at(onDry), at(onWet)
	if wet {
		return (1 - s.wet) * (rainy - dry)
	}
	return s.wet * (dry - rainy)
}

// cloudier is the share of days with less cloud than that: of the two normal distributions of dry and wet days.
func (s *spreadOfMonth) cloudier(cloud float64) float64 {
	below := func(k spreadOfDay) float64 { return distuv.UnitNormal.CDF((cloud - k.cloud) / k.cloudSD) }
	return (1-s.wet)*below(s.kind[0]) + s.wet*below(s.kind[1])
}

// anomalies is how far each day's month lies off, in deviations of the month's anomaly: an AR(1) of months on straight lines between their middles.
func (y *Years) anomalies(random *rand.Rand) []float64 {
	phi := y.slow.fromMonth
	var nodes [14]float64 // June before, the twelve, July after
	z := random.NormFloat64()
	for i := range nodes {
		nodes[i] = z / y.slow.spread
		z = phi*z + math.Sqrt(1-phi*phi)*random.NormFloat64()
	}
	out := make([]float64, 0, len(y.means))
	for i := range 12 {
		length := daysIn[(firstMonth+i)%12]
		for d := range length {
			t := (float64(d)+0.5)/float64(length) - 0.5 // -0.5 to 0.5 about the month's middle
			if t < 0 {
				out = append(out, nodes[i+1]*(1+t)-nodes[i]*t)
			} else {
				out = append(out, nodes[i+1]*(1-t)+nodes[i+2]*t)
			}
		}
	}
	return out
}

// rain gives wet days the month's precipitation of a wet day: what makes a day wet (wetDayMM), and the rest gamma distributed (rainShape).
func (y *Years) rain(days []dayWeather, random *rand.Rand) {
	gamma := distuv.Gamma{Alpha: rainShape, Beta: rainShape, Src: random} // mean 1
	month := fromJuly(monthOf())
	for d := range days {
		if m := month[d]; days[d].wet {
			mean := y.normals.PrecipMM[m] / y.normals.WetDays[m]
			least := min(wetDayMM, mean)
			days[d].rainMM = least + gamma.Rand()*(mean-least)
		}
	}
}

// fromJuly turns values of the days from 1 January into those from 1 July.
func fromJuly[T any](days [365]T) [365]T {
	const before = 31 + 28 + 31 + 30 + 31 + 30
	var out [365]T
	for d := range out {
		out[d] = days[(d+before)%len(days)]
	}
	return out
}

// fromJanuary turns values of the hours from 1 July into those from 1 January.
func fromJanuary[T any](hours []T) []T {
	const after = 24 * (31 + 31 + 30 + 31 + 30 + 31)
	return append(slices.Clone(hours[after:]), hours[:after]...)
}
