package greenhouse

import (
	"math"
	"time"

	"suncellar/internal/house"
	"suncellar/internal/plan"
	"suncellar/internal/sun"
)

// outlook is what an outer face sees past the site's skyline and the banks round the house: looked for at some points of the face, half-way
// along the house, an end wall in its middle; their mean is that of the face. nil is a free one.
type outlook struct {
	points []sun.Skyline
	passed sun.Passed // sky and band; the rest is of the hour
}

// outlookPoints is at how many heights of a face its skyline is looked for.
const outlookPoints = 5

// outlookOf makes the outlook of a face.
func (g *Greenhouse) outlookOf(f *house.Face) *outlook {
	s := &g.House.Plan.Site
	if len(s.Horizon) == 0 && len(s.Banks) == 0 {
		return nil
	}
	p := sun.Plane{Tilt: sun.Angle(f.Tilt), Azimuth: sun.Angle(f.Azimuth)}
	o := &outlook{points: make([]sun.Skyline, outlookPoints)}
	for k := range o.points {
		at := place3{x: f.A.X, y: float64(f.End) * g.House.Length / 2, z: f.Z0}
		t := (float64(k) + 0.5) / outlookPoints
		if f.End == 0 {
			at.x, at.z = f.A.X+t*(f.B.X-f.A.X), f.A.Z+t*(f.B.Z-f.A.Z)
		} else {
			at.z = f.Z0 + t*(f.Z1-f.Z0)
		}
		if g.site.skyline != nil {
			o.points[k] = *g.site.skyline
		}
		for _, b := range s.Banks {
			o.points[k].Raise(g.edge(b, at))
		}
		o.passed.Sky += o.points[k].SkyView(p) / outlookPoints
		o.passed.Band += o.points[k].BandView(p) / outlookPoints
	}
	if free := p.SkyView(); free > 1e-6 {
		o.passed.Sky = math.Min(1, o.passed.Sky/free)
	}
	return o
}

// place3 is a point: x and z as in the section, y along the house from its middle to the right end [m].
type place3 struct{ x, y, z float64 }

// edge is a bank as it is seen from a point.
func (g *Greenhouse) edge(b plan.Bank, from place3) sun.Edge {
	h := g.House
	half := math.Inf(1)
	if b.Length != nil {
		half = *b.Length / 2
	}
	along, turn := from.y, 0.0 // to the right of the middle, as seen from inside in the direction of the bank
	e := sun.Edge{RiseM: b.Height - from.z}
	across := from.x - (h.Front+h.Back)/2
	switch b.Side {
	case "back":
		e.DistanceM, turn, along = h.Back-from.x, math.Pi, -from.y
	case "left":
		e.DistanceM, turn, along = h.Length/2+from.y, -math.Pi/2, -across
	case "right":
		e.DistanceM, turn, along = h.Length/2-from.y, math.Pi/2, across
	default:
		e.DistanceM = from.x - h.Front
	}
	e.DistanceM = math.Max(0, e.DistanceM) + b.Distance
	e.Azimuth = sun.Angle(h.Facing + turn)
	e.LeftM, e.RightM = half+along, half-along
	return e
}

// skyShare is how much of the sky that a face would see it does see.
func (o *outlook) skyShare() float64 {
	if o == nil {
		return 1
	}
	return o.passed.Sky
}

// irradiance is what falls on a plane with this outlook.
func (o *outlook) irradiance(p sun.Plane, h *hour) sun.Irradiance {
	i := p.Irradiance(h.sky)
	if o == nil {
		return i
	}
	passed := o.passed
	passed.Ground = h.groundShare
	if h.span.UpShare > 0 {
		for k := range o.points {
			disc, circumsolar := o.points[k].Seen(h.suns)
			passed.Disc += disc / outlookPoints
			passed.Circumsolar += circumsolar / outlookPoints
		}
	}
	return i.Through(passed)
}

// skylineOf is the site's skyline, nil where it is level.
func skylineOf(p *plan.Plan) *sun.Skyline {
	points := make([]sun.SkylinePoint, len(p.Site.Horizon))
	for i, s := range p.Site.Horizon {
		points[i] = sun.SkylinePoint{Azimuth: sun.Angle(s.Azimuth), Elevation: sun.Angle(s.Elevation)}
	}
	if len(points) == 0 {
		return nil
	}
	s, err := sun.NewSkyline(points)
	if err != nil {
		panic("greenhouse: " + err.Error()) // the plan was checked
	}
	return &s
}

// look takes in where the sun stands over the hour and what the skyline leaves of its light on level ground. Without skyline and banks
// only the latter is set.
func (s site) look(h *hour) {
	h.groundWM2 = h.sky.GlobalWM2(h.span)
	h.groundShare = 1
	if !s.shaded || h.span.UpShare == 0 {
		return
	}
	h.suns = h.span.Sides(sun.At(s.place, h.start), sun.At(s.place, h.start.Add(time.Hour)))
	if s.skyline == nil || h.groundWM2 <= 0 {
		return
	}
	free := h.groundWM2
	disc, circumsolar := s.skyline.Seen(h.suns)
	h.groundWM2 = sun.Plane{}.Irradiance(h.sky).Through(sun.Passed{Disc: disc, Circumsolar: circumsolar, Sky: s.levelView, Band: 1, Ground: 1}).TotalWM2()
	h.groundShare = h.groundWM2 / free
}
