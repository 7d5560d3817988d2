package validation

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/stat"

	"suncellar/internal/chance"
)

// coverageWords are what the section says.
func coverageWords() string {
	return fmt.Sprintf(`%d made houses stand at the places of three records; each truly is what was drawn for it from what is not known of houses, and truly meets a winter of blocks of %d days of its record, run on the full
mesh from 1 December, the lowest of 15 December to 15 February taken. The band is told without knowing either: %d drawn houses, each in a winter made from the record's monthly figures, on the reduced ground; without
the lean to the cold that answers from made winters add. Houses, seeds and places were committed before the first run (validation/coverage_inputs_test.go);
fifteen houses whose drawn drums did not fit could not be computed then, and were given drums that do. The interval score is the width and ten times
what lies outside (Gneiting and Raftery 2007); the band of fixed width lies about the same middles and misses as many on either side.

**This tests the machinery, not the physics**: truth and band come from one model, and the truth is drawn from the very spreads that the band assumes. That bands are right in a real garden is not shown by it. The rows
stand in validation/coverage.csv; make coverage computes all houses anew, .ci/run ten of them.`, coverageHouses, coverageBlock, coverageDraws)
}

// intervalScore is that of a band of 80 %, small where it is narrow and holds the truth: hi - lo + 10 (lo - x)+ + 10 (x - hi)+ [K]. Source: Gneiting and Raftery, Strictly proper scoring rules, prediction,
// and estimation, Journal of the American Statistical Association 102:359, 2007, equation 43 (from memory), with alpha 0.2.
func intervalScore(lo, hi, x float64) float64 {
	return hi - lo + 10*math.Max(0, lo-x) + 10*math.Max(0, x-hi)
}

// heldBand is what bands of one figure come to over houses.
type heldBand struct {
	n, below, above   int // truths colder than the band, and warmer
	width, score      float64
	fixedWidth, fixed float64 // width and score of a band of fixed width
}

func (h heldBand) share() float64 { return float64(h.n-h.below-h.above) / float64(h.n) }

// holdBands counts truths in their bands. The band of fixed width reaches as far below and above each middle as leaves out as many truths on either side.
func holdBands(truth []float64, bands []chance.Band) heldBand {
	h := heldBand{n: len(truth)}
	n := float64(len(truth))
	off := make([]float64, len(truth))
	for i, x := range truth {
		b := bands[i]
		switch {
		case x < b.Lo:
			h.below++
		case x > b.Hi:
			h.above++
		}
		h.width += (b.Hi - b.Lo) / n
		h.score += intervalScore(b.Lo, b.Hi, x) / n
		off[i] = x - b.Middle
	}
	return h.about(off)
}

// about sets the band of fixed width, from how far truths lie from where it stands.
func (h heldBand) about(off []float64) heldBand {
	sorted := slices.Sorted(slices.Values(off))
	lo, hi := sorted[h.below], sorted[len(sorted)-1-h.above]
	h.fixedWidth, h.fixed = hi-lo, 0
	for _, d := range off {
		h.fixed += intervalScore(lo, hi, d) / float64(len(off))
	}
	return h
}

// fixedAbout is the same with a band of fixed width about what one run tells.
func (h heldBand) fixedAbout(rows []coverageRow, f int) heldBand {
	var off []float64
	for _, r := range rows {
		off = append(off, r.truth[f]-r.one[f])
	}
	return h.about(off)
}

// holdCoverage adds the rows of a figure.
func holdCoverage(s *section, f int, rows []coverageRow) {
	name := coverageFigures[f].name
	of := func(place string) heldBand {
		var truth []float64
		var bands []chance.Band
		for _, r := range rows {
			if place == "" || r.place == place {
				truth, bands = append(truth, r.truth[f]), append(bands, r.band[f])
			}
		}
		return holdBands(truth, bands)
	}
	all := of("")
	sampling := math.Sqrt(0.8 * 0.2 / float64(all.n))
	s.add(row{name: name + ": truths in their 80 % bands", published: "80 %", computed: fmt.Sprintf("%.1f %%; %d colder, %d warmer", 100*all.share(), all.below, all.above),
		allowed: fmt.Sprintf("%.0f to %.0f %%", 100*coverageLeast, 100*coverageMost), mark: selfmade, met: all.share() >= coverageLeast && all.share() <= coverageMost,
		note: fmt.Sprintf("sampling error of %d houses ±%.1f %%", all.n, 100*sampling)})
	better := 1 - all.score/all.fixed
	s.add(row{name: name + ": interval score beside a band of fixed width", published: fmt.Sprintf("%.2f K, %.1f K wide", all.fixed, all.fixedWidth),
		computed: fmt.Sprintf("%.2f K, %.1f K wide; %.0f %% better", all.score, all.width, 100*better), allowed: fmt.Sprintf("%.0f %% better", 100*coverageBetter), mark: selfmade, met: better >= coverageBetter, missed: whyCoverage})
	s.tell(name+": how wide the bands are, and whether the wider ones missed by more", "", fmt.Sprintf("deviation of widths %.0f %%; correlation of width with distance from the middle %.2f", 100*widthDeviation(rows, f), widthTells(rows, f)),
		"a correlation near 0: the widths tell nothing of one house beside another")
	margin := all.fixedAbout(rows, f)
	s.tell(name+": interval score beside one run with a margin", fmt.Sprintf("%.2f K, %.1f K wide", margin.fixed, margin.fixedWidth), fmt.Sprintf("%.2f K; %.0f %% better", all.score, 100*(1-all.score/margin.fixed)),
		"not judged, computed after the first run: one run of the plan as written in the typical winter of its climate, about which a band of fixed width misses as many truths on either side")
	for _, place := range coveragePlaces {
		at := winterRecords[place.record].name
		if h := of(at); h.n > 0 {
			s.tell(fmt.Sprintf("%s: %d houses at %s", name, h.n, at), "80 %", fmt.Sprintf("%.1f %%; %d colder, %d warmer; %.1f K wide", 100*h.share(), h.below, h.above, h.width), "")
		}
	}
}

