package weather

import (
	"math"
	"math/rand/v2"
	"slices"

	"suncellar/internal/sun"
)

// Daily clearness: each month has the distribution that goes with its mean, and the generator's cloud says which day gets which of it,
// so dull days are the wet ones and come in runs as the clouds do.

// clearnessSpread is the distribution of daily clearness in a month: F(K) = (e^(γ low) - e^(γ K))/(e^(γ low) - e^(γ high)).
//
// Source: Bendt, Collares-Pereira and Rabl, The frequency distribution of daily insolation values, Solar Energy 27:1, 1981; highest
// clearness after Hollands and Huget, Solar Energy 30:195, 1983, as in Duffie and Beckman, Solar Engineering of
// Thermal Processes, eq. 2.9.5 to 2.9.8. γ is solved for the mean here instead of their fit.
type clearnessSpread struct {
	low, high float64
	gamma     float64
}

// lowestClearness of a day.
const lowestClearness = 0.05

// spreadOf returns the distribution of a month of the mean clearness, 0.08 to 0.75.
func spreadOf(mean float64) clearnessSpread {
	high := 0.6313 + 0.267*mean - 11.9*math.Pow(mean-0.75, 8)
	high = max(high, mean+0.02)
	c := clearnessSpread{low: lowestClearness, high: high}
	least, most := -400.0, 400.0
	for range 80 {
		c.gamma = (least + most) / 2
		if c.mean() < mean {
			least = c.gamma
		} else {
			most = c.gamma
		}
	}
	return c
}

// mean of the distribution: low + L/(1 - e^(-γL)) - 1/γ, L = high - low.
func (c clearnessSpread) mean() float64 {
	length := c.high - c.low
	x := c.gamma * length
	if math.Abs(x) < 1e-6 {
		return c.low + length/2
	}
	return c.low - length/math.Expm1(-x) - 1/c.gamma
}

// quantile is the clearness that a share u of the days stays below.
func (c clearnessSpread) quantile(u float64) float64 {
	length := c.high - c.low
	x := c.gamma * length
	switch {
	case math.Abs(x) < 1e-6:
		return c.low + u*length
	case x > 0: // from the high end, so that nothing overflows
		return c.high + math.Log(u+(1-u)*math.Exp(-x))/c.gamma
	}
	return c.low + math.Log1p(u*math.Expm1(x))/c.gamma
}

// clearDays gives the days their clearness; extra is what arrives outside the air on each day [Wh/m2]. Every month's sum of clearness times
// extra meets its mean as far as the clearest sky lets it.
func clearDays(days []dayWeather, clearness [12]float64, extra []float64) {
	first := 0
	for m, length := range daysIn {
		month, sky := days[first:first+length], extra[first:first+length]
		first += length
		order := make([]int, length)
		for i := range order {
			order[i] = i
		}
		slices.SortStableFunc(order, func(a, b int) int {
			switch {
			case month[a].cloud > month[b].cloud:
				return -1
			case month[a].cloud < month[b].cloud:
				return 1
			}
			return 0
		})
		spread := spreadOf(clearness[m])
		for rank, i := range order {
			month[i].clearness = spread.quantile((float64(rank) + 0.5) / float64(length))
		}
		meetMean(month, sky, clearness[m])
	}
}

// clearestDay is the highest clearness a made day gets; Aguiar's months of any climate reach 0.87, common ones 0.8.
const clearestDay = 0.8

func meetMean(month []dayWeather, sky []float64, mean float64) {
	for range 30 {
		got, all := 0.0, 0.0
		for i := range month {
			got += month[i].clearness * sky[i]
			all += sky[i]
		}
		if got <= 0 {
			return
		}
		for i := range month {
			month[i].clearness = min(clearestDay, month[i].clearness*mean*all/got)
		}
	}
}

// hourlySun makes the global of each hour of a day of clearness K from the sun over its hours [W/m2]; y is the deviation left by the last
// hour of sun, carried on.
//
//	kt = ktm + σ y, y' = φ y + r, r ~ N(0, 1-φ²), 0 <= kt <= 0.88 cos(π (hour-12.5)/30)
//	ktm = λ + η exp(-κ/sin h), σ = a exp(b (1 - sin h)), with λ, η, κ, a, b and φ functions of K
//
// The day is scaled to K. Source: Aguiar and Collares-Pereira, TAG: a time-dependent, autoregressive, Gaussian model for
// generating synthetic hourly radiation, Solar Energy 49:167, 1992.
func hourlySun(K float64, suns []sun.Span, y *float64, random *rand.Rand) []float64 {
	lambda := -0.19 + 1.12*K + 0.24*math.Exp(-8*K)
	eta := 0.32 - 1.6*(K-0.5)*(K-0.5)
	kappa := 0.19 + 2.27*K*K - 2.51*K*K*K
	a := 0.14 * math.Exp(-20*(K-0.35)*(K-0.35))
	b := 3*(K-0.45)*(K-0.45) + 16*math.Pow(K, 5)
	phi := 0.38 + 0.06*math.Cos(7.4*K-2.5)
	kt, limit := make([]float64, len(suns)), make([]float64, len(suns))
	for i, s := range suns {
		if s.UpShare == 0 {
			continue
		}
		sinH := max(0.02, s.Elevation.Sin())
		*y = phi**y + math.Sqrt(1-phi*phi)*random.NormFloat64()
		solarHour := 12.5 + s.HourAngle.HalfTurn().Degrees()/15
		limit[i] = max(0.05, 0.88*math.Cos(math.Pi*(solarHour-12.5)/30))
		kt[i] = clamp(lambda+eta*math.Exp(-kappa/sinH)+a*math.Exp(b*(1-sinH))**y, 0.01, limit[i])
	}
	return scaledTo(K, kt, limit, suns)
}

// scaledTo turns the clearness of hours into global whose sum is K times what arrives outside the air, as far as limit lets it.
func scaledTo(K float64, kt, limit []float64, suns []sun.Span) []float64 {
	extra := make([]float64, len(suns))
	for i, s := range suns {
		extra[i] = extraLevelWM2(s)
	}
	for range 20 {
		got, all := 0.0, 0.0
		for i, e := range extra {
			got += kt[i] * e
			all += e
		}
		if got <= 0 {
			break
		}
		for i := range kt {
			kt[i] = min(max(limit[i], K), kt[i]*K*all/got)
		}
	}
	out := make([]float64, len(kt))
	for i, e := range extra {
		out[i] = kt[i] * e
	}
	return out
}
