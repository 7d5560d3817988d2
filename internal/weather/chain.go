package weather

import "math"

// The day-to-day memory of the years (years.go). The residuals of Sommer and Kaplan remember the lowest temperature by 0.93 from a day to the next, more than
// stations do (0.67 to 0.70), and the highest by 0.43, less than they do: their chain carries in its days what in truth is carried by months. The years keep the two apart: days
// remember as those of stations do, months have an anomaly of their own, whose size is what the other chain has beyond this one.

// stationA and stationB are the chain of the residuals of stations, rows as residuals: lowest, highest, cloud, root of wind. The source has highest, lowest and
// sun in that order; here cloud is sun with its sign changed. Wind has the memory of chainA and no relation with the rest: the source has no wind.
//
// Source: Richardson and Wright 1984, matrices averaged over stations of the United States; of wind Sommer and Kaplan 2017.
var (
	stationA = [4][4]float64{
		{0.504, 0.253, 0.050, 0},
		{0.086, 0.567, 0.002, 0},
		{0.039, 0.006, 0.244, 0},
		{0, 0, 0, windMemory},
	}
	stationB = [4][4]float64{
		{0.328, 0.637, 0, 0},
		{0.781, 0, 0, 0},
		{-0.238, 0.341, 0.873, 0},
		{0, 0, 0, windNew},
	}
)

// windMemory is what the root of wind keeps from day to day; windNew = sqrt(1 - windMemory²).
const (
	windMemory = 0.666672
	windNew    = 0.745356
)

// monthDays is a month, for the means over months of a chain [d].
const monthDays = 30

// blockCorrelation is the correlation of the means of weights'r over two blocks of n days, one after the other, in the stationary chain of a and b:
//
//	c = sum_{k=1}^{2n-1} (n - |k-n|) rho_k / (n + 2 sum_{k=1}^{n-1} (n-k) rho_k)
//
// with rho_k as in meanDeviation, which has the denominator and the source.
func blockCorrelation(a, b [4][4]float64, weights residuals, n int) float64 {
	lagged := times(stationary(a, b), weights)
	one := dot(weights, lagged) * float64(n)
	two := 0.0
	for k := 1; k < 2*n; k++ {
		lagged = times(a, lagged)
		rho := dot(weights, lagged)
		two += float64(n-abs(k-n)) * rho
		if k < n {
			one += 2 * float64(n-k) * rho
		}
	}
	if one == 0 {
		return 0
	}
	return two / one
}

func abs(i int) int {
	if i < 0 {
		return -i
	}
	return i
}

// stationaryShare is the share of wet days that the chain of wet and dry days comes to where each day is drawn with the given share (wetChance).
func stationaryShare(share float64) float64 {
	dryAfterWet := 1 - wetChance(share, true, false) // of the days after a wet one
	afterWet, afterDry := wetChance(share, false, true), wetChance(share, false, false)
	// w = w (1 - d) + w d p + (1 - w - w d) q, the flows of the three states
	return afterDry / (dryAfterWet*(1-afterWet) + afterDry*(1+dryAfterWet))
}

// drawnShare is the share to draw with, so that in the long run the given share of days is wet: the published chances come within 0.015 of it by themselves.
func drawnShare(wanted float64) float64 {
	if wanted <= 0 || wanted >= 1 {
		return wanted
	}
	low, high := 0.0, 1.0
	for range 50 {
		if middle := (low + high) / 2; stationaryShare(middle) < wanted {
			low = middle
		} else {
			high = middle
		}
	}
	return (low + high) / 2
}

// slowMemory keeps what the anomalies of months are made of.
type slowMemory struct {
	fromMonth float64 // correlation of a month's anomaly with that of the month before
	spread    float64 // deviation of the month's mean of straight lines between such anomalies of deviation 1
}

// slowMemoryOf is the memory of months in the chain of Sommer and Kaplan 2017, whose days carry it: the correlation of the means of two blocks of 30 days of lowest and
// highest alike. The mean of a month of straight lines between the middles of months holds an eighth of each neighbour.
func slowMemoryOf() slowMemory {
	phi := blockCorrelation(chainA, chainB, residuals{0.5, 0.5}, monthDays)
	variance := 9./16 + 2./64 + 3./8*phi + phi*phi/32
	return slowMemory{phi, math.Sqrt(variance)}
}
