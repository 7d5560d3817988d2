package enclosure

import "math"

// windowTable is where beams fall that come in through a band of an end, evenly over it: points of the band, and what a beam meets from each, by
// profile angle.
type windowTable struct {
	room *room
	rows [windowSteps + 1]windowRow
}

// windowSteps of the profile angle over half a turn, and about windowPoints points: a patch is told to a fiftieth. Simple, since windows
// in ends are small.
const (
	windowSteps  = 36
	windowPoints = 50
)

type windowRow struct {
	dx, dz float64
	rays   []windowRay
}

type windowRay struct {
	p    Point // where it enters
	hits []hit
}

func (r *room) windowTable(band int) *windowTable {
	t := &windowTable{room: r}
	points := r.bandPoints(band)
	for k := range t.rows {
		profile := math.Pi * float64(k) / windowSteps
		row := &t.rows[k]
		row.dx, row.dz = math.Cos(profile), -math.Sin(profile)
		for _, p := range points {
			if hits := r.cast(nil, p, row.dx, row.dz, -1); len(hits) > 0 {
				row.rays = append(row.rays, windowRay{p, hits})
			}
		}
	}
	return t
}

// bandPoints are points spread evenly over a band of the section.
func (r *room) bandPoints(band int) []Point {
	outline := r.outline
	area := 0.0
	for k := range len(r.e.Columns) + 1 {
		area += r.e.cellArea(outline, band*(len(r.e.Columns)+1)+k)
	}
	step := math.Sqrt(area / windowPoints)
	lo, hi := outline[0], outline[0]
	for _, p := range outline {
		lo = Point{math.Min(lo.X, p.X), math.Min(lo.Z, p.Z)}
		hi = Point{math.Max(hi.X, p.X), math.Max(hi.Z, p.Z)}
	}
	var list []Point
	for x := lo.X + step/2; x < hi.X; x += step {
		for z := lo.Z + step/2; z < hi.Z; z += step {
			if p := (Point{x, z}); r.e.bandOf(z) == band && inside(outline, p) {
				list = append(list, p)
			}
		}
	}
	return list
}

// AddWindow shares out a beam [W] that came in through a window in a band of an end (0 left, 1 right), as Add does.
func (b *Beams) AddWindow(end, band int, sun Sun, watts float64, first, patches []float64) {
	t := b.win[band]
	x := math.Max(0, math.Min(windowSteps, float64(sun.Profile)/math.Pi*windowSteps))
	i := min(int(x), windowSteps-1)
	f := x - float64(i)
	b.throughWindow(t, i, end, math.Abs(sun.Along), watts*(1-f), first, patches)
	b.throughWindow(t, i+1, end, math.Abs(sun.Along), watts*f, first, patches)
}

func (b *Beams) throughWindow(t *windowTable, row, end int, slant, watts float64, first, patches []float64) {
	w := &t.rows[row]
	if watts == 0 || len(w.rays) == 0 {
		return
	}
	for i := range w.rays {
		ray := &w.rays[i]
		energy := watts / float64(len(w.rays))
		for _, h := range ray.hits {
			way := slant * h.distance
			if way >= b.length {
				break
			}
			for _, p := range t.room.lines[h.line].parts {
				q := energy * h.stopped * p.Share
				first[p.Piece] += q
				if k := b.slots[p.Piece]; k >= 0 {
					s := min(int(way/b.length*Stretches), Stretches-1)
					if end == 1 {
						s = Stretches - 1 - s
					}
					patches[k*Stretches+s] += q
				}
			}
			energy *= 1 - h.stopped
		}
		if energy > 0 { // it reaches the other end
			way := b.length / math.Max(slant, 1e-9)
			at := Point{ray.p.X + w.dx*way, ray.p.Z + w.dz*way}
			for _, p := range b.ends[1-end][b.e.cellOf(at)] {
				first[p.Piece] += energy * p.Share
			}
		}
	}
}
