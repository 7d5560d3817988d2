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

// nearDry is the head below which a dripper's law goes straight to nothing, so that it has a slope there [m].
const nearDry = 1e-4

// Flow is what drips under a head [m³/s] and its slope over the head [m²/s]; nothing, and no slope, where the head is not above 0.
func (d Dripper) Flow(head float64) (flow, slope float64) {
	switch {
	case head <= 0:
		return 0, 0
	case head < nearDry:
		f := d.Rated * math.Pow(nearDry/d.RatedHead, d.Exponent)
		return f * head / nearDry, f / nearDry
	}
	flow = d.Rated * math.Pow(head/d.RatedHead, d.Exponent)
	return flow, flow * d.Exponent / head
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
