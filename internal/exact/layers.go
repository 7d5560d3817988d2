package exact

// Layer is one sheet of a wall.
type Layer struct {
	Thickness    float64 // [m]
	Conductivity float64 // [W/(m K)]
}

// Wall is a stack of layers between two films, first the inner one.
type Wall struct {
	InnerFilm float64 // surface resistance [m2 K/W]
	Layers    []Layer
	OuterFilm float64 // surface resistance [m2 K/W]
}

// Resistance is the sum of films and layers [m2 K/W].
// Source: ISO 6946:2017, total resistance of homogeneous layers.
func (w Wall) Resistance() float64 {
	r := w.InnerFilm + w.OuterFilm
	for _, l := range w.Layers {
		r += l.Thickness / l.Conductivity
	}
	return r
}

// Steady returns the heat flow from inside to outside [W/m2] and the temperature
// of every face [°C], from the inner surface to the outer one: one more than layers.
// Source: CJ section 3.2 (composite wall).
func (w Wall) Steady(inside, outside float64) (flow float64, faces []float64) {
	flow = (inside - outside) / w.Resistance()
	t := inside - flow*w.InnerFilm
	faces = append(faces, t)
	for _, l := range w.Layers {
		t -= flow * l.Thickness / l.Conductivity
		faces = append(faces, t)
	}
	return flow, faces
}
