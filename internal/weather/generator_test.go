package weather

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"
)

// hillNormals are those of an invented cold, sunny, high place.
func hillNormals() Normals {
	return Normals{
		MeanLowC:      [12]float64{-12, -10, -6, -1, 4, 9, 12, 11, 6, 0, -7, -12},
		MeanHighC:     [12]float64{1, 3, 8, 13, 18, 25, 28, 27, 22, 15, 6, 1},
		DailySunKWhM2: [12]float64{2.4, 3.3, 4.5, 5.6, 6.2, 6.9, 6.7, 5.9, 5.0, 3.7, 2.6, 2.1},
		WetDays:       [12]float64{6, 6, 9, 9, 10, 9, 9, 9, 7, 6, 6, 6},
		PrecipMM:      [12]float64{12, 14, 32, 45, 60, 45, 50, 45, 32, 25, 20, 14},
		WindMS:        [12]float64{3.5, 3.6, 3.9, 4.2, 3.8, 3.5, 3.2, 3.1, 3.2, 3.3, 3.4, 3.4},
		SnowfallM:     [12]float64{0.17, 0.19, 0.28, 0.2, 0, 0, 0, 0, 0, 0.08, 0.2, 0.19},
		SnowDays:      [12]float64{4, 4, 5, 3, 0, 0, 0, 0, 0, 1, 3, 4},
	}
}

// The stationary covariance S = A S A' + B B' of the residuals has ones on its diagonal and the known day-to-day memory; with
// rows and columns changed it has 3.5. Sommer and Kaplan 2017 normalise the residuals so.
func TestChainIsStationaryWithVarianceOne(t *testing.T) {
	t.Parallel()
	var s [4][4]float64
	for range 2000 {
		var next [4][4]float64
		for i := range 4 {
			for j := range 4 {
				for k := range 4 {
					next[i][j] += chainB[i][k] * chainB[j][k]
					for l := range 4 {
						next[i][j] += chainA[i][k] * s[k][l] * chainA[j][l]
					}
				}
			}
		}
		s = next
	}
	memory := [4]float64{0.932, 0.426, 0.600, 0.667} // lag-one autocorrelation (A S)_ii, computed by hand from the same matrices
	for i := range 4 {
		near(t, "variance", s[i][i], 1, 0.005)
		lag := 0.0
		for k := range 4 {
			lag += chainA[i][k] * s[k][i]
		}
		near(t, "lag-one autocorrelation", lag, memory[i], 0.002)
	}
}

// The two polynomials and the lines of a deviation meet where they change over, within what their published digits give.
func TestDeviationsAreContinuous(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		name string
		d    deviation
	}{{"low wet", lowWetSD}, {"low dry", lowDrySD}, {"high wet", highWetSD}, {"high dry", highDrySD}} {
		for _, at := range []float64{row.d.coldest, 0, row.d.warmest} {
			if jump := row.d.at(at+1e-9) - row.d.at(at-1e-9); math.Abs(jump) > 0.6 { // the published digits leave 0.52 K at -40 °C
				t.Errorf("%s jumps by %.2f K at %g °C", row.name, jump, at)
			}
		}
		for c := -60.0; c < 50; c++ {
			if sd := row.d.at(c); sd < 0.3 || sd > 12 {
				t.Errorf("%s is %g K at %g °C", row.name, sd, c)
			}
		}
	}
}

func TestDailyKeepsMonthlyMeans(t *testing.T) {
	t.Parallel()
	n := hillNormals()
	for m, got := range monthMeans(daily(n.MeanLowC)) {
		near(t, "monthly mean", got, n.MeanLowC[m], 1e-6)
	}
}

// The distribution's mean is what was asked for, its quantiles integrate to it and rise.
func TestClearnessSpread(t *testing.T) {
	t.Parallel()
	for mean := 0.08; mean <= 0.75; mean += 0.01 {
		c := spreadOf(mean)
		sum, last := 0.0, 0.0
		const n = 4000
		for i := range n {
			k := c.quantile((float64(i) + 0.5) / n)
			if k < last || k < c.low-1e-9 || k > c.high+1e-9 {
				t.Fatalf("mean %g: quantile %g after %g, range %g to %g", mean, k, last, c.low, c.high)
			}
			sum, last = sum+k/n, k
		}
		near(t, "mean of the quantiles", sum, mean, 1e-3)
	}
	// 0.6313 + 0.267 0.49 - 11.9 (0.49-0.75)^8 by hand
	near(t, "highest at 0.49", spreadOf(0.49).high, 0.7619, 0.0001)
}

func TestTypicalMeetsItsNormals(t *testing.T) {
	t.Parallel()
	n := hillNormals()
	for seed := range uint64(2) {
		n.YearLowestKnown, n.YearLowestC = seed == 1, -29
		s, err := Typical(n, KnownPlace(40, -105, 1600), seed)
		if err != nil {
			t.Fatal(err)
		}
		allKnown(t, s)
		if len(s.Hours) != 8760 {
			t.Fatalf("%d hours", len(s.Hours))
		}
		if n.YearLowestKnown {
			near(t, "lowest of the year", yearFigures(s)[0], -29, 1.5)
		}
		for m, got := range s.Months() {
			near(t, "mean low", got.MeanLowC, n.MeanLowC[m], 0.1)
			near(t, "mean", got.MeanC, (n.MeanLowC[m]+n.MeanHighC[m])/2, 0.3)
			near(t, "mean high", got.MeanHighC, n.MeanHighC[m], 0.1)
			near(t, "sun of the month over its normal", got.GlobalKWhM2/(n.DailySunKWhM2[m]*float64(daysIn[m])), 1, 0.05)
			near(t, "precipitation", got.RainMM, n.PrecipMM[m], 1e-6)
			near(t, "wind", got.WindMS, n.WindMS[m], 0.3) // lines between noons cross the months
			near(t, "snowfall", got.SnowfallM, n.SnowfallM[m], 1e-9)
		}
	}
}

