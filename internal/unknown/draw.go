package unknown

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"suncellar/internal/plan"
)

// Cut is how many standard deviations a draw goes at most. The spreads are judged from what is usual, and say nothing of one house in
// four hundred: at 4 a leakage would be sixteen times the plan's. The standard deviation of what is drawn is 0.987 of the whole.
const Cut = 3.0

// Draw draws a house: for each input how many standard deviations it lies from the plan, independent standard normals cut at Cut either
// way. It takes one number of random for each row of the table, of inputs that are switched off or that the house does not have too: so
// two plans that are drawn with the same dice have the same leakage, whether one has a cover and the other none.
func Draw(inputs []Input, random *rand.Rand) []float64 {
	half := math.Erf(Cut / math.Sqrt2) // share within Cut
	drawn := map[string]float64{}
	for i := range priors {
		drawn[priors[i].id] = math.Sqrt2 * math.Erfinv(half*(2*random.Float64()-1))
	}
	z := make([]float64, len(inputs))
	for i := range inputs {
		z[i] = drawn[inputs[i].ID]
	}
	return z
}

// drawStream keeps the random numbers of drawn houses apart from those of other makers with the same seed.
const drawStream = 0x686f75736573

// UsualHouses is how many houses are drawn where nobody says: one standard error of an end is then
// a twelfth of the width of the band (of a normal one: sqrt(0.09/60) / 0.1755 of 2.56 standard deviations).
const UsualHouses = 60

// Houses draws n houses, each as Draw has it. The same seed gives the same houses, and to two plans the same of what both have. nil where nothing is unknown.
func Houses(inputs []Input, seed uint64, n int) [][]float64 {
	if !slices.ContainsFunc(inputs, func(in Input) bool { return in.On }) {
		return nil
	}
	random := rand.New(rand.NewPCG(seed, drawStream))
	var list [][]float64
	for range n {
		list = append(list, Draw(inputs, random))
	}
	return list
}

// Clamp is a value that was set to the limit of what a plan may hold.
type Clamp struct {
	ID, Path     string
	Wanted, Held float64 // in the unit of its kind
}

// String tells it, in the units of the plan's kinds.
func (c Clamp) String() string {
	return fmt.Sprintf("%s: %s would be %.4g, held at %.4g", c.ID, c.Path, c.Wanted, c.Held)
}

// Apply is the plan with all inputs moved at once, by z[i] standard deviations each, in whatever order they stand; see Settle.
func Apply(p *plan.Plan, inputs []Input, z []float64) (*plan.Plan, error) {
	q, _, err := Settle(p, inputs, z)
	return q, err
}

// Settle is Apply, and tells which values were held at a limit. Conductivity of the soil is moved about what it is at the moisture that
// was drawn. The plan that comes of it has no key unknown: it is one house. inputs have to be those of p; an error is a finding, and then
// p itself was no good plan.
func Settle(p *plan.Plan, inputs []Input, z []float64) (*plan.Plan, []Clamp, error) {
	if len(z) != len(inputs) {
		panic(fmt.Sprintf("unknown: %d numbers for %d inputs", len(z), len(inputs)))
	}
	var clamps []Clamp
	var changes []plan.Change
	if p.Unknown != (plan.Unknown{}) {
		changes = append(changes, plan.Change{Path: "unknown", Value: "none", Origin: plan.Changed})
	}
	q := p
	for _, late := range []bool{false, true} {
		for i := range inputs {
			if inputs[i].late == late {
				more, held := inputs[i].settle(q, z[i])
				changes, clamps = append(changes, more...), append(clamps, held...)
			}
		}
		if len(changes) == 0 {
			continue
		}
		var findings []plan.Finding
		q, findings = q.Apply(changes...)
		if err := plan.AsError(findings); err != nil {
			return nil, clamps, fmt.Errorf("drawing a house: %w", err)
		}
		changes = nil
	}
	return q, clamps, nil
}

// settle is the changes of one input to a plan in which others may have moved.
func (in *Input) settle(p *plan.Plan, z float64) (changes []plan.Change, clamps []Clamp) {
	if math.IsNaN(z) {
		panic("unknown: " + in.ID + " is moved by no number")
	}
	if z == 0 || !in.On {
		return nil, nil
	}
	for _, v := range in.values(p) {
		wanted := in.spread.value(v.at, z)
		x := within(v.path, wanted)
		if x != wanted {
			clamps = append(clamps, Clamp{in.ID, v.path, wanted, x})
		}
		changes = append(changes, write(p, v.path, x))
	}
	return changes, clamps
}
