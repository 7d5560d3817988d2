package weather

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"
)

// yearsOf prepares years of a hill with its lowest of the year.
func yearsOf(t testing.TB, n Normals, spread Spread, seed uint64) *Years {
	t.Helper()
	y, err := NewYears(n, spread, KnownPlace(40, -105, 1600), seed)
	if err != nil {
		t.Fatal(err)
	}
	return y
}

func coldHill() Normals {
	n := hillNormals()
	n.YearLowestKnown, n.YearLowestC = true, -29
	return n
}

func madeYear(t testing.TB, y *Years, k int) Series {
	t.Helper()
	s, err := y.Year(k)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// The chain of stations has variance one and the day-to-day memory that its source tells of stations: lowest .67, highest .62, sun .25. With rows and columns changed its
// variances are 1.40, 0.78 and 0.82.
func TestStationChainIsStationaryWithVarianceOne(t *testing.T) {
	t.Parallel()
	s := stationary(stationA, stationB)
	for i, memory := range [4]float64{0.674, 0.621, 0.250, 0.667} {
		near(t, "variance", s[i][i], 1, 0.005)
		near(t, "lag-one autocorrelation", times(stationA, s[i])[i], memory, 0.002)
	}
	near(t, "lowest with highest", s[0][1], 0.634, 0.001)
	near(t, "lowest with cloud", s[0][2], 0.193, 0.001)
	near(t, "highest with cloud", s[1][2], -0.186, 0.001)
}

// The correlation of two blocks of an AR(1) of one variable, by hand: rho (1-rho^n)²/(n (1-rho²) - 2 rho (1-rho^n)).
func TestBlockCorrelation(t *testing.T) {
	t.Parallel()
	const rho, n = 0.8, 30.
	var a, b [4][4]float64
	a[0][0], b[0][0] = rho, math.Sqrt(1-rho*rho)
	power := math.Pow(rho, n)
	near(t, "blocks", blockCorrelation(a, b, residuals{1}, n), rho*(1-power)*(1-power)/(n*(1-rho*rho)-2*rho*(1-power)), 1e-9)
}

// The long-run share of wet days is that of the normals; by themselves the published chances come within 0.015 of it.
func TestDrawnShare(t *testing.T) {
	t.Parallel()
	for share := 0.02; share < 0.9; share += 0.04 {
		near(t, "share of wet days", stationaryShare(drawnShare(share)), share, 1e-9)
		near(t, "published chances", stationaryShare(share), share, 0.015)
	}
}

// The same seed and number give the same year in any order; others give others. All is known, and the year is a ring from 1 July.
func TestYearIsDeterministicAndWhole(t *testing.T) {
	t.Parallel()
	a, b := yearsOf(t, coldHill(), Spread{}, 7), yearsOf(t, coldHill(), Spread{}, 7)
	first := madeYear(t, a, 3)
	madeYear(t, b, 9)
	again, other, seed := madeYear(t, b, 3), madeYear(t, a, 4), madeYear(t, yearsOf(t, coldHill(), Spread{}, 8), 3)
	allKnown(t, first)
	same := 0
	for i, h := range first.Hours {
		if h != again.Hours[i] {
			t.Fatalf("hour %d differs with the same seed and number", i)
		}
		if h.AirC == other.Hours[i].AirC || h.AirC == seed.Hours[i].AirC {
			same++
		}
	}
	if same > 20 {
		t.Errorf("%d hours are alike in different years", same)
	}
	if len(first.Hours) != 8760 || first.Start.Month() != time.July || first.Start.Day() != 1 || !first.TypicalYear {
		t.Errorf("year of %d hours from %s, typical %t", len(first.Hours), first.Start, first.TypicalYear)
	}
	winter, err := first.Winter(MonthDay{10, 1}, MonthDay{4, 30})
	if err != nil || len(winter.Hours) != 24*212 {
		t.Errorf("winter of %d hours, %v", len(winter.Hours), err)
	}
	if _, err := a.Year(-1); err == nil {
		t.Error("a year before the first was made")
	}
}

// No seam from October to April: within the year the air of an hour never jumps more than a day's course can, at 31 December least of all.
func TestYearHasNoSeamInWinter(t *testing.T) {
	t.Parallel()
	y := yearsOf(t, coldHill(), Spread{}, 1)
	var at, all float64
	for k := range 30 {
		s := madeYear(t, y, k)
		for i := 24 * 92; i < 24*304; i++ {
			all = max(all, math.Abs(s.Hours[i].AirC-s.Hours[i-1].AirC))
		}
		i, _ := s.Index(time.Date(2002, 1, 1, 0, 30, 0, 0, s.Start.Location()))
		at = max(at, math.Abs(s.Hours[i].AirC-s.Hours[i-1].AirC))
	}
	if at > 4 || all > 20 {
		t.Errorf("air jumps by %.1f K at the turn of the year, %.1f K at most", at, all)
	}
}

// Over 400 years the means are the normals within the sampling error of 400 years, and months lie about them as was asked.
func TestYearsMeetTheNormalsInTheLongRun(t *testing.T) {
	t.Parallel()
	const years = 400
	n, spread := coldHill(), Spread{}
	for m := range 12 {
		spread.MonthK[m] = 2.5 - 0.1*math.Abs(float64(m-6)-0.5) // anything that differs by month
	}
	y := yearsOf(t, n, spread, 1)
	var got [12][]MonthStatistics
	lowest := 0.0
	var wet [12]float64
	for k := range years {
		s := madeYear(t, y, k)
		for d := range 365 {
			if day := dayOfHours(s.Hours[d*24 : d*24+24]); day.RainMM >= wetDayMM-1e-9 {
				wet[s.HourStart(d*24).Month()-1] += 1. / years
			}
		}
		low := math.Inf(1)
		for _, m := range s.Months() {
			got[m.Month-1] = append(got[m.Month-1], m)
			low = min(low, m.LowestC)
		}
		lowest += low / years
	}
	near(t, "mean of the lowest of the year", lowest, -29, 0.6) // 3.5 K / sqrt(400), twice, and trials alike
	for m, list := range got {
		check := func(what string, want, slack float64, of func(MonthStatistics) float64) (deviation float64) {
			mean, squares := 0.0, 0.0
			for _, s := range list {
				mean += of(s) / years
			}
			for _, s := range list {
				squares += (of(s) - mean) * (of(s) - mean)
			}
			deviation = math.Sqrt(squares / (years - 1))
			near(t, time.Month(m+1).String()+": "+what, mean, want, 3*deviation/math.Sqrt(years)+slack)
			return deviation
		}
		days := float64(daysIn[m])
		near(t, time.Month(m+1).String()+": wet days", wet[m], n.WetDays[m], 0.5) // 3.2 days / sqrt(400), thrice
		check("mean low", n.MeanLowC[m], 0.05, func(s MonthStatistics) float64 { return s.MeanLowC })
		check("mean high", n.MeanHighC[m], 0.05, func(s MonthStatistics) float64 { return s.MeanHighC })
		apart := check("mean", (n.MeanLowC[m]+n.MeanHighC[m])/2, 0.05, func(s MonthStatistics) float64 { return s.MeanC })
		check("sun", n.DailySunKWhM2[m]*days, 0.03*n.DailySunKWhM2[m]*days, func(s MonthStatistics) float64 { return s.GlobalKWhM2 })
		check("precipitation", n.PrecipMM[m], 0, func(s MonthStatistics) float64 { return s.RainMM })
		check("wind", n.WindMS[m], 0.05, func(s MonthStatistics) float64 { return s.WindMS })
		check("snowfall", n.SnowfallM[m], 0.005, func(s MonthStatistics) float64 { return s.SnowfallM })
		near(t, time.Month(m+1).String()+": deviation between years", apart, max(spread.MonthK[m], y.shares[m].monthK), 0.35)
	}
}

// What comes together comes so with its sign: dull days are wet, dull days have high lows and low highs, clear nights are cold.
func TestYearsHoldTogether(t *testing.T) {
	t.Parallel()
	y := yearsOf(t, coldHill(), Spread{}, 1)
	var low, high, clear, wet, lowBefore, highBefore []float64
	for k := range 60 {
		made := y.trial(k)
		for d := 153; d < 243; d++ { // December to February
			low, high = append(low, made.offLow[d]), append(high, made.offHigh[d])
			lowBefore, highBefore = append(lowBefore, made.offLow[d-1]), append(highBefore, made.offHigh[d-1])
			clear, wet = append(clear, made.days[d].clearness), append(wet, float64(wetIndex(made.days[d].wet)))
		}
	}
	for _, row := range []struct {
		what      string
		a, b      []float64
		low, high float64
	}{
		{"clearness with wet", clear, wet, -0.9, -0.3}, {"clearness with lowest", clear, low, -0.6, -0.1}, {"clearness with highest", clear, high, 0.05, 0.6},
		{"lowest with highest", low, high, 0.5, 0.9}, {"lowest with that of the day before", low, lowBefore, 0.65, 0.9},
		{"highest with that of the day before", high, highBefore, 0.6, 0.9},
	} {
		if r := correlation(row.a, row.b); !(r >= row.low && r <= row.high) {
			t.Errorf("%s: correlation %.2f, want %g to %g", row.what, r, row.low, row.high)
		}
	}
}

func correlation(a, b []float64) float64 {
	var ma, mb, ab, aa, bb float64
	n := float64(len(a))
	for i := range a {
		ma, mb = ma+a[i]/n, mb+b[i]/n
	}
	for i := range a {
		ab, aa, bb = ab+(a[i]-ma)*(b[i]-mb), aa+(a[i]-ma)*(a[i]-ma), bb+(b[i]-mb)*(b[i]-mb)
	}
	return ab / math.Sqrt(aa*bb)
}

// Colder normals give colder years, more spread between years gives months further apart, a lower lowest gives lower lowests.
func TestYearsFollowTheirNormals(t *testing.T) {
	t.Parallel()
	base := coldHill()
	colder, harder := base, base
	for m := range 12 {
		colder.MeanLowC[m] -= 3
		colder.MeanHighC[m] -= 3
	}
	colder.YearLowestC -= 3
	harder.YearLowestC -= 6
	mean := func(n Normals, spread Spread) (air, lowest, apart float64) {
		y := yearsOf(t, n, spread, 1)
		const years = 40
		var january []float64
		for k := range years {
			s := madeYear(t, y, k)
			f := yearFigures(s)
			air, lowest = air+f[1]/years, lowest+f[0]/years
			for _, m := range s.Months() {
				if m.Month == time.January {
					january = append(january, m.MeanC)
				}
			}
		}
		return air, lowest, deviationOf(january)
	}
	air, lowest, _ := mean(base, Spread{})
	airColder, _, _ := mean(colder, Spread{})
	_, lowestHarder, _ := mean(harder, Spread{})
	near(t, "years of normals 3 K colder", airColder-air, -3, 0.4)
	near(t, "lowest of years whose lowest is 6 K lower", lowestHarder-lowest, -6, 1)
	var narrow, wide Spread
	for m := range 12 {
		narrow.MonthK[m], wide.MonthK[m] = 0.5, 4
	}
	_, _, little := mean(base, narrow)
	_, _, much := mean(base, wide)
	if !(much > 1.3*little) {
		t.Errorf("Januaries lie %.2f K apart with a spread of 0.5 K and %.2f K with 4 K", little, much)
	}
}

// deviationOf is the standard deviation.
func deviationOf(v []float64) float64 {
	mean, squares := 0.0, 0.0
	for _, x := range v {
		mean += x / float64(len(v))
	}
	for _, x := range v {
		squares += (x - mean) * (x - mean)
	}
	return math.Sqrt(squares / float64(len(v)-1))
}

// What is not given is told in the notes; what cannot be is refused.
func TestYearsFindings(t *testing.T) {
	t.Parallel()
	n := hillNormals()
	n.WindMS, n.SnowfallM, n.SnowDays = [12]float64{}, [12]float64{}, [12]float64{}
	s := madeYear(t, yearsOf(t, n, Spread{}, 1), 0)
	told := map[string]bool{}
	for _, note := range s.Notes {
		told[note.What] = true
	}
	for _, what := range []string{"all", "air temperature", "wind", "dew point", "snowfall"} {
		if !told[what] {
			t.Errorf("nothing is told of %s", what)
		}
	}
	narrow := n
	for m := range 12 {
		narrow.MeanHighC[m] = narrow.MeanLowC[m] + 1.5
	}
	if y := yearsOf(t, narrow, Spread{}, 1); y.missK < mostMissK || !strings.Contains(fmt.Sprint(madeYear(t, y, 0).Notes), "so small a swing") {
		t.Error("days that are too narrow for their climate are not told")
	}
	var bad Spread
	bad.MonthK[0] = 3
	if _, err := NewYears(n, bad, KnownPlace(40, -105, 1600), 1); err == nil {
		t.Error("a spread of one month alone was taken")
	}
	if _, err := NewYears(n, Spread{}, Place{}, 1); err == nil {
		t.Error("an unknown place was taken")
	}
	n.MeanHighC[0] = math.NaN()
	if _, err := NewYears(n, Spread{}, KnownPlace(40, -105, 1600), 1); err == nil {
		t.Error("NaN was taken")
	}
}

// Climates at the ends of what normals may be still give years of which all is known, and means that are the normals.
func TestYearsOfExtremeClimates(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		name     string
		latitude float64
		change   func(n *Normals, m int)
	}{
		{"never wet", 40, func(n *Normals, m int) { n.WetDays[m], n.PrecipMM[m] = 0, 0 }},
		{"always wet", 40, func(n *Normals, m int) { n.WetDays[m], n.PrecipMM[m] = float64(daysIn[m]), 300 }},
		{"polar night", 75, func(n *Normals, m int) { n.Clearness[m], n.DailySunKWhM2[m] = 0.5, 0 }},
		{"always dull", 40, func(n *Normals, m int) { n.Clearness[m], n.DailySunKWhM2[m] = 0.1, 0 }},
		{"always clear", -30, func(n *Normals, m int) { n.Clearness[m], n.DailySunKWhM2[m] = 0.74, 0 }},
		{"narrow days", 40, func(n *Normals, m int) { n.MeanHighC[m] = n.MeanLowC[m] + 6 }},
		{"very cold", 60, func(n *Normals, m int) {
			n.MeanLowC[m] -= 40
			n.MeanHighC[m] -= 40
			n.DailySunKWhM2[m] = 0
			n.Clearness[m] = 0.5
		}},
	} {
		t.Run(row.name, func(t *testing.T) {
			t.Parallel()
			n := hillNormals()
			for m := range 12 {
				row.change(&n, m)
			}
			y, err := NewYears(n, Spread{}, KnownPlace(row.latitude, -105, 500), 1)
			if err != nil {
				t.Fatal(err)
			}
			if y.missK > mostMissK {
				t.Errorf("normals are missed by %.2f K", y.missK)
			}
			const years = 60
			var low, high [12]float64
			for k := range years {
				s := madeYear(t, y, k)
				if k == 0 {
					allKnown(t, s)
				}
				for _, m := range s.Months() {
					low[m.Month-1] += m.MeanLowC / years
					high[m.Month-1] += m.MeanHighC / years
				}
			}
			for m := range 12 {
				slack := 0.1 + 3.5*y.shares[m].monthK/math.Sqrt(years)
				near(t, "mean low", low[m], n.MeanLowC[m], slack)
				near(t, "mean high", high[m], n.MeanHighC[m], slack)
			}
		})
	}
}
