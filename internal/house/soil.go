package house

import "math"

// Bottom is how deep the slice of ground is reckoned below grade where no ground water ends it [m above grade, so below 0].
func (h *House) Bottom() float64 { return math.Min(h.SinkZ, 0) - h.Plan.Ground.Reach }

// soilLayers holds the layers of soil to the ground that is reckoned. Where ground water ends it higher, layers may reach below it.
func (r *resolver) soilLayers() {
	for i, l := range r.p.Site.SoilLayers {
		if bottom := r.h.Bottom(); -l.To <= bottom {
			r.fail(pathIndex("site.soil_layers", i)+".to", "leave out what lies so deep, or set ground.reach higher",
				"the layer reaches %.2f m below grade, must end above %.2f m, as deep as the ground is reckoned", l.To, -bottom)
		}
	}
}
