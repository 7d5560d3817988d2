package ground

import (
	"fmt"
	"math"

	"suncellar/internal/numeric"
	"suncellar/internal/thermal"
)

// Ends tells Widen how the finite house ends along its length.
//
// The steady loss to the ground's surface outdoors is made that of the slice times Footprint.Ratio. Where the heat goes is
// not the same everywhere:
//
//   - under the floor, between the inner faces of the walls, cells keep their width: a floor is as large as it is;
//   - the walls, and the ground as far out as they are thick, are widened by the ratio of perimeters, Footprint.Turns: they run
//     once round the house, and so do the faces of the front and back wall, which stand for the end walls too;
//   - all beyond is widened by one factor, found by steady states with the inside at 1 °C and outdoors at 0 °C.
//
// Heat capacity follows the width. Nothing freezes in these trials.
type Ends struct {
	Footprint Footprint
	Ratio     float64 // of the loss of the finite house to that of the slice; 0 means Footprint.Ratio()
	X0, X1    float64 // inner faces of front and back wall: between them lies the floor [m]
	// Trial is the temperature of every port in the trial [°C]: 1 inside, 0 outdoors, between them where a strip is so given.
	Trial []float64
	// Loss are the ports whose heat is the loss to the ground's surface outdoors. Others that stand at 0, such as the outer
	// faces of walls above grade or a water table, take heat too, which is no concern of the ratio.
	Loss []int
}

// widest and narrowest bound the search: beyond them the slice is not one that the formulas speak of.
const widest, narrowest = 100.0, 0.01

// Widen gives the mesh the widths of a finite house and returns the factor found for the cells beyond the walls.
// Use it once, before AddTo.
func (m *Mesh) Widen(e Ends) (float64, error) {
	if err := m.checkEnds(&e); err != nil {
		return 0, fmt.Errorf("ends of the house: %w", err)
	}
	before := make([]float64, len(m.Cells))
	for i := range m.Cells {
		before[i] = m.Cells[i].Width
	}
	ratio := e.Ratio
	if ratio == 0 {
		ratio = e.Footprint.Ratio()
	}
	slice, err := m.trial(&e)
	if err != nil {
		return 0, err
	}
	excess := func(factor float64) (float64, error) {
		m.setWidths(&e, before, factor)
		loss, err := m.trial(&e)
		return loss - ratio*slice, err
	}
	factor, err := widening(excess)
	if err != nil {
		copyWidths(m, before)
		return 0, fmt.Errorf("ends of the house: loss of %.4g times that of the slice: %w", ratio, err)
	}
	m.setWidths(&e, before, factor)
	return factor, nil
}

// widening finds where a rising function is zero between narrowest and widest, to a millionth.
func widening(f func(float64) (float64, error)) (float64, error) {
	var failed error
	factor, err := numeric.Root(func(log float64) float64 {
		v, err := f(math.Exp(log))
		if err != nil {
			failed = err
			return math.NaN()
		}
		return v
	}, math.Log(narrowest), math.Log(widest), 1e-6)
	switch {
	case failed != nil:
		return 0, failed
	case err != nil:
		return 0, fmt.Errorf("cannot be had by widening the ground beyond the walls %g to %g times", narrowest, widest)
	}
	return math.Exp(factor), nil
}

func copyWidths(m *Mesh, w []float64) {
	for i := range m.Cells {
		m.Cells[i].Width = w[i]
	}
}

// setWidths widens the cells by where they stand.
func (m *Mesh) setWidths(e *Ends, before []float64, factor float64) {
	wall := e.Footprint.Wall
	for i := range m.Cells {
		c := &m.Cells[i]
		x, _ := c.Middle()
		switch out := max(e.X0-x, x-e.X1); {
		case out < 0:
			c.Width = before[i]
		case out < wall:
			c.Width = before[i] * e.Footprint.Turns()
		default:
			c.Width = before[i] * factor
		}
	}
}

// trial is the steady loss through the ports of Loss [W].
func (m *Mesh) trial(e *Ends) (float64, error) {
	var net thermal.Network
	ports, flows := make([]thermal.Node, len(e.Trial)), make([]string, len(e.Trial))
	for i, t := range e.Trial {
		flows[i] = fmt.Sprintf("trial %d", i)
		ports[i] = net.Given(flows[i], t)
	}
	thawed := *m
	thawed.Cells = append([]Cell(nil), m.Cells...)
	for i := range thawed.Cells {
		k := &thawed.Cells[i].Medium
		k.Latent, k.KFrozen = 0, 0
	}
	body := thawed.AddTo(&net, "trial", func(x, z float64) float64 { return 1 }, ports, flows)
	if err := net.Steady(); err != nil {
		return 0, fmt.Errorf("ends of the house: %w", err)
	}
	loss := 0.0
	for _, p := range e.Loss {
		loss -= body.Watts(&net, ports[p])
	}
	return loss, nil
}

func (m *Mesh) checkEnds(e *Ends) error {
	if err := e.Footprint.check(); err != nil {
		return err
	}
	if !(e.X1 > e.X0) || !finite(e.X0, e.X1) {
		return fmt.Errorf("floor is from %g to %g m, must end after its begin", e.X0, e.X1)
	}
	if !(e.Ratio >= 0) || !finite(e.Ratio) {
		return fmt.Errorf("ratio of losses is %g, must be above 0", e.Ratio)
	}
	if !finite(e.Trial...) {
		return fmt.Errorf("a trial temperature is not finite")
	}
	if len(e.Loss) == 0 {
		return fmt.Errorf("no port is named whose heat is the loss")
	}
	for _, p := range e.Loss {
		if p < 0 || p >= len(e.Trial) {
			return fmt.Errorf("port %d is named as loss, must be 0 to %d", p, len(e.Trial)-1)
		}
	}
	for i := range m.Faces {
		if p := m.Faces[i].Port; p >= len(e.Trial) {
			return fmt.Errorf("port %d has no trial temperature", p)
		}
	}
	return nil
}
