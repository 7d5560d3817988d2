package weather

import (
	"fmt"
	"math"
	"math/rand/v2"
	"path/filepath"
	"testing"
	"time"
)

// Each wanted variance of the mean is reckoned by hand from the formula for variances and covariances of sums.
func TestDeviationOfAMean(t *testing.T) {
	t.Parallel()
	half := math.Sqrt(1 - 0.25)
	// two independent chains of variance 1: the first keeps one half, the second nothing
	keeps, adds := [4][4]float64{{0.5}}, [4][4]float64{{half}, {0, 1}}
	for _, row := range []struct {
		what     string
		weights  residuals
		days     int
		variance float64
	}{
		{"one day", residuals{1}, 1, 1},
		{"two days: (1+1+2/2)/4", residuals{1}, 2, 0.75},
		{"three days: (3 + 4/2 + 2/4)/9", residuals{1}, 3, 5.5 / 9},
		{"four days: (4 + 6/2 + 4/4 + 2/8)/16", residuals{1}, 4, 8.25 / 16},
		{"white noise of five days", residuals{0, 3}, 5, 9.0 / 5},
		{"both, two days: 0.75 + 4/2", residuals{1, 2}, 2, 2.75},
		{"nothing", residuals{}, 3, 0},
	} {
		near(t, row.what, meanDeviation(keeps, adds, row.weights, row.days), math.Sqrt(row.variance), 1e-12)
	}
	// the second keeps half of what the first was the day before: S12 = 0.5*0.5*S11 = 0.25, cov(r2 today, r1 before) = 0.5
	follows := [4][4]float64{{0.5}, {0.5}}
	adds[1] = [4]float64{0, half}
	near(t, "variance of the sum of both: 1 + 1 + 2/4", meanDeviation(follows, adds, residuals{1, 1}, 1), math.Sqrt(2.5), 1e-12)
	// lag one of the sum: w'a S w = (0.5 + 0.5)(S11 + S12) = 1.25; two days: (2 2.5 + 2 1.25)/4
	near(t, "its mean over two days", meanDeviation(follows, adds, residuals{1, 1}, 2), math.Sqrt(7.5/4), 1e-12)
}

// The generator itself makes means of twelve days with that deviation: 4,000 of them leave an error of about 2 %.
func TestDeviationOfAMeanIsTheGenerators(t *testing.T) {
	t.Parallel()
	const means, days = 4000, 12
	random := rand.New(rand.NewPCG(3, 4))
	weights := residuals{2.5, 1.5}
	var r residuals
	squares := 0.0
	for range means {
		for range 40 { // a month apart the chain has forgotten 95 %
			r = r.next(random)
		}
		mean := 0.0
		for range days {
			r = r.next(random)
			mean += dot(weights, r) / days
		}
		squares += mean * mean / means
	}
	want := meanDeviation(chainA, chainB, weights, days)
	near(t, "deviation of generated means over the derived", math.Sqrt(squares)/want, 1, 0.05)
}

func TestDullSpell(t *testing.T) {
	t.Parallel()
	n := hillNormals()
	n.MeanLowC[0] = -13
	s, month, err := n.DullSpell(1)
	if err != nil || month != time.January {
		t.Fatal(month, err)
	}
	// by hand: wet-day mean low 1.1647 - 0.9558 13 = -11.26, high -0.5863 + 0.9487 = 0.3624; the polynomials there are 5.7091 and 3.7827 K; S is the
	// chain's covariance
	c := stationary(chainA, chainB)
	low, high := 5.7091/2, 3.7827/2
	near(t, "mean of one day", s.MeanC, -6-2*math.Sqrt(low*low*c[0][0]+high*high*c[1][1]+2*low*high*c[0][1]), 1e-4)
	// Bristow and Campbell by hand: B = 0.036 exp(-2.156) = 0.0041684, ln(1/(1-0.12/0.7)) = 0.188052, (45.114)^(1/2.4) = 4.890
	near(t, "swing", s.SwingK, 4.890, 0.0005)
	if s.Clearness != 0.12 || s.Cloud != 1 || s.WindMS != 3.5 || s.Days != 1 {
		t.Errorf("spell is %+v", s)
	}
	n.YearLowestC, n.YearLowestKnown = -16.5, true
	held, _, err := n.DullSpell(1)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "held by the lowest of the year", held.MeanC-held.SwingK/2, -16.5, 1e-9)
	for _, days := range []int{0, -1, 61} {
		if _, _, err := n.DullSpell(days); err == nil {
			t.Errorf("%d days were taken", days)
		}
	}
	n.WetDays[0] = 40
	if _, _, err := n.DullSpell(5); err == nil {
		t.Error("normals with 40 wet days were taken")
	}
}

