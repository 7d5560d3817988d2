package draw

// Hatch is a pattern that says what something is made of, or that it is
// frozen, without colour.
type Hatch int

// Hatches.
const (
	Plain       Hatch = iota // no hatch
	Soil                     // groups of three slanted strokes, as a draughtsman draws earth
	Board                    // a zigzag between two lines: insulation
	Concrete                 // dots and small triangles
	Gravel                   // small stones
	FrostHatch               // even slanted lines: below freezing
	WaterHatch               // short level strokes
	TimberHatch              // grain, level lines of uneven length
	GlassHatch               // pairs of slanted strokes, far apart
	SnowHatch                // dots and small stars, far apart
	hatchCount
)

// String returns the name of the hatch as it stands in the file.
func (h Hatch) String() string {
	return [...]string{"plain", "soil", "board", "concrete", "gravel", "frost", "water", "timber", "glass", "snow"}[h]
}

// Tile is one repeat of a hatch: strokes in paper pixels, y downward, drawn
// with a pen of the given width. A stroke of one point is a dot.
type Tile struct {
	Width, Height float64 // [px]
	Pen           float64 // [px]
	Strokes       [][]Point
}

// Tile returns the repeat of the hatch; Plain has no strokes.
func (h Hatch) Tile() Tile {
	switch h {
	case Soil:
		return Tile{20, 20, 0.8, [][]Point{
			{{1, 8}, {7, 2}}, {{3, 10}, {9, 4}}, {{5, 12}, {11, 6}},
			{{11, 14}, {17, 20}}, {{13, 12}, {19, 18}}, {{9, 16}, {13, 20}},
		}}
	case Board:
		return Tile{8, 8, 0.8, [][]Point{{{0, 8}, {4, 0}, {8, 8}}}}
	case Concrete:
		return Tile{16, 16, 0.9, [][]Point{
			{{3, 4}}, {{12, 2}}, {{7, 9}}, {{14, 12}}, {{2, 13}},
			{{9, 4}, {11, 7}, {8, 7}, {9, 4}}, {{5, 12}, {8, 14}, {5, 15}, {5, 12}},
		}}
	case Gravel:
		return Tile{14, 12, 0.8, [][]Point{stone(3.5, 3, 2.4, 1.8), stone(10.5, 4.2, 2.2, 2), stone(6.6, 9, 2.5, 1.7), stone(12.4, 10, 1.2, 1)}}
	case FrostHatch:
		return Tile{5, 5, 0.9, [][]Point{{{-1, 6}, {6, -1}}, {{-1, 1}, {1, -1}}, {{4, 6}, {6, 4}}}}
	case WaterHatch:
		return Tile{12, 8, 0.8, [][]Point{{{1, 2}, {6, 2}}, {{7, 6}, {12, 6}}}}
	case TimberHatch:
		return Tile{18, 6, 0.7, [][]Point{{{0, 1.5}, {12, 1.5}}, {{6, 4.5}, {18, 4.5}}}}
	case GlassHatch:
		return Tile{24, 24, 0.8, [][]Point{{{4, 14}, {12, 6}}, {{8, 16}, {16, 8}}}}
	case SnowHatch:
		return Tile{14, 12, 0.8, [][]Point{
			{{1, 3}, {5, 3}}, {{2, 1.3}, {4, 4.7}}, {{4, 1.3}, {2, 4.7}}, {{10, 9}}, {{9, 2}}, {{3.5, 9.5}},
		}}
	default:
		return Tile{1, 1, 1, nil}
	}
}

// stone returns a closed hexagon about (x, y) with the given half extents.
func stone(x, y, a, b float64) []Point {
	return []Point{
		{x - a, y}, {x - a/2, y - b}, {x + a/2, y - b*0.9}, {x + a, y + b*0.1},
		{x + a*0.4, y + b}, {x - a*0.6, y + b*0.8}, {x - a, y},
	}
}
