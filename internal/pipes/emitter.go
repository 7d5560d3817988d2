package pipes

import "math"

// Dripper is an emitter of a drip line: flow = Rated (head/RatedHead)^Exponent.
//
// Source: Keller and Karmeli, Trickle irrigation design parameters, Transactions of the ASAE 17:678, 1974, eq. 1.
type Dripper struct {
	Rated     float64 // flow at the rated head [m³/s]
	RatedHead float64 // [m]
	Exponent  float64 // 0 keeps its flow, 0.5 is a hole, 1 is laminar
}

// leastExponent is the least that is reckoned with; below it a dripper keeps its flow within a tenth from half its rated head to three times it.
const leastExponent = 0.05

// Flow is what drips under a head [m³/s], nothing where the head is not above 0.
func (d Dripper) Flow(head float64) float64 {
	return d.Rated * math.Pow(max(0, head)/d.RatedHead, max(leastExponent, d.Exponent))
}

// head is what a flow takes [m]. The other way nearly nothing goes.
func (d Dripper) head(flow float64) float64 {
	if flow < 0 {
		return shutDripper * d.RatedHead / d.Rated * flow
	}
	return d.RatedHead * math.Pow(flow/d.Rated, 1/max(leastExponent, d.Exponent))
}

// Evenness is the emission uniformity of new drippers [1]: how much the driest quarter gets of the mean, from how heads and making differ.
//
//	EU = (1 - 1.27 v / sqrt n) q_least/q_mean
//
// variation is v, the standard deviation of flow over its mean; each is how many drippers a plant has, n. Nothing drips: 0.
//
// Source: Keller and Karmeli 1974, eq. 10, from memory.
func Evenness(flows []float64, variation float64, each int) float64 {
	least, sum := math.Inf(1), 0.0
	for _, q := range flows {
		least, sum = min(least, q), sum+q
	}
	if sum <= 0 {
		return 0
	}
	return max(0, 1-1.27*variation/math.Sqrt(float64(each))) * least * float64(len(flows)) / sum
}