// widthDeviation is by how much of their mean the widths of bands deviate.
func widthDeviation(rows []coverageRow, f int) float64 {
	mean, sd := stat.MeanStdDev(widths(rows, f), nil)
	return sd / mean
}

// widthTells is the correlation of the widths with how far truths lie from the middles of their bands.
func widthTells(rows []coverageRow, f int) float64 {
	var off []float64
	for _, r := range rows {
		off = append(off, math.Abs(r.truth[f]-r.band[f].Middle))
	}
	return stat.Correlation(widths(rows, f), off, nil)
}

func widths(rows []coverageRow, f int) []float64 {
	var list []float64
	for _, r := range rows {
		list = append(list, r.band[f].Hi-r.band[f].Lo)
	}
	return list
}

// betterAt is by how much bands of coverageDraws lowests are better than one of fixed width, where nothing but the spread of houses differs: lowests are normal, and spreads lognormal
// with a deviation of so much of their mean. It tells what can be asked of bands of so few draws.
func betterAt(deviation float64) float64 {
	const houses = 20000
	random := rand.New(rand.NewPCG(7, 29))
	width := math.Sqrt(math.Log(1 + deviation*deviation))
	var truth []float64
	var bands []chance.Band
	for range houses {
		spread := math.Exp(width*random.NormFloat64() - width*width/2)
		var lows []float64
		for range coverageDraws {
			lows = append(lows, spread*random.NormFloat64())
		}
		truth, bands = append(truth, spread*random.NormFloat64()), append(bands, chance.BandOf(lows))
	}
	h := holdBands(truth, bands)
	return 1 - h.score/h.fixed
}

// whyCoverage is said of misses of the score. The share of truths in their bands has none: a miss of it fails the test.
const whyCoverage = "The bands hold as often as they say, but they are nearly alike: three cold inland climates and one table of spreads act on all these houses much the same, so that what is wider of one band than of another is " +
	"mostly the chance of its draws, and a single width, fitted to what came true afterwards, serves as well. The last row of this section says by how much the true spreads of houses would have to differ for a tenth: by nearly half of their mean. " +
	"Whether they do where growers know more of one house than of another, these houses do not show."

func TestIntervalScore(t *testing.T) {
	for _, c := range []struct{ lo, hi, x, want float64 }{{0, 2, 1, 2}, {0, 2, -0.5, 7}, {0, 2, 2.25, 4.5}, {1, 1, 1, 0}} {
		if got := intervalScore(c.lo, c.hi, c.x); got != c.want {
			t.Errorf("band %g to %g, truth %g: score %g, want %g", c.lo, c.hi, c.x, got, c.want)
		}
	}
}

// Bands twice as wide for truths that lie twice as far off are better than one width for all; where all are alike a fixed width does as well.
func TestHoldBands(t *testing.T) {
	var truth []float64
	var bands, alike []chance.Band
	for i := range 100 {
		u := (float64(i/2) + 0.5) / 50 // 0 to 1
		wide := 1 + 3*float64(i%2)
		truth = append(truth, wide*(u-0.5))
		bands, alike = append(bands, chance.Band{Lo: -0.4 * wide, Hi: 0.4 * wide}), append(alike, chance.Band{Lo: -1, Hi: 1})
	}
	h := holdBands(truth, bands)
	if h.below != 10 || h.above != 10 || h.share() != 0.8 {
		t.Errorf("%d colder, %d warmer, %.2f in their bands; want 10, 10, 0.8", h.below, h.above, h.share())
	}
	if better := 1 - h.score/h.fixed; better < 0.1 {
		t.Errorf("bands that know which truths lie far off are %.0f %% better, want 10 at least", 100*better)
	}
	if h = holdBands(truth, alike); math.Abs(h.score-h.fixed) > 0.1*h.fixed {
		t.Errorf("one width for all scores %.2f, the fixed width %.2f", h.score, h.fixed)
	}
}
