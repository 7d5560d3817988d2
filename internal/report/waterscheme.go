package report

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"suncellar/internal/draw"
	"suncellar/internal/drawing"
	"suncellar/internal/house"
	"suncellar/internal/plan"
	"suncellar/internal/water"
)

// WaterPictures draws the scheme of a plan's water with what was found, and reliability over the number of drums where it is known.
func (t Teller) WaterPictures(a *water.Answer) ([]Picture, error) {
	list, err := drawAll([]named{{"water-scheme.svg", func() (*draw.List, error) { l, _, err := t.WaterScheme(a); return l, err }}})
	if err != nil {
		return nil, err
	}
	more, err := t.DrumsPicture(a)
	return append(list, more...), err
}

// DrumsPicture draws reliability over the number of drums; none where it is not known.
func (t Teller) DrumsPicture(a *water.Answer) ([]Picture, error) {
	b := drumsCurve(a)
	if b == nil {
		return nil, nil
	}
	return drawAll([]named{{"drums.svg", func() (*draw.List, error) { return drawing.DrawDrums(t.drums(a, b), t.Frame()) }}})
}

// WaterScheme draws the scheme, and tells where its valves and joints are.
func (t Teller) WaterScheme(a *water.Answer) (*draw.List, []drawing.Spot, error) {
	return drawing.DrawWaterScheme(t.waterScheme(a), t.Frame())
}

// waterScheme is the scheme as it is drawn.
func (t Teller) waterScheme(a *water.Answer) drawing.WaterScheme {
	w := a.Scheme
	in := drawing.WaterScheme{Title: "The way of the water: " + a.Plan.Name, Sentences: []string{t.runsSentence(a), t.holdsSentence(a)}, Heard: "Where it does not run, or not all of it",
		Flush: t.flushWords(a), FloorZ: a.House.FloorZ, FullZ: a.Levels.FullZ, Levels: t.schemeLevels(a)}
	for _, c := range w.Catchments {
		in.Roofs = append(in.Roofs, drawing.SchemeRoof{Name: c.Name, Eave: c.Eave, Outlet: c.Outlet, Slope: c.Slope})
	}
	if v := w.Settling; v != nil {
		in.Settling = &drawing.SchemeSettling{Name: v.Name, Bottom: v.Bottom, Top: v.Top, Outlet: w.SettleOut}
	}
	order := schemeOrder(w)
	place := make([]int, len(order))
	for k, v := range order {
		place[v] = k
		of := &w.Vessels[v]
		row := &a.House.Rows[of.Bay.Row]
		in.Vessels = append(in.Vessels, drawing.SchemeVessel{Name: of.Name, Bay: row.BayName(of.Bay.Bay), Row: row.Name, Bottom: of.Bottom, Top: of.Top, Stacked: row.Tiers, Fed: slices.Contains(w.Fed, v)})
	}
	at := func(v int) int {
		if v < 0 {
			return v
		}
		return place[v]
	}
	for _, p := range w.Points {
		in.Points = append(in.Points, drawing.SchemePoint{Name: p.Name, Z: p.Z, Vessel: at(p.Vessel)})
	}
	for _, p := range w.Pipes {
		in.Pipes = append(in.Pipes, drawing.SchemePipe{From: p.From, To: p.To})
	}
	in.Inlet = schemeInlet(w)
	in.Overflow = drawing.SchemeOverflow{Name: overflowWords(w.Overflow.To), Vessel: at(w.Overflow.Vessel), Z: w.Overflow.Z, End: w.Overflow.End}
	for i := range w.Drips {
		in.Drips = append(in.Drips, schemeDrip(a, &w.Drips[i]))
	}
	if !math.IsInf(w.DrawOff, 0) {
		in.Tap = &drawing.SchemeTap{Name: "tap for a can", Z: w.DrawOff}
	}
	for _, v := range w.Valves {
		in.Valves = append(in.Valves, drawing.SchemeValve{Name: v.Name, On: valveSpot(v.Pipe), Shut: v.Shut})
	}
	for i := range a.Findings {
		f := &a.Findings[i]
		to := findingPlace(a, f)
		if to.Part == drawing.VesselAt {
			to.Index = at(to.Index)
		}
		in.Findings = append(in.Findings, drawing.SchemeFinding{Text: t.waterFinding(a, f), At: to})
	}
	return in
}

// schemeOrder are the vessels as the water comes to them, those of a bay one after the other; what no pipe meets comes last.
func schemeOrder(w *house.Water) []int {
	type bay struct {
		at      house.BayAt
		vessels []int
	}
	var bays []bay
	seen := make([]bool, len(w.Vessels))
	add := func(v int) {
		if v < 0 || seen[v] {
			return
		}
		seen[v] = true
		at := w.Vessels[v].Bay
		i := slices.IndexFunc(bays, func(b bay) bool { return b.at == at })
		if i < 0 {
			i = len(bays)
			bays = append(bays, bay{at: at})
		}
		bays[i].vessels = append(bays[i].vessels, v)
	}
	for _, p := range w.Points {
		add(p.Vessel)
	}
	for v := range w.Vessels {
		add(v)
	}
	var list []int
	for _, b := range bays {
		list = append(list, b.vessels...)
	}
	return list
}

func schemeInlet(w *house.Water) drawing.SchemeInlet {
	in := drawing.SchemeInlet{Highest: math.NaN(), End: w.InletEnd, Words: w.Plan.Inlet.Mouth}
	if !math.IsInf(w.Highest, 0) {
		in.Highest = w.Highest
	}
	switch w.Plan.Inlet.Mouth {
	case "flap":
		in.Mouth = drawing.FlapMouth
	case "one-way valve":
		in.Mouth = drawing.OneWayMouth
	}
	return in
}

