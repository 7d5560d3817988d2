package house

import (
	"math"
	"strings"

	"suncellar/internal/material"
)

// drums are the words of the plan for vessels of the library.
var drums = map[string]string{"drum 55 gal": "drum_55gal_plastic", "steel drum 55 gal": "drum_55gal_steel",
	"tote 275 gal": "tote_275gal", "tote 330 gal": "tote_330gal"}

// DrumNames are the sizes that a plan may name.
func DrumNames() []string {
	return []string{"drum 55 gal", "steel drum 55 gal", "tote 275 gal", "tote 330 gal"}
}

func (r *resolver) store() {
	if r.p.Store == nil {
		return
	}
	h := r.h
	for i, d := range r.p.Store.Rows {
		path := pathIndex("store.rows", i)
		row := Row{Name: d.Name, Drums: d.Drums, Bays: d.Bays, Tiers: d.Tiers, Fill: d.Fill, X: frontXOf(h) + d.At, Base: h.FloorZ + d.Base, StartC: d.Start}
		row.Wall = Layer{Name: "hdpe", Thickness: 0.003, Conductivity: 0.45, R: 0.003 / 0.45}
		if d.Diameter != nil && d.Height != nil {
			row.Diameter, row.Height = *d.Diameter, *d.Height
			row.Volume = math.Pi / 4 * math.Pow(row.Diameter-0.006, 2) * (row.Height - 0.006)
		} else {
			v, err := material.LookupVessel(drums[d.Size])
			if err != nil {
				r.fail(path+".size", "", "drum size %q is not known, must be one of %s", d.Size, strings.Join(DrumNames(), ", "))
				continue
			}
			row.Height, row.Volume = v.HeightM, v.VolumeM3
			row.Diameter = 2 * math.Sqrt(v.FootprintM2()/math.Pi)
			if m, err := material.Lookup(v.Wall); err == nil {
				row.Wall = Layer{Name: v.Wall, Thickness: v.WallM, Conductivity: m.ConductivityWMK, R: v.WallM / m.ConductivityWMK}
			}
		}
		row.Top = row.Base + float64(d.Tiers)*row.Height
		row.Absorptance = 0.92
		if s, err := material.LookupSurface(Key(d.Colour)); err == nil {
			row.Absorptance = s.Absorptance
		}
		if d.Drums > 0 && !inside(h.Section, Point{row.X, row.Top}) {
			r.fail(path, "move the row or take off a tier", "the top of %s, %.2f m above the floor, is not inside the house at %.2f m from the front wall", d.Name, row.Top-h.FloorZ, d.At)
		}
		if along := math.Ceil(float64(d.Drums)/float64(d.Tiers)) * row.Diameter; along > h.Length+1e-6 {
			r.fail(path+".drums", "a row stands along the house, tier upon tier", "%d drums in %d tiers take %.2f m, the house is %.2f m long", d.Drums, d.Tiers, along, h.Length)
		}
		if d.Bays > max(1, d.Drums) {
			r.fail(path+".bays", "", "%d bays for %d drums, must be at most as many", d.Bays, d.Drums)
		}
		h.Rows = append(h.Rows, row)
	}
}
