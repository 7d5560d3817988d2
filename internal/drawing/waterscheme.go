package drawing

import (
	"fmt"
	"math"

	"suncellar/internal/draw"
)

// WaterScheme is the way of rain water, to be drawn from the side: to scale in height, not along. Heights are above grade [m].
type WaterScheme struct {
	Title     string
	Sentences []string
	Roofs     []SchemeRoof
	Flush     string // first flush in words; "": there is none
	Settling  *SchemeSettling
	Inlet     SchemeInlet
	Vessels   []SchemeVessel // as the water comes to them; those of a bay one after the other
	Points    []SchemePoint
	Pipes     []SchemePipe
	Valves    []SchemeValve
	Overflow  SchemeOverflow
	Drips     []SchemeDrip
	Tap       *SchemeTap
	FloorZ    float64
	Levels    []SchemeLevel
	FullZ     float64 // fed vessels stand so high
	Findings  []SchemeFinding
	Heard     string // what findings are headed by
}

// SchemeRoof is what rain runs off.
type SchemeRoof struct {
	Name         string
	Eave, Outlet float64 // lower edge; bottom of the gutter at its outlet
	Slope        float64 // [rad]
}

// SchemeSettling is a vessel in which dirt sinks.
type SchemeSettling struct {
	Name                string
	Bottom, Top, Outlet float64
}

// SchemeInlet is the pipe from gutter or settling vessel to the point End.
type SchemeInlet struct {
	Highest float64 // NaN: it falls all the way
	End     int
	Mouth   Mouth
	Words   string // what is at its end
}

// Mouth is what is at the end of the inlet.
type Mouth int

// Mouths.
const (
	OpenMouth Mouth = iota
	FlapMouth
	OneWayMouth
)

// SchemeVessel is a drum, or several upon another.
type SchemeVessel struct {
	Name, Bay   string // vessels of one bay stand side by side
	Row         string // what the bay is a part of
	Bottom, Top float64
	Stacked     int // so many upon another; 0 is 1
	Fed         bool
}

// SchemePoint is an end of pipes.
type SchemePoint struct {
	Name   string
	Z      float64
	Vessel int // -1: a joint
}

// SchemePipe joins two points.
type SchemePipe struct{ From, To int }

// SchemeValve is a valve in a pipe.
type SchemeValve struct {
	Name string
	On   SchemePlace // Pipe, InletEnd, OverflowAt or DripAt
	Shut bool
}

// SchemeOverflow takes away what finds the drums full.
type SchemeOverflow struct {
	Name   string // "overflow to outside"
	Vessel int
	Z, End float64
}

// SchemeDrip is a drip line along a bed.
type SchemeDrip struct {
	Name     string
	From     int // point
	Z, BedZ  float64
	Emitters string // how many, in words
}

// SchemeTap is where water is taken by can.
type SchemeTap struct {
	Name string
	Z    float64
}

// LevelKind is what a level is.
type LevelKind int

// Kinds of levels.
const (
	GradeLevel LevelKind = iota
	GroundLevel
	FullLevel
	LowestLevel
	KeptLevel
)

// SchemeLevel is a height that is drawn as a line.
type SchemeLevel struct {
	Name string
	Z    float64
	Kind LevelKind
}

// SchemeFinding is something that has to be known, at its place.
type SchemeFinding struct {
	Text string
	At   SchemePlace
}

// SchemePlace is a part of a scheme.
type SchemePlace struct {
	Part  SchemePart
	Index int
}

// SchemePart is a kind of part.
type SchemePart int

// Parts of a scheme.
const (
	Nowhere SchemePart = iota - 1
	RoofAt
	GutterAt
	SettlingAt
	InletHighest
	InletEnd
	VesselAt
	PointAt
	PipeAt
	OverflowAt
	OverflowEnd
	DripAt
	TapAt
)

// Spot is a valve or a joint on the picture of a scheme.
type Spot struct {
	Kind  string // "valve", "joint"
	Index int    // in Valves or Points
	Name  string
	Px    draw.Point // [px, y downward]
}