func overflowWords(to string) string {
	if to == "outside" {
		return "overflow, to outside"
	}
	return "overflow, to the " + to
}

func schemeDrip(a *water.Answer, d *house.DripLine) drawing.SchemeDrip {
	out := drawing.SchemeDrip{Name: d.Plan.Name, From: d.From, Z: d.Z, BedZ: d.Z, Emitters: count(d.Emitters, "emitter")}
	if d.Plan.Lines > 1 {
		out.Emitters = fmt.Sprintf("%d times %s", d.Plan.Lines, out.Emitters)
	}
	for _, b := range a.House.Beds {
		if b.Name == d.Plan.Bed {
			out.BedZ = b.Z
		}
	}
	return out
}

// flushWords are the first flush and how much it takes; "" where there is none.
func (t Teller) flushWords(a *water.Answer) string {
	f := a.Scheme.Plan.FirstFlush
	if f == nil {
		return ""
	}
	volume := 0.0
	for _, c := range a.Scheme.Catchments {
		volume += c.Area * f.Depth
	}
	if f.Volume != nil {
		volume = *f.Volume
	}
	return "first flush, " + t.water(volume)
}

// schemeLevels are grade, floor and cold sink, and the levels of the water.
func (t Teller) schemeLevels(a *water.Answer) []drawing.SchemeLevel {
	l := &a.Levels
	list := []drawing.SchemeLevel{{Name: "grade", Kind: drawing.GradeLevel}, {Name: "floor", Z: a.House.FloorZ, Kind: drawing.GroundLevel}}
	if a.House.Sink {
		list = append(list, drawing.SchemeLevel{Name: "bottom of the cold sink", Z: a.House.SinkZ, Kind: drawing.GroundLevel})
	}
	if len(a.Scheme.Fed) == 0 {
		return list
	}
	list = append(list, drawing.SchemeLevel{Name: "full, " + t.water(l.FullM3), Z: l.FullZ, Kind: drawing.FullLevel})
	lowest := "lowest for use"
	if l.ByCan {
		lowest = "lowest, for a can"
	}
	list = append(list, drawing.SchemeLevel{Name: lowest, Z: l.LowestZ, Kind: drawing.LowestLevel})
	told := map[float64]bool{}
	for _, k := range a.Plan.Water.Keep {
		if !told[k.Volume] && k.Volume <= l.FullM3 { // more than they hold has no height
			told[k.Volume] = true
			list = append(list, drawing.SchemeLevel{Name: "kept, " + t.water(k.Volume), Z: a.KeptZ(k.Volume), Kind: drawing.KeptLevel})
		}
	}
	return list
}

// valveSpot is what a valve sits on.
func valveSpot(pipe int) drawing.SchemePlace {
	switch {
	case pipe >= 0:
		return drawing.SchemePlace{Part: drawing.PipeAt, Index: pipe}
	case pipe == house.OnInlet:
		return drawing.SchemePlace{Part: drawing.InletEnd}
	case pipe == house.OnOverflow:
		return drawing.SchemePlace{Part: drawing.OverflowAt}
	}
	return drawing.SchemePlace{Part: drawing.DripAt, Index: house.OnDrip - pipe}
}

// findingPlace is where on the scheme a finding is, by what it is about, else by its path in the plan.
func findingPlace(a *water.Answer, f *water.Finding) drawing.SchemePlace {
	w := a.Scheme
	named := func(part drawing.SchemePart, i int) drawing.SchemePlace {
		if i < 0 {
			return drawing.SchemePlace{Part: drawing.Nowhere}
		}
		return drawing.SchemePlace{Part: part, Index: i}
	}
	roof := func(name string) int {
		return slices.IndexFunc(w.Catchments, func(c house.Catchment) bool { return c.Name == name })
	}
	switch f.Kind {
	case water.RoofLow:
		return named(drawing.GutterAt, roof(f.Way))
	case water.Spills, water.NeverFills, water.NotFed:
		return named(drawing.VesselAt, slices.IndexFunc(w.Vessels, func(v house.Vessel) bool { return v.Name == f.Name }))
	case water.DripShut, water.DripUnfed, water.DeadWater:
		return named(drawing.DripAt, slices.IndexFunc(w.Drips, func(d house.DripLine) bool { return d.Plan.Name == f.Name }))
	case water.OverWater:
		return named(drawing.PointAt, slices.IndexFunc(w.Points, func(p house.WaterPoint) bool { return p.Name == f.Name }))
	}
	switch path := f.Path; {
	case path == "water.gutter":
		return named(drawing.GutterAt, roof(f.Way))
	case strings.HasPrefix(path, "water.catchments"):
		return named(drawing.RoofAt, roof(f.Way))
	case strings.HasPrefix(path, "water.settling_drum") && w.Settling != nil:
		return named(drawing.SettlingAt, 0)
	case path == "water.inlet.highest":
		return named(drawing.InletHighest, 0)
	case strings.HasPrefix(path, "water.overflow") && f.Way == plan.OverflowEnd && f.Kind == water.Uphill:
		return named(drawing.OverflowEnd, 0)
	case strings.HasPrefix(path, "water.overflow"):
		return named(drawing.OverflowAt, 0)
	case strings.HasPrefix(path, "water.inlet") || f.Kind == water.InletShut:
		return named(drawing.InletEnd, 0)
	}
	return named(drawing.DripAt, slices.IndexFunc(w.Drips, func(d house.DripLine) bool { return d.Path == f.Path }))
}
