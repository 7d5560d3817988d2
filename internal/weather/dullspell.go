package weather

import (
	"fmt"
	"math"
	"time"
)

// The cold dull spell that a place's own coldest month can bring, from its normals and the published generator (generator.go). It
// states how cold the mean of several overcast days may become; it is no statistics of cold and dull days together.

const (
	// spellZ is how many standard deviations of the mean of its days a spell lies below the month. Own judgement: with normal residuals one in
	// 44 such stretches is colder, whatever the sky; that it is also dull throughout makes it a spell of some decades. Nobody has
	// counted the joint event.
	spellZ = 2.0
	// dullClearness is the clearness of a day under closed cloud; between the 0.08 of the darkest days of a generated month and the 0.25 below which a
	// day is called dull. Own judgement.
	dullClearness = 0.12
	// dullDewPointBelowK is how far the dew point lies below the lowest air under closed cloud [K]: near saturation; own judgement.
	dullDewPointBelowK = 1.0
	// MostSpellDays is the longest spell that is taken from normals: beyond two months it would leave its month's climate.
	MostSpellDays = 60
)

// DullSpell returns the spell of days (1 to 60) under closed cloud that the coldest month can bring, and that month:
//
//   - mean air: the month's mean less 2 standard deviations of the mean of so many days (meanDeviation), with the deviations of lowest and
//     highest on wet, that is overcast, days; not below the lowest of the year and half the swing, where that is known
//   - swing: dullSwing of the month's
//   - clearness 0.12, cloud 1, the month's wind, dew point 1 K below the lowest air; no snow is said to lie
//
// The mean of the month itself is taken, though wet days of winter are up to 2 K milder in the generator: the cold side.
// Source of the deviations and of the chain: Sommer and Kaplan 2017, as in generator.go. The 2 and the 0.12 are own judgement.
func (n Normals) DullSpell(days int) (SpellSpec, time.Month, error) {
	if err := n.Check(); err != nil {
		return SpellSpec{}, 0, err
	}
	if days < 1 || days > MostSpellDays {
		return SpellSpec{}, 0, fmt.Errorf("spell: days is %d, must be 1 to %d", days, MostSpellDays)
	}
	m := 0
	for i := range 12 {
		if n.meanOf(i) < n.meanOf(m) {
			m = i
		}
	}
	lowK := lowWetSD.at(onWet.low[0] + onWet.low[1]*n.MeanLowC[m])
	highK := highWetSD.at(onWet.high[0] + onWet.high[1]*n.MeanHighC[m])
	s := SpellSpec{
		Days: days, Clearness: dullClearness, Cloud: 1, WindMS: n.WindOrAssumed()[m], DewPointBelowK: dullDewPointBelowK,
		SwingK: dullSwing(n.MeanHighC[m] - n.MeanLowC[m]),
		// a day's mean is midway between its lowest and its highest
		MeanC: n.meanOf(m) - spellZ*meanDeviation(chainA, chainB, residuals{lowK / 2, highK / 2}, days),
	}
	if n.YearLowestKnown {
		s.MeanC = max(s.MeanC, n.YearLowestC+s.SwingK/2)
	}
	return s, time.Month(m + 1), nil
}

// meanOf is the mean air of month m, 0 to 11 [°C].
func (n Normals) meanOf(m int) float64 {
	if len(n.MeanC) == 12 {
		return n.MeanC[m]
	}
	return (n.MeanLowC[m] + n.MeanHighC[m]) / 2
}

// meanDeviation returns the standard deviation of the mean over n days in a row of weights'r, where r is the stationary chain
// r' = a r + b e of residuals with e independent standard normal; in the unit of weights.
//
//	sigma_n^2 = sigma^2/n (1 + 2 sum_{k=1}^{n-1} (1 - k/n) rho_k)
//	sigma^2 = w' S w,  rho_k = w' a^k S w / sigma^2,  S = a S a' + b b'
//
// Any stationary series; the covariance of a first-order vector autoregression. Source: Wilks, Statistical Methods in the Atmospheric Sciences, on the
// variance of a time average and on multivariate autoregressions, from memory.
func meanDeviation(a, b [4][4]float64, weights residuals, n int) float64 {
	lagged := times(stationary(a, b), weights) // a^k S w
	variance := dot(weights, lagged)
	if variance == 0 {
		return 0
	}
	sum := 1.0
	for k := 1; k < n; k++ {
		lagged = times(a, lagged)
		sum += 2 * (1 - float64(k)/float64(n)) * dot(weights, lagged) / variance
	}
	return math.Sqrt(variance / float64(n) * sum)
}

