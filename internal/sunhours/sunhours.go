// Package sunhours answers for how long the sun's disc is seen from points inside a house on a day.
//
// What it promises: the sun stands where package sun has it, over the site's skyline and its banks; a beam is followed back through drums and beds to where it
// comes in, and out past the house's own walls. The sky is cloudless, snow and cover are off, frames take nothing: it is where sun can be, not how much there is.
package sunhours

import (
	"fmt"
	"math"
	"time"

	"suncellar/internal/enclosure"
	"suncellar/internal/greenhouse"
	"suncellar/internal/house"
	"suncellar/internal/sun"
)

// Steps is into how many equal steps a day is cut, from midnight to midnight: five minutes each.
const Steps = 288

// Spot is a point of the room.
type Spot struct {
	X, Z  float64 // of the section [m]
	Along float64 // from the left end [m]
}

// Day is one calendar day at a house.
type Day struct {
	Date      time.Time // its midnight, in the plan's time zone
	Rise, Set float64   // of the sun over a level horizon [h of the day]; NaN where it does not rise or does not set
	suns      [Steps]sun.Position
	view      *view
}

// On makes a day ready. Errors: a section that light cannot be followed in.
func On(h *house.House, month time.Month, day int) (*Day, error) {
	s := &h.Plan.Site
	zone := time.FixedZone(s.TimeZone.Name, s.TimeZone.OffsetS)
	d := &Day{Date: time.Date(typicalYear, month, day, 0, 0, 0, 0, zone), Rise: math.NaN(), Set: math.NaN()}
	if d.Date.Month() != month || day < 1 {
		return nil, fmt.Errorf("%s has no day %d", month, day)
	}
	place := sun.Place{Latitude: sun.Angle(s.Latitude), Longitude: sun.Angle(s.Longitude), ElevationM: s.Elevation}
	if light := sun.Day(place, d.Date); !light.Rise.IsZero() && !light.Set.IsZero() {
		d.Rise, d.Set = d.hour(light.Rise), d.hour(light.Set)
	}
	for k := range d.suns {
		d.suns[k] = sun.At(place, d.Date.Add(time.Duration((float64(k)+0.5)*24/Steps*float64(time.Hour))))
	}
	var err error
	d.view, err = newView(h, d.Date.Add(12*time.Hour))
	return d, err
}

// typicalYear stands for any year: between years the sun on a date moves by less than half a degree.
const typicalYear = 2001

// hour is a time as hours of the day, held to 0 and 24.
func (d *Day) hour(t time.Time) float64 { return math.Max(0, math.Min(24, t.Sub(d.Date).Hours())) }

// At is the share of each step of the day in which the sun reaches a spot, and of the beam that does: 0 to 1.
func (d *Day) At(at Spot) []float64 {
	share := make([]float64, Steps)
	for k, p := range d.suns {
		if p.Elevation > 0 {
			share[k] = d.view.reached(at, p)
		}
	}
	return share
}

// view is the house as a beam passes it.
type view struct {
	h     *house.House
	sight *enclosure.Sight
	clear []float64 // by piece: share of it that is glazed or stands open
}

// newView makes it for a time of the year, which tells what is taken off.
func newView(h *house.House, at time.Time) (*view, error) {
	v := &view{h: h}
	e := &enclosure.Enclosure{Length: h.Length}
	for _, l := range chain(h) {
		e.Edges = append(e.Edges, enclosure.Edge{A: enclosure.Point(l[0].A), B: enclosure.Point(l[0].B), Parts: enclosure.Whole(len(v.clear))})
		v.clear = append(v.clear, glazed(l, at))
	}
	for k, side := range [2]int{-1, 1} {
		var faces []*house.Face
		for i := range h.Faces {
			if h.Faces[i].End == side {
				faces = append(faces, &h.Faces[i])
			}
		}
		e.Ends[k] = [][]enclosure.Part{enclosure.Whole(len(v.clear))}
		v.clear = append(v.clear, glazed(faces, at))
	}
	e.Pieces = len(v.clear)
	for _, b := range h.Beds {
		e.Obstacles = append(e.Obstacles, box(b.X0, h.FloorZ, b.X1, b.Z, 1))
	}
	for _, r := range h.Rows {
		if r.Drums > 0 {
			e.Obstacles = append(e.Obstacles, box(r.X-r.Diameter/2, r.Base, r.X+r.Diameter/2, r.Top, math.Min(1, float64(r.Drums)/float64(r.Tiers)*r.Diameter/h.Length)))
		}
	}
	var err error
	v.sight, err = e.Sight()
	return v, err
}

// box is an obstacle that stops a share of the beams that meet it; its own pieces are not told.
func box(x0, z0, x1, z1, stops float64) enclosure.Obstacle {
	own := enclosure.Whole(0)
	return enclosure.Obstacle{Corners: []enclosure.Point{{X: x0, Z: z0}, {X: x1, Z: z0}, {X: x1, Z: z1}, {X: x0, Z: z1}}, Sides: [][]enclosure.Part{own, own, own, own}, Fill: stops, BeamFill: stops}
}

// chain is the lines of the section in their order round the room, each with the faces that share it.
func chain(h *house.House) [][]*house.Face {
	var lines [][]*house.Face
	for i := range h.Faces {
		f := &h.Faces[i]
		if f.End != 0 {
			continue
		}
		known := false
		for k := range lines {
			if lines[k][0].A == f.A && lines[k][0].B == f.B {
				lines[k], known = append(lines[k], f), true
			}
		}
		if !known {
			lines = append(lines, []*house.Face{f})
		}
	}
	for i := 0; i+1 < len(lines); i++ {
		for k := i + 1; k < len(lines); k++ {
			if a, b := lines[k][0].A, lines[i][0].B; math.Hypot(a.X-b.X, a.Z-b.Z) < 1e-9 {
				lines[i+1], lines[k] = lines[k], lines[i+1]
				break
			}
		}
	}
	return lines
}

// glazed is the share of faces on one line that lets a beam in.
func glazed(faces []*house.Face, at time.Time) float64 {
	open, all := 0.0, 0.0
	for _, f := range faces {
		all += f.Area
		if f.Glass != nil || greenhouse.Off(f, at) {
			open += f.Area
		}
	}
	if all == 0 {
		return 0
	}
	return open / all
}

// reached is the share of the beam of the sun that reaches a spot; of a wall with windows as much as these are of it.
func (v *view) reached(at Spot, p sun.Position) float64 {
	from := greenhouse.Beam(v.h, p)
	in, ok := v.sight.From(enclosure.Point{X: at.X, Z: at.Z}, at.Along, from)
	if !ok {
		return 0
	}
	open := 0.0
	for _, part := range in.Parts {
		open += part.Share * v.clear[part.Piece]
	}
	if open*in.Let <= 0 {
		return 0
	}
	edge := in.Along > 1e-6 && in.Along < v.h.Length-1e-6
	if edge && !v.sight.Clear(in.At, from) {
		return 0
	}
	sky := greenhouse.Seen(v.h, in.At.X, in.Along-v.h.Length/2, in.At.Z)
	if p.Elevation <= sky.At(p.Azimuth) {
		return 0
	}
	return open * in.Let
}