// A longer spell is milder on the mean and never milder than its month; colder normals give a colder spell; the swing is never more than the month's.
func TestDullSpellLaws(t *testing.T) {
	t.Parallel()
	for shift := -35.0; shift <= 10; shift += 0.5 {
		n, colder := hillNormals(), hillNormals()
		for m := range 12 {
			n.MeanLowC[m] += shift
			n.MeanHighC[m] += shift
			colder.MeanLowC[m] += shift - 2
			colder.MeanHighC[m] += shift - 2
		}
		last := math.Inf(-1)
		for days := 1; days <= 60; days++ {
			s, m, err := n.DullSpell(days)
			if err != nil {
				t.Fatal(err)
			}
			c, _, err := colder.DullSpell(days)
			if err != nil {
				t.Fatal(err)
			}
			where := fmt.Sprintf("normals moved by %g K, %d days", shift, days)
			if !(s.MeanC > last && s.MeanC < n.meanOf(int(m)-1)) {
				t.Errorf("%s: mean is %g after %g, the month's %g", where, s.MeanC, last, n.meanOf(int(m)-1))
			}
			if !(c.MeanC < s.MeanC) {
				t.Errorf("%s: mean is %g, of normals 2 K colder %g", where, s.MeanC, c.MeanC)
			}
			last = s.MeanC
		}
	}
	for k := 1.0; k < 30; k++ {
		if s := dullSwing(k); !(s > 0 && s <= k && s >= dullSwing(k-0.5)) {
			t.Errorf("of %g K a month %g K are left", k, s)
		}
	}
}

// A spell is set into a typical year over its end; snow stays; what lies outside is untouched.
func TestWithSpell(t *testing.T) {
	t.Parallel()
	year, err := Typical(hillNormals(), KnownPlace(40, -105, 1600), 2)
	if err != nil {
		t.Fatal(err)
	}
	from := time.Date(2001, 12, 29, 0, 0, 0, 0, year.Start.Location())
	got, err := year.WithSpell(coldSpell(), from)
	if err != nil {
		t.Fatal(err)
	}
	first, after := 362*24, 2*24
	mean := 0.0
	for i := range got.Hours {
		in := i >= first || i < after
		if in {
			mean += got.Hours[i].AirC / 120
		}
		if !in && !sameHour(got.Hours[i], year.Hours[i]) {
			t.Fatalf("hour %d outside the spell changed", i)
		}
		if got.Hours[i].SnowfallM != year.Hours[i].SnowfallM || in && got.Hours[i].RainMM != 0 {
			t.Fatalf("hour %d: snowfall %g, rain %g", i, got.Hours[i].SnowfallM, got.Hours[i].RainMM)
		}
	}
	near(t, "mean of the spell", mean, -12, 1e-9)
	note := got.Notes[len(got.Notes)-1]
	if note.Kind != Made || note.Hours != 120 || !note.From.Equal(from) {
		t.Errorf("note is %v", note)
	}
	year.TypicalYear = false
	for _, from := range []time.Time{from, year.Start.Add(-time.Hour), year.Start.Add(time.Minute), year.End()} {
		if _, err := year.WithSpell(coldSpell(), from); err == nil {
			t.Errorf("a spell from %s was set into one calendar year", from)
		}
	}
}

// A spell from the normals of a published typical year is held against the coldest days of that year, whatever their sky: over 12 days it is the
// colder, over 5 days up to 5 K milder, since those days are clear. Cut Bank, Montana, where the air mass changes within hours, is beyond the
// generator: its spell is 2.3 K (12 days) and 8.1 K (5 days) milder than its coldest days, and that is held as what it is.
func TestDullSpellAgainstTypicalYears(t *testing.T) {
	t.Parallel()
	files, err := filepath.Glob(filepath.Join(reference(t), "weather", "72*TYA.CSV.gz"))
	if err != nil || len(files) < 15 {
		t.Fatalf("%d files, %v", len(files), err)
	}
	for _, file := range files {
		s, err := Open(file, ReadOptions{})
		if err != nil {
			t.Fatal(err)
		}
		n := Normals{MeanC: make([]float64, 12), YearLowestKnown: true, YearLowestC: yearFigures(s)[0]}
		for m, month := range s.Months() {
			n.MeanLowC[m], n.MeanHighC[m], n.MeanC[m] = month.MeanLowC, month.MeanHighC, month.MeanC
			n.DailySunKWhM2[m] = month.GlobalKWhM2 / float64(daysIn[m])
		}
		milder := map[int]float64{5: 5, 12: 0}
		if filepath.Base(file) == "727796TYA.CSV.gz" { // Cut Bank
			milder = map[int]float64{5: 8.2, 12: 2.4}
		}
		for _, days := range []int{5, 12} {
			spell, _, err := n.DullSpell(days)
			if err != nil {
				t.Fatal(err)
			}
			_, coldest, _ := s.Coldest(24 * days)
			if !(spell.MeanC <= coldest+milder[days]) {
				t.Errorf("%s: %d days at %.1f °C, in the year %.1f", filepath.Base(file), days, spell.MeanC, coldest)
			}
		}
	}
}