// stationary is the covariance S = a S a' + b b' of the chain, the sum of a^k b b' a'^k.
func stationary(a, b [4][4]float64) [4][4]float64 {
	const rounds = 500 // 0.93^1000 is nothing in 64 bits
	var s [4][4]float64
	for range rounds {
		var next [4][4]float64
		for i := range 4 {
			for j := range 4 {
				for k := range 4 {
					next[i][j] += b[i][k] * b[j][k]
					for l := range 4 {
						next[i][j] += a[i][k] * s[k][l] * a[j][l]
					}
				}
			}
		}
		if next == s {
			break
		}
		s = next
	}
	return s
}

func times(m [4][4]float64, v residuals) (out residuals) {
	for i := range m {
		out[i] = dot(m[i], v)
	}
	return out
}

func dot(a, b residuals) float64 {
	sum := 0.0
	for i := range a {
		sum += a[i] * b[i]
	}
	return sum
}

// dullSwing is the day-night swing [K] under closed cloud where the month's mean swing is monthK: the swing at which the clearness of a day,
//
//	K = 0.7 (1 - exp(-B dT^2.4)),  B = 0.036 exp(-0.154 monthK)
//
// is dullClearness, and never more than monthK. About a third of a month's 13 K is left.
//
// Source: Bristow and Campbell, On the relationship between incoming solar radiation and daily maximum and minimum temperature, Agricultural
// and Forest Meteorology 31:159, 1984; coefficients from memory. They fitted days of all kinds, and say nothing of front passages.
func dullSwing(monthK float64) float64 {
	b := 0.036 * math.Exp(-0.154*monthK)
	return min(monthK, math.Pow(-math.Log(1-dullClearness/0.7)/b, 1/2.4))
}

// WithSpell returns s with a spell of that spec at its place from the instant from on, hour on hour, and a note of it. Snow is left as s
// has it; no rain falls. A typical year is a ring: a spell that runs over its end goes on at its beginning.
func (s Series) WithSpell(spec SpellSpec, from time.Time) (Series, error) {
	spell, err := Spell(spec, s.Place, from)
	if err != nil {
		return Series{}, err
	}
	since := from.Sub(s.Start)
	first := int(since / time.Hour)
	ring := s.TypicalYear && len(s.Hours) == hoursOfYear
	if since < 0 || since%time.Hour != 0 || first >= len(s.Hours) || first+len(spell.Hours) > len(s.Hours) && !ring || len(spell.Hours) > len(s.Hours) {
		return Series{}, fmt.Errorf("weather %s, %s to %s, does not hold %s to %s hour on hour", s.Name, stamp(s.Start), stamp(s.End()),
			stamp(spell.Start), stamp(spell.End()))
	}
	s = s.Clone()
	for i, h := range spell.Hours {
		at := &s.Hours[(first+i)%len(s.Hours)]
		h.SnowfallM, h.SnowDepthM, h.SnowDensityKgM3, h.GroundAlbedo, h.RainMM = at.SnowfallM, at.SnowDepthM, at.SnowDensityKgM3, at.GroundAlbedo, 0
		*at = h
	}
	s.Name += fmt.Sprintf(", with a spell of %d days at %.1f °C from %s", spec.Days, spec.MeanC, from.Format("01-02"))
	s.note(Made, "all", first, len(spell.Hours), "a cold dull spell set in: mean %.2f °C, swing %.2f K, clearness %g, cloud %g, wind %.1f m/s; stated, not observed",
		spec.MeanC, spec.SwingK, spec.Clearness, spec.Cloud, spec.WindMS)
	return s, nil
}
