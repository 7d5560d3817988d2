package enclosure

import "math"

// Sun is where a beam comes from, as the room sees it.
type Sun struct {
	// Profile is its angle in the section, from level in front (towards -x) over straight up to level at the back.
	Profile Angle
	Along   float64 // how far the beam goes to the right for each metre across the section [m/m]
}

// Stretches is into how many equal lengths a patch is told along the room.
const Stretches = 4

// Beams is a table, by profile angle, of where the beam through each glazed edge falls. Made once, asked every hour.
type Beams struct {
	length float64
	e      *Enclosure
	ends   [2][][]Part
	cells  int
	slots  []int // by piece: its place among the patches, -1 none
	edges  [][]beamRow
	at     []int          // by edge: its place in edges, -1 none
	win    []*windowTable // by band
}

// profileSteps is how many steps of the profile angle the table has, over half a turn.
const profileSteps = 180

// beamRow is one profile angle. Of a beam of one watt through an edge, a room without end: what each piece catches, that times the distance it
// went across the section, and the way that all of it goes within each cell of the ends. Since a beam that enters evenly along the length L
// loses Along times distance over L to the end, these are all that is needed, whatever Along is, up to where a patch leaves the room as a whole.
type beamRow struct {
	caught, distance []float64 // by piece [W], [W m]
	path             []float64 // by cell [W m]
	enters           bool
}

// Beams makes the table for glazed edges, and for windows in those bands of the ends. Of the pieces in lit the patches along the room are told too.
//
// In each step of the profile angle all corners are thrown back along the beam onto the edge; between two of them the beam meets one line after
// another, at a distance that grows evenly. That is exact; between the steps of one degree the table goes straight. Obstacles stop the share
// BeamFill of what meets them.
func (e *Enclosure) Beams(edges, windows []int, lit []int) (*Beams, error) {
	if err := e.Check(); err != nil {
		return nil, err
	}
	b := &Beams{length: e.Length, e: e, ends: e.Ends, cells: e.cells()}
	b.slots, b.at = make([]int, e.Pieces), make([]int, len(e.Edges))
	b.win = make([]*windowTable, len(e.Levels)+1)
	for i := range b.slots {
		b.slots[i] = -1
	}
	for k, p := range lit {
		b.slots[p] = k
	}
	for i := range b.at {
		b.at[i] = -1
	}
	r := newRoom(e, true)
	for _, i := range edges {
		b.at[i] = len(b.edges)
		b.edges = append(b.edges, r.beamRows(i))
	}
	for _, band := range windows {
		if b.win[band] == nil {
			b.win[band] = r.windowTable(band)
		}
	}
	return b, nil
}

func (r *room) beamRows(edge int) []beamRow {
	rows := make([]beamRow, profileSteps+1)
	for k := range rows {
		rows[k] = r.beamRow(edge, math.Pi*float64(k)/profileSteps)
	}
	// where no beam enters, the nearest that does stands in: a step beside it may ask for it
	last := -1
	for k := range rows {
		if !rows[k].enters {
			continue
		}
		for j := last + 1; j < k; j++ {
			if last < 0 || k-j <= j-last {
				rows[j] = rows[k]
			} else {
				rows[j] = rows[last]
			}
		}
		last = k
	}
	for j := last + 1; last >= 0 && j < len(rows); j++ {
		rows[j] = rows[last]
	}
	return rows
}

func (r *room) beamRow(edge int, profile float64) beamRow {
	row := beamRow{caught: make([]float64, r.e.Pieces), distance: make([]float64, r.e.Pieces), path: make([]float64, r.e.cells())}
	l := &r.lines[edge]
	dx, dz := math.Cos(profile), -math.Sin(profile)
	if l.nx*dx+l.nz*dz < 1e-6 {
		return row
	}
	cuts := []float64{0, 1}
	for _, c := range r.corners {
		if d, u := l.meet(c, -dx, -dz); d > 0 && u > 0 && u < 1 {
			cuts = append(cuts, u)
		}
	}
	cuts = rising(cuts, 1e-12)
	var hits []hit
	sum := 0.0
	for i := 1; i < len(cuts); i++ {
		p := l.at((cuts[i-1] + cuts[i]) / 2)
		hits = r.cast(hits, p, dx, dz, edge)
		if len(hits) > 0 {
			sum += cuts[i] - cuts[i-1]
			r.follow(&row, p, dx, dz, hits, cuts[i]-cuts[i-1])
		}
	}
	row.enters = sum > 0
	for _, x := range [][]float64{row.caught, row.distance, row.path} {
		for i := range x {
			x[i] /= sum
		}
	}
	return row
}

// follow lets a beam of one place go through its hits.
func (r *room) follow(row *beamRow, p Point, dx, dz float64, hits []hit, energy float64) {
	before := 0.0
	for _, h := range hits {
		for _, b := range r.cells {
			lo, hi := r.e.inCell(b, p, dx, dz, before, h.distance)
			row.path[b] += energy * math.Max(0, hi-lo)
		}
		for _, p := range r.lines[h.line].parts {
			q := energy * h.stopped * p.Share
			row.caught[p.Piece] += q
			row.distance[p.Piece] += q * h.distance
		}
		energy *= 1 - h.stopped
		before = h.distance
	}
}

// Add shares out a beam [W] that came through an edge: what falls first on each piece is added to first, and of the lit pieces, by stretch from the
// left end, to patches (len: pieces lit times Stretches). It allocates nothing.
func (b *Beams) Add(edge int, sun Sun, watts float64, first, patches []float64) {
	rows := b.edges[b.at[edge]]
	x := math.Max(0, math.Min(profileSteps, float64(sun.Profile)/math.Pi*profileSteps))
	i := min(int(x), profileSteps-1)
	f := x - float64(i)
	lower, upper := &rows[i], &rows[i+1]
	slant := math.Min(math.Abs(sun.Along), 1e9)
	landed := 0.0
	for p := range first {
		w := lower.caught[p] + f*(upper.caught[p]-lower.caught[p])
		if w == 0 {
			continue
		}
		way := slant * (lower.distance[p] + f*(upper.distance[p]-lower.distance[p])) / w // along the room [m]
		if way >= b.length {
			continue
		}
		q := watts * w * (1 - way/b.length)
		first[p] += q
		landed += q
		if k := b.slots[p]; k >= 0 {
			b.stretch(patches[k*Stretches:(k+1)*Stretches], q, way, sun.Along)
		}
	}
	b.toEnds(lower, upper, f, sun.Along, watts-landed, first)
}

// stretch shares a patch out that reaches from way [m] to the far end, counted from the end that the beam comes from.
func (b *Beams) stretch(patch []float64, watts, way, along float64) {
	lit := b.length - way
	for s := range patch {
		from, to := float64(s)*b.length/Stretches, float64(s+1)*b.length/Stretches
		if along < 0 {
			from, to = b.length-to, b.length-from
		}
		patch[s] += watts * math.Max(0, to-math.Max(from, way)) / lit
	}
}

// toEnds gives the end that the beam goes to what did not land, by the way it goes in each cell.
func (b *Beams) toEnds(lower, upper *beamRow, f, along, watts float64, first []float64) {
	end := 0
	if along > 0 {
		end = 1
	}
	sum := 0.0
	for k := range b.cells {
		sum += lower.path[k] + f*(upper.path[k]-lower.path[k])
	}
	if sum <= 0 || watts <= 0 {
		return
	}
	for k := range b.cells {
		q := watts * (lower.path[k] + f*(upper.path[k]-lower.path[k])) / sum
		for _, p := range b.ends[end][k] {
			first[p.Piece] += q * p.Share
		}
	}
}
