package house

import (
	"math"
	"slices"

	"suncellar/internal/catchment"
	"suncellar/internal/plan"
)

// WaterLevels are heights of the water in the drums [m], and what they hold then [m³].
type WaterLevels struct {
	FullZ, LowestZ float64 // overflow or lowest rim, whichever is lower; below LowestZ nothing can be used
	FullM3         float64
	UsableM3       float64 // between the two
	ByCan          bool    // no drip line runs: water is taken at the tap
	FirstDripsZ    float64 // water has to stand so high for the lowest drip line, where one runs
}

// Holds is the water of the fed drums when it stands at a height [m³].
func (w *Water) Holds(z float64) float64 {
	sum := 0.0
	for _, v := range w.Fed {
		sum += w.Vessels[v].Holds(z)
	}
	return sum
}

// Source is the height of the water that feeds the inlet from a catchment [m].
func (w *Water) Source(c int) float64 {
	if w.Settling != nil {
		return w.SettleOut
	}
	return w.Catchments[c].Outlet
}

// Runs tells whether the water of a catchment comes as far as the end of the inlet.
func (w *Water) Runs(c int) bool {
	head := w.Source(c)
	return !w.Inlet.Shut && w.Catchments[c].Outlet >= head-1e-9 && w.Highest <= head+1e-9 && w.Points[w.InletEnd].Z <= head+1e-9
}

// RunsOn tells whether it does on a day, on which the inlet may be shut for the frosts.
func (w *Water) RunsOn(c int, at plan.Date) bool { return w.Runs(c) && !w.Plan.Inlet.ShutOn(at) }

// Overflows tells whether the overflow takes water away.
func (w *Water) Overflows() bool {
	o := &w.Overflow
	return !o.Shut && o.End <= o.Z+1e-9 && slices.Contains(w.Fed, o.Vessel)
}

// DripRuns tells whether a drip line is open and hangs on a drum that is fed.
func (w *Water) DripRuns(i int) bool {
	d := &w.Drips[i]
	joined := w.Joined(d.From, func(p *WaterPipe) bool { return !p.Shut })
	return !d.Shut && slices.ContainsFunc(joined, func(v int) bool { return slices.Contains(w.Fed, v) })
}

// Levels finds the heights between which water is used.
func (w *Water) Levels() WaterLevels {
	var l WaterLevels
	l.FullZ = math.Inf(1)
	if w.Overflows() {
		l.FullZ = w.Overflow.Z
	}
	for _, v := range w.Fed {
		if w.Vessels[v].Bottom < w.Overflow.Z {
			l.FullZ = min(l.FullZ, w.Vessels[v].Top)
		}
	}
	if math.IsInf(l.FullZ, 1) {
		l.FullZ = w.Overflow.Z
	}
	top := math.Inf(-1)
	for c := range w.Catchments {
		if w.Runs(c) {
			top = max(top, w.Source(c))
		}
	}
	if !math.IsInf(top, -1) {
		l.FullZ = min(l.FullZ, top)
	}
	l.FullM3 = w.Holds(l.FullZ)
	l.LowestZ, l.ByCan, l.FirstDripsZ = w.DrawOff, true, math.Inf(1)
	for i := range w.Drips {
		if z := w.Drips[i].Z + w.Drips[i].Plan.Emitter.LeastHead; w.DripRuns(i) && z < l.FullZ {
			l.FirstDripsZ, l.ByCan = min(l.FirstDripsZ, z), false
		}
	}
	if !l.ByCan {
		l.LowestZ = max(w.DrawOff, l.FirstDripsZ)
	}
	l.UsableM3 = l.FullM3 - w.Holds(min(l.LowestZ, l.FullZ))
	return l
}

// Roofs are the catchments without snow, with their first flush.
func (w *Water) Roofs() *catchment.Roofs {
	var list []catchment.Surface
	area := 0.0
	for _, c := range w.Catchments {
		list = append(list, catchment.Surface{AreaM2: c.Area, Runoff: c.Runoff, Sheds: c.Sheds})
		area += c.Area
	}
	f := w.Plan.FirstFlush
	switch {
	case f == nil:
		return catchment.New(list, 0, 1)
	case f.Volume != nil:
		return catchment.New(list, *f.Volume, f.DryDays)
	}
	return catchment.New(list, area*f.Depth, f.DryDays)
}