// DrawWaterScheme draws the scheme from the side, heights to scale: roofs with their gutters, first flush, settling drum, inlet, drums with their rims and water, pipes, valves (two
// triangles, filled where shut, with the word), overflow, tap, drip lines, the levels of the water. It is as long as it has to be: where the sheet is too narrow it goes on below.
// Of a bay with many drums a few are drawn. Findings are numbers at their places. Valves are groups of class valve-0, valve-1, joints of joint-0, by their index.
//
// Errors: no roof or vessel, a height that is not finite, an index that there is not.
func DrawWaterScheme(in WaterScheme, f Frame) (*draw.List, []Spot, error) {
	p, err := newPage("water-scheme", f)
	if err != nil {
		return nil, nil, err
	}
	if err := in.check(); err != nil {
		return nil, nil, fmt.Errorf("water scheme: %w", err)
	}
	p.heading(in.Title, in.Sentences...)
	s := newSchemeSheet(p, in)
	s.ground()
	s.levels()
	s.roofs()
	s.vessels()
	s.pipes()
	s.symbols()
	s.words()
	s.layers()
	s.lists()
	return p.finish(), s.spots, nil
}

func (in WaterScheme) check() error {
	if len(in.Roofs) == 0 || len(in.Vessels) == 0 {
		return fmt.Errorf("%d roofs and %d vessels, must be 1 or more each", len(in.Roofs), len(in.Vessels))
	}
	for _, v := range in.Vessels {
		if !(v.Top > v.Bottom) {
			return fmt.Errorf("%s stands from %g to %g m, must have a height", v.Name, v.Bottom, v.Top)
		}
	}
	for _, z := range in.heights() {
		if !finite(z) || math.Abs(z) > 1000 {
			return fmt.Errorf("a height of %g m, must be within 1000 m of grade", z)
		}
	}
	return in.checkParts()
}

// checkParts wants every index to be one of a part that there is.
func (in WaterScheme) checkParts() error {
	is := func(what string, i, least, n int) error {
		if i < least || i >= n {
			return fmt.Errorf("%s %d, must be %d to %d", what, i, least, n-1)
		}
		return nil
	}
	list := []error{is("end of the inlet", in.Inlet.End, 0, len(in.Points)), is("vessel of the overflow", in.Overflow.Vessel, 0, len(in.Vessels))}
	for _, q := range in.Points {
		list = append(list, is("vessel", q.Vessel, -1, len(in.Vessels)))
	}
	for _, q := range in.Pipes {
		list = append(list, is("point", q.From, 0, len(in.Points)), is("point", q.To, 0, len(in.Points)))
	}
	for _, d := range in.Drips {
		list = append(list, is("point", d.From, 0, len(in.Points)))
	}
	for _, v := range in.Valves {
		if v.On.Part == PipeAt {
			list = append(list, is("pipe", v.On.Index, 0, len(in.Pipes)))
		}
		if v.On.Part == DripAt {
			list = append(list, is("drip line", v.On.Index, 0, len(in.Drips)))
		}
	}
	for _, f := range in.Findings {
		switch f.At.Part {
		case RoofAt, GutterAt:
			list = append(list, is("roof", f.At.Index, 0, len(in.Roofs)))
		case VesselAt:
			list = append(list, is("vessel", f.At.Index, 0, len(in.Vessels)))
		case PointAt:
			list = append(list, is("point", f.At.Index, 0, len(in.Points)))
		case DripAt:
			list = append(list, is("drip line", f.At.Index, 0, len(in.Drips)))
		}
	}
	for _, err := range list {
		if err != nil {
			return err
		}
	}
	return nil
}

// heights are all that are drawn.
func (in WaterScheme) heights() []float64 {
	list := []float64{0, in.FloorZ, in.Overflow.Z, in.Overflow.End}
	for _, r := range in.Roofs {
		list = append(list, r.Eave, r.Outlet)
	}
	if s := in.Settling; s != nil {
		list = append(list, s.Bottom, s.Top, s.Outlet)
	}
	if !math.IsNaN(in.Inlet.Highest) {
		list = append(list, in.Inlet.Highest)
	}
	for _, v := range in.Vessels {
		list = append(list, v.Bottom, v.Top)
	}
	for _, q := range in.Points {
		list = append(list, q.Z)
	}
	for _, d := range in.Drips {
		list = append(list, d.Z, d.BedZ)
	}
	if in.Tap != nil {
		list = append(list, in.Tap.Z)
	}
	for _, l := range in.Levels {
		list = append(list, l.Z)
	}
	return append(list, in.FullZ)
}
