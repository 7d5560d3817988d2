package glazing

import "math"

// Films are the conductances of the two surface films, radiation included [W/m2 K].
type Films struct{ Outside, Inside float64 }

// DeclaredFilms are those a maker declares U with: 0.04 and 0.13 m2 K/W (ISO
// 6946, horizontal heat flow).
func DeclaredFilms() Films { return Films{Outside: 1 / 0.04, Inside: 1 / 0.13} }

// Thermal is the steady state of a stack with no sun.
type Thermal struct {
	UWM2K float64 // air to air through the middle of the pane [W/m2 K]
	// OuterC and InnerC are the face temperatures of each sheet [°C].
	OuterC, InnerC [MaxSheets]float64
	// GapWM2K is the whole conductance of each gap [W/m2 K].
	GapWM2K [MaxSheets]float64
}

// SheetWM2K returns the conductance through the thickness of sheet i [W/m2 K].
func (s Stack) SheetWM2K(i int) float64 {
	return s.Sheets[i].ConductivityWMK / s.Sheets[i].ThicknessM
}

// Steady returns the steady state between outdoors and indoors at outsideC and insideC [°C].
func (s Stack) Steady(outsideC, insideC float64, films Films, at Place) Thermal {
	return s.settle(outsideC, insideC, 1/films.Outside, 1/films.Inside, at)
}

// U returns the conductance from air to air through the middle of the pane
// [W/m2 K] between outdoors and indoors at outsideC and insideC [°C].
func (s Stack) U(outsideC, insideC float64, films Films, at Place) float64 {
	return s.Steady(outsideC, insideC, films, at).UWM2K
}

// DeclaredU returns the U under the conditions that makers declare: upright pane 1 m
// high at sea level, 0 °C outdoors, 20 °C indoors, films of ISO 6946 [W/m2 K].
func (s Stack) DeclaredU() float64 {
	return s.U(0, 20, DeclaredFilms(), Place{Slope: Vertical})
}

// settle finds the face temperatures of the chain of resistances between two
// fixed temperatures. What a gap passes, q(d), rises with the difference d of its
// faces, steeply where convection sets in, so each turn is Newton's: every gap is
// q0 + slope (d - d0), the one flow that all share follows from the whole
// difference, and the faces from the flow, until no face is off by a microkelvin. A turn farther
// off than the one before halves the stride for good.
func (s Stack) settle(outsideC, insideC, outsideR, insideR float64, at Place) Thermal {
	n := len(s.Sheets)
	var th Thermal
	for i := range n {
		share := (float64(i) + 0.5) / float64(n)
		th.OuterC[i] = outsideC + share*(insideC-outsideC)
		th.InnerC[i] = th.OuterC[i]
	}
	solid := outsideR + insideR
	for i := range n {
		solid += 1 / s.SheetWM2K(i)
	}
	stride, before := 1.0, math.Inf(1)
	for range 100 {
		var lines [MaxSheets]line
		whole, steep, shift := solid, solid, 0.0
		for i := range s.Gaps {
			th.GapWM2K[i], lines[i] = s.tangent(i, th.InnerC[i], th.OuterC[i+1], at)
			whole += 1 / th.GapWM2K[i]
			steep += 1 / lines[i].slope
			shift += lines[i].difference(0)
		}
		th.UWM2K = 1 / whole
		flow := (insideC - outsideC - shift) / steep
		c, off := outsideC+flow*outsideR, 0.0
		for i := range n {
			off = max(off, approach(&th.OuterC[i], c, stride))
			c += flow / s.SheetWM2K(i)
			off = max(off, approach(&th.InnerC[i], c, stride))
			if i < n-1 {
				c += lines[i].difference(flow)
			}
		}
		if off < 1e-6 {
			break
		}
		if off > before {
			stride = max(stride/2, 1.0/16)
		}
		before = off
	}
	return th
}

// line is a gap's heat flow about one difference of its faces.
type line struct{ at, flow, slope float64 }

// difference returns the difference of the faces [K] at which the line passes flow [W/m2].
func (l line) difference(flow float64) float64 { return l.at + (flow-l.flow)/l.slope }

// tangent returns a gap's conductance [W/m2 K] between its faces and the line
// that touches its heat flow there, both faces moved apart alike.
func (s Stack) tangent(i int, outerC, innerC float64, at Place) (float64, line) {
	const e = 1e-3 // [K]
	d := innerC - outerC
	h := s.GapConductance(i, outerC, innerC, at).Total()
	wider := s.GapConductance(i, outerC-e/2, innerC+e/2, at).Total()
	return h, line{at: d, flow: h * d, slope: max((wider*(d+e)-h*d)/e, 0.1*h)}
}

// approach moves c by the share stride of its way to want and returns how far it was off.
func approach(c *float64, want, stride float64) float64 {
	off := math.Abs(want - *c)
	*c += stride * (want - *c)
	return off
}

// Lumped stands for a stack as two nodes, its outermost and innermost sheets
// (one node, where it has a single sheet).
type Lumped struct {
	// BetweenWM2K joins the outer face to the inner face [W/m2 K].
	BetweenWM2K float64
	// ToOuter is the share of heat absorbed in each sheet that goes to the outer
	// node; the rest goes to the inner.
	ToOuter [MaxSheets]float64
}

// Lump returns the two-node form of the stack while its outer face is at outerC
// and its inner face at innerC [°C]. Heat absorbed in the middle of a sheet is split
// by the resistance either way, which is exact in the steady state.
func (s Stack) Lump(outerC, innerC float64, at Place) Lumped {
	n := len(s.Sheets)
	th := s.settle(outerC, innerC, 0, 0, at)
	l := Lumped{BetweenWM2K: th.UWM2K}
	resistance := 0.0
	for i := range n {
		half := 0.5 / s.SheetWM2K(i)
		l.ToOuter[i] = 1 - (resistance+half)*th.UWM2K
		resistance += 2 * half
		if i < n-1 {
			resistance += 1 / th.GapWM2K[i]
		}
	}
	return l
}

// SolarHeatGain returns the share of sunlight that ends indoors in the steady
// state: what is transmitted, and of what each sheet absorbs the part that flows inward,
//
//	g = T + sum of A_i U R_i
//
// with R_i the resistance from outdoors to the middle of sheet i.
//
// Source: ASHRAE Fundamentals 2017, ch. 15, inward-flowing fraction.
func (s Stack) SolarHeatGain(o Optics, th Thermal, films Films) float64 {
	gain := o.Transmittance
	resistance := 1 / films.Outside
	for i := range s.Sheets {
		half := 0.5 / s.SheetWM2K(i)
		gain += o.Absorbed[i] * th.UWM2K * (resistance + half)
		resistance += 2 * half
		if i < len(s.Gaps) {
			resistance += 1 / th.GapWM2K[i]
		}
	}
	return gain
}
