package chance

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"

	"suncellar/internal/numeric"
	"suncellar/internal/unknown"
)

// eightInTen is that of what is not known: all bands here are of 80 %.
const eightInTen = unknown.EightInTen

// Share is how many of so many winters, with the band in which the true chance lies in 8 of 10 cases.
//
//	(k + z²/2 ± z sqrt(k (n-k)/n + z²/4)) / (n + z²)
//
// Holds for any k and n above 0. Source: Wilson, Probable inference, the law of succession, and statistical inference, Journal of the American Statistical
// Association 22:209, 1927.
type Share struct {
	Of, Winters int
	Lo, Hi      float64
}

func shareOf(k, n int) Share {
	s := Share{Of: k, Winters: n, Hi: 1}
	if n == 0 {
		return s
	}
	const z = eightInTen
	middle, all := float64(k)+z*z/2, float64(n)+z*z
	half := z * math.Sqrt(float64(k)*float64(n-k)/float64(n)+z*z/4)
	s.Lo, s.Hi = max(0, (middle-half)/all), min(1, (middle+half)/all)
	return s
}

// Value is the share itself, 0 to 1; NaN of no winters.
func (s Share) Value() float64 { return float64(s.Of) / float64(s.Winters) }

// Return is the lowest that is met or passed once in so many winters on average.
type Return struct {
	Years  int
	C      float64 // NaN where the winters are too few to tell [°C]
	Lo, Hi float64 // band of its own error: NaN where the sample has no end that is cold (or mild) enough [°C]
}

// returnOf takes a return level from a sorted sample of lowests. Its band is of ranks, free of any form of distribution: with B binomial of n winters and
// chance 1/years,
//
//	Lo = x_l, the greatest l with P(B < l) <= 0.1;  Hi = x_u, the least u with P(B >= u) <= 0.1
//
// Where l would be 0, the coldest winter of the sample is not cold enough to bound it: Lo is NaN. Source: David and Nagaraja, Order Statistics, 3rd edition 2003,
// section 7.1; from memory.
func returnOf(sorted []float64, years int) Return {
	r := Return{Years: years, C: math.NaN(), Lo: math.NaN(), Hi: math.NaN()}
	n, p := len(sorted), 1/float64(years)
	if n+1 < years {
		return r
	}
	r.C = numeric.Quantile(sorted, p)
	b := distuv.Binomial{N: float64(n), P: p}
	for k := 1; k <= n; k++ {
		fewer := b.CDF(float64(k - 1))
		if fewer <= 0.1 {
			r.Lo = sorted[k-1]
		}
		if 1-fewer <= 0.1 {
			r.Hi = sorted[k-1]
			break
		}
	}
	return r
}

// largestFirst puts inputs in order of their share.
func largestFirst(list []Input) []Input {
	slices.SortStableFunc(list, func(x, y Input) int { return cmp.Compare(y.Share, x.Share) })
	return list
}

// Band is the 80 % band of a sample: a tenth lies below Lo, a tenth above Hi.
type Band struct{ Lo, Middle, Hi float64 }

// BandOf is the band of a sample in any order, as every answer of many winters or houses takes it; see quantile. NaN of no values.
func BandOf(sample []float64) Band {
	s := slices.Clone(sample)
	slices.Sort(s)
	return Band{numeric.Quantile(s, 0.1), numeric.Quantile(s, 0.5), numeric.Quantile(s, 0.9)}
}
