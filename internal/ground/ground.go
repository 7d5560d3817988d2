// Package ground cuts a vertical slice of earth into cells: soil, walls, boards and footings round a hole that is a room,
// and makes of it a conducting body for the network solver.
//
// The slice is a plane across the house: x from the front to the back [m], z upward from grade [m]. Cells have a width along
// the house, which is where the ends of a finite house enter (see Widen). Cells that can freeze have an enthalpy law.
//
//	Slice.Mesh    lines, cells, faces; the order of cells keeps the band of the matrix small
//	Mesh.AddTo    cells, edges and ports of a thermal.Body
//	Mesh.AddSheets a level strip within the earth as a port, such as a row of buried tubes
//	Mesh.Widen    the ends of a finite house, by a trial in three dimensions or ISO 13370
//	Strata.Column undisturbed ground: one stack of cells behind its surface
//	Harmonic      the yearly wave to start it from
//
// What is promised: a face's heat goes through the half cell behind it and the rim's own resistance, nothing else; what no rim
// covers is adiabatic; heat between two cells goes through their two halves in series, so that temperature and flow are
// both continuous at a change of medium. Results are of second order in the cell where edges are upright or level.
package ground

// Medium is a conducting substance, thawed and frozen. A zero Latent means that it does not freeze; a zero KFrozen or CFrozen
// means as when thawed.
type Medium struct {
	K, KFrozen float64 // conductivity [W/mK]
	C, CFrozen float64 // heat capacity by volume [J/m³K]
	Latent     float64 // heat of freezing by volume, between Lower and Upper, sensible part included [J/m³]
	Lower      float64 // all frozen at and below [°C]
	Upper      float64 // all thawed at and above [°C]
}

// Rect is a rectangle of one medium; in a list, later ones lie over earlier ones.
type Rect struct {
	X0, Z0, X1, Z1 float64 // [m]
	Medium         Medium
}

// Point is a corner [m].
type Point struct{ X, Z float64 }

// Rim is a piece of boundary, a straight line from A to B, through which cells are joined to port Port: part of the outer
// edge of the slice, or of the edge of a hole. What no rim covers is adiabatic.
type Rim struct {
	A, B Point
	Port int
	R    float64 // resistance between the cells' face and the port [m²K/W]; 0 puts the face at the port's temperature
}

// Slice is what is to be cut.
type Slice struct {
	X0, Z0, X1, Z1 float64 // outer box [m]; its top may lie above grade (beds, banks)
	Fill           Medium  // where no rectangle lies
	Rects          []Rect
	Holes          [][]Point // polygons without matter: the room. Edges may slope: cells are in when their middle is
	Rims           []Rim
	Width          float64 // along the house [m]
	Finest         float64 // cell at the fine lines [m]
	Growth         float64 // growth of the cell per metre of distance from the nearest fine line [m/m]; 0 means 0.25
	Coarsest       float64 // 0 means 1 m
	// FineX and FineZ are lines near which cells are finest; edges of rectangles, holes and rims are mesh lines anyway.
	// Empty means the corners of the holes; with no hole either, cells are of the coarsest size.
	FineX, FineZ []float64
	// LinesZ are further heights at which mesh lines lie, so that a Sheet has its cell's middle.
	LinesZ []float64
	// Parts cuts every cell into so many along x and along z, to see what the cutting costs; 0 means 1.
	Parts int
}
