package drawing

import (
	"fmt"
	"math"

	"suncellar/internal/draw"
)

// The pale band about a line: a panel with thin broken edges in the ink of the line, so that it is seen on the page and on a panel.

// paleBand is the area between two runs of points of the same length.
func paleBand(k Kind, lower, upper []draw.Point, tip string) *draw.Area {
	ring := append([]draw.Point{}, lower...)
	for i := len(upper) - 1; i >= 0; i-- {
		ring = append(ring, upper[i])
	}
	return &draw.Area{Rings: [][]draw.Point{ring}, Fill: draw.Ground2, Pen: draw.Pen{Ink: k.pen().Ink, Width: 0.75, Dash: []float64{3, 3}}, Tip: tip}
}

// checkBand tells of ends that are no band of at most n values.
func checkBand(lo, hi []float64, n int) error {
	if len(lo) != len(hi) || len(lo) > n {
		return fmt.Errorf("a band of %d and %d ends, must be as many of both and at most %d", len(lo), len(hi), n)
	}
	for i := range lo {
		if math.IsNaN(lo[i]+hi[i]) || math.IsInf(lo[i]+hi[i], 0) || lo[i] > hi[i] {
			return fmt.Errorf("end %d of a band is %g to %g, must be finite and in order", i+1, lo[i], hi[i])
		}
	}
	return nil
}

func (in Carry) bandWords() string {
	if len(in.LoC) == 0 || in.BandName == "" {
		return ""
	}
	return " " + in.BandName
}

// band draws the band about the last line.
func (c *chart) band(g *draw.Group, in Carry) {
	if len(in.LoC) < 2 {
		return
	}
	var lower, upper []draw.Point
	for i := range in.LoC {
		lower, upper = append(lower, c.p.at(c.x(float64(i)), c.y(in.LoC[i]))), append(upper, c.p.at(c.x(float64(i)), c.y(in.HiC[i])))
	}
	last := in.Lines[len(in.Lines)-1]
	g.Add(paleBand(last.Kind, lower, upper, last.Name+": "+in.BandName))
}

// band draws the band of a case about its line, as far as the picture goes.
func (c *curveChart) band(g *draw.Group, l CurveLine) {
	if len(l.LoDays) == 0 {
		return
	}
	var lower, upper []draw.Point
	for i, t := range c.in.OutsideC {
		lower = append(lower, c.p.at(c.across(t), max(c.y0, c.y(l.LoDays[i]))))
		upper = append(upper, c.p.at(c.across(t), max(c.y0, c.y(l.HiDays[i]))))
	}
	g.Add(paleBand(l.Kind, lower, upper, l.Name+": "+c.in.BandName))
}