// The same seed gives the same year, another gives another.
func TestTypicalIsDeterministic(t *testing.T) {
	t.Parallel()
	make := func(seed uint64) Series {
		n := hillNormals()
		n.DailySunKWhM2, n.Clearness = [12]float64{}, [12]float64{0.4, 0.45, 0.48, 0.48, 0.48, 0.5, 0.52, 0.52, 0.5, 0.45, 0.4, 0.36}
		s, err := Typical(n, KnownPlace(47, 10, 900), seed)
		if err != nil {
			t.Fatal(err)
		}
		return s
	}
	a, b, c := make(7), make(7), make(8)
	differ := 0
	for i := range a.Hours {
		if a.Hours[i] != b.Hours[i] {
			t.Fatalf("hour %d differs with the same seed", i)
		}
		if a.Hours[i].AirC != c.Hours[i].AirC {
			differ++
		}
	}
	if differ < 8000 {
		t.Errorf("only %d hours differ with another seed", differ)
	}
}

// Over many generated years: wet days are duller, the share of wet days is the normal, days remember the day before as the chain says.
func TestGeneratedDays(t *testing.T) {
	t.Parallel()
	n := hillNormals()
	clearness := [12]float64{}
	for m := range clearness {
		clearness[m] = 0.5
	}
	var wet, count, wetCloud, dryCloud float64
	random := rand.New(rand.NewPCG(1, 2))
	var cold []float64
	for range 60 {
		days := chainDays(n, clearness, random)
		for d := range 31 {
			count++
			if days[d].wet {
				wet++
				wetCloud += days[d].cloud
			} else {
				dryCloud += days[d].cloud
			}
			cold = append(cold, days[d].lowC)
		}
	}
	near(t, "share of wet days in January", wet/count, 6.0/31, 0.02)
	if !(wetCloud/wet > dryCloud/(count-wet)+0.15) {
		t.Errorf("cloud is %.2f on wet and %.2f on dry days", wetCloud/wet, dryCloud/(count-wet))
	}
	var sd float64
	for _, v := range cold {
		sd += (v + 12) * (v + 12) / count
	}
	// by hand from Sommer and Kaplan's polynomials: 6.61 K on dry days at -12.8 °C, 5.53 K on wet ones at -10.3 °C; together with
	// the difference of their means 6.48 K
	near(t, "deviation of January lows", math.Sqrt(sd), 6.48, 0.4)
}

func TestNormalsFindings(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		name   string
		change func(*Normals)
	}{
		{"high under low", func(n *Normals) { n.MeanHighC[3] = -2 }}, {"wet days", func(n *Normals) { n.WetDays[1] = 29 }},
		{"no sun", func(n *Normals) { n.DailySunKWhM2 = [12]float64{} }}, {"too much sun", func(n *Normals) { n.DailySunKWhM2[0] = 9 }},
		{"not a number", func(n *Normals) { n.MeanLowC[0] = math.NaN() }}, {"snow on no day", func(n *Normals) { n.SnowDays[0] = 0 }},
		{"lowest of the year", func(n *Normals) { n.YearLowestKnown = true }}, {"mean", func(n *Normals) { n.MeanC = make([]float64, 12) }},
		{"rain on no day", func(n *Normals) { n.WetDays[0] = 0 }}, {"dew points", func(n *Normals) { n.DewPointC = []float64{1} }},
	} {
		n := hillNormals()
		row.change(&n)
		if _, err := Typical(n, KnownPlace(40, -105, 1600), 1); err == nil {
			t.Errorf("%s was taken", row.name)
		}
	}
}

// Whatever the day's clearness, the hours' sun adds up to it, is never negative, and none falls at night.
func TestHourlySunAddsUpToItsDay(t *testing.T) {
	t.Parallel()
	s := emptySeries(time.Date(2001, 3, 1, 0, 0, 0, 0, mountain), 24)
	s.Place = KnownPlace(45, -105, 1000)
	suns := sunHours(s)
	random, y := rand.New(rand.NewPCG(1, 1)), 0.0
	for K := 0.05; K < 0.74; K += 0.03 {
		got, extra := 0.0, 0.0
		for i, g := range hourlySun(K, suns, &y, random) {
			if g < 0 || (g > 0 && suns[i].UpShare == 0) || g > 0.89*extraLevelWM2(suns[i]) {
				t.Fatalf("clearness %.2f: %g W/m2 in hour %d of %g outside the air", K, g, i, extraLevelWM2(suns[i]))
			}
			got, extra = got+g, extra+extraLevelWM2(suns[i])
		}
		near(t, "clearness of the day", got/extra, K, 0.005)
	}
}
