// Package enclosure tells where radiation goes inside a long room: which share of what leaves one piece of its inside lands on
// another, what grey pieces exchange, where a beam through a window falls, and what becomes of the light that is thrown back.
//
// The room is a section, drawn out along a length and shut by two ends. It promises that what leaves a piece is found again: the
// shares of every piece add up to one and reciprocity holds, both to rounding; that obstacles (rows of drums, sides of
// beds) hide what is behind them; and that light and heat are neither made nor lost. It knows no greenhouse.
//
// x runs across, z up, y along the room, from the left end to the right. Lengths in m, areas in m², light in W.
package enclosure

import (
	"fmt"
	"math"
)

// Angle is an angle in radians.
type Angle float64

// Degrees returns the angle of that many degrees.
func Degrees(d float64) Angle { return Angle(d * math.Pi / 180) }

// Point is a point of the section [m].
type Point struct{ X, Z float64 }

// Part is the share that a piece has of a line of the section: a window and the wall round it share one line.
type Part struct {
	Piece int
	Share float64 // 0..1; the shares of a line add up to one
}

// Whole is a line that belongs to one piece.
func Whole(piece int) []Part { return []Part{{piece, 1}} }

// Edge is a straight line of the section's outline, the room to its left.
type Edge struct {
	A, B  Point
	Parts []Part
}

// Obstacle is a convex thing in the room that runs along all of it.
type Obstacle struct {
	Corners []Point  // anticlockwise
	Sides   [][]Part // of the side from each corner to the next; what lies against something or outside the room sees nothing
	// Fill is the share of the room's length that it fills, evenly: of what meets it as much is stopped and the rest goes on;
	// of its sides as much is there. BeamFill is the same for a beam.
	Fill, BeamFill float64
}

// Enclosure is the room.
type Enclosure struct {
	Length    float64 // [m]
	Edges     []Edge  // the outline, anticlockwise, each edge from where the one before ends
	Obstacles []Obstacle
	Levels    []float64   // heights at which the ends are cut into bands, rising [m]; none: one band
	Columns   []float64   // places across at which the bands are cut into cells, rising [m]; none: one cell
	Ends      [2][][]Part // left and right, by cell: the lowest band first, in each the frontmost first
	Pieces    int         // how many; their numbers run from 0
}

// Check reports the first thing that no room can have, saying where it is and what is allowed.
func (e *Enclosure) Check() error {
	if !(e.Length > 0) || math.IsInf(e.Length, 0) {
		return fmt.Errorf("enclosure is %g m long, must be longer than 0 m", e.Length)
	}
	if len(e.Edges) < 3 {
		return fmt.Errorf("enclosure has %d edges, must have at least 3", len(e.Edges))
	}
	small := 1e-6 * e.extent()
	for i, d := range e.Edges {
		next := e.Edges[(i+1)%len(e.Edges)]
		if l := d.length(); !(l > small) {
			return fmt.Errorf("edge %d is %g m long, must be longer than %g m", i, l, small)
		}
		if gap := math.Hypot(next.A.X-d.B.X, next.A.Z-d.B.Z); !(gap <= small) {
			return fmt.Errorf("edge %d begins %g m from the end of the one before, must begin there", (i+1)%len(e.Edges), gap)
		}
		if err := e.checkParts(d.Parts); err != nil {
			return fmt.Errorf("edge %d: %w", i, err)
		}
	}
	if a := polygonArea(e.outline()); !(a > 0) {
		return fmt.Errorf("outline has an area of %g m², must run anticlockwise round more than 0 m²", a)
	}
	for i := range e.Obstacles {
		if err := e.checkObstacle(&e.Obstacles[i]); err != nil {
			return fmt.Errorf("obstacle %d: %w", i, err)
		}
	}
	return e.checkEnds()
}

func (e *Enclosure) checkParts(parts []Part) error {
	sum := 0.0
	for _, p := range parts {
		if p.Piece < 0 || p.Piece >= e.Pieces {
			return fmt.Errorf("piece is number %d, must be 0 to %d", p.Piece, e.Pieces-1)
		}
		if !(p.Share >= 0) {
			return fmt.Errorf("share of piece %d is %g, must be 0 to 1", p.Piece, p.Share)
		}
		sum += p.Share
	}
	if !(math.Abs(sum-1) < 1e-9) {
		return fmt.Errorf("shares of its pieces add up to %g, must be 1", sum)
	}
	return nil
}

func (e *Enclosure) checkObstacle(o *Obstacle) error {
	n := len(o.Corners)
	if n < 3 || len(o.Sides) != n {
		return fmt.Errorf("%d corners and %d sides, must be as many and at least 3", n, len(o.Sides))
	}
	if !(o.Fill >= 0 && o.Fill <= 1 && o.BeamFill >= 0 && o.BeamFill <= 1) {
		return fmt.Errorf("it fills %g of the length, and %g for a beam, must be 0 to 1", o.Fill, o.BeamFill)
	}
	for i, a := range o.Corners {
		b, c := o.Corners[(i+1)%n], o.Corners[(i+2)%n]
		if turn := (b.X-a.X)*(c.Z-b.Z) - (b.Z-a.Z)*(c.X-b.X); !(turn >= -1e-12) {
			return fmt.Errorf("corner %d turns the wrong way, corners must run anticlockwise round a convex shape", (i+1)%n)
		}
		if err := e.checkParts(o.Sides[i]); err != nil {
			return fmt.Errorf("side %d: %w", i, err)
		}
	}
	return nil
}

func (e *Enclosure) checkEnds() error {
	for name, list := range map[string][]float64{"level": e.Levels, "column": e.Columns} {
		for i := 1; i < len(list); i++ {
			if !(list[i] > list[i-1]) {
				return fmt.Errorf("%s %d is %g m after %g m, must rise", name, i, list[i], list[i-1])
			}
		}
	}
	for k, end := range e.Ends {
		if len(end) != e.cells() {
			return fmt.Errorf("end %d has %d cells, must have %d", k, len(end), e.cells())
		}
		for b, parts := range end {
			if err := e.checkParts(parts); err != nil {
				return fmt.Errorf("end %d, cell %d: %w", k, b, err)
			}
		}
	}
	return nil
}

func (d Edge) length() float64 { return math.Hypot(d.B.X-d.A.X, d.B.Z-d.A.Z) }

func (e *Enclosure) outline() []Point {
	var list []Point
	for _, d := range e.Edges {
		list = append(list, d.A)
	}
	return list
}

// extent is the larger side of the box round the outline [m].
func (e *Enclosure) extent() float64 {
	lo, hi := Point{math.Inf(1), math.Inf(1)}, Point{math.Inf(-1), math.Inf(-1)}
	for _, d := range e.Edges {
		lo = Point{math.Min(lo.X, d.A.X), math.Min(lo.Z, d.A.Z)}
		hi = Point{math.Max(hi.X, d.A.X), math.Max(hi.Z, d.A.Z)}
	}
	return math.Max(hi.X-lo.X, hi.Z-lo.Z)
}

func polygonArea(p []Point) float64 {
	sum := 0.0
	for i, a := range p {
		b := p[(i+1)%len(p)]
		sum += a.X*b.Z - b.X*a.Z
	}
	return sum / 2
}
