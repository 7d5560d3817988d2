package greenhouse

import (
	"suncellar/internal/enclosure"
	"suncellar/internal/sun"
)

// Stretches is into how many equal lengths the light on a strip is told along the house, from the left end.
const Stretches = enclosure.Stretches

// StripLight is the photosynthetic light on the level of a strip of a bed.
type StripLight struct {
	Bed, Side string  // Side is "" for a bed that is one strip
	X0, X1    float64 // in the section [m]
	// by recorded hour, mean along the house [mol/m²]
	Mol []float32
	// by each 24 recorded hours, the last perhaps not whole, and by stretch from the left end [mol/m²]
	Days [][Stretches]float32
	// longwave that falls on its leaf tips from above, at the end of each recorded hour [W/m²]
	AboveWM2 []float32
}

// Name is that of the strip: "front bed, glazing side".
func (s *StripLight) Name() string {
	if s.Side == "" {
		return s.Bed
	}
	return s.Bed + ", " + s.Side
}

// DayMol is the light on the strip over some days, from..to-1, by stretch [mol/m² a day].
func (s *StripLight) DayMol(from, to int) (along [Stretches]float64) {
	for _, d := range s.Days[from:to] {
		for k, mol := range d {
			along[k] += float64(mol) / float64(to-from)
		}
	}
	return along
}

func (g *Greenhouse) newStrips(hours int) []StripLight {
	var list []StripLight
	for _, s := range g.room.strips {
		list = append(list, StripLight{Bed: g.House.Beds[s.bed].Name, Side: s.side, X0: s.x0, X1: s.x1,
			Days: make([][Stretches]float32, 0, (hours+23)/24), Mol: make([]float32, 0, hours), AboveWM2: make([]float32, 0, hours)})
	}
	return list
}

// recordStrips keeps the light and the longwave of the hour; temperatures of the places must be there.
func (g *Greenhouse) recordStrips(r *Result) {
	for k := range r.Strips {
		s := &r.Strips[k]
		if len(s.Mol)%24 == 0 {
			s.Days = append(s.Days, [Stretches]float32{})
		}
		s.AboveWM2 = append(s.AboveWM2, float32(g.leaves[k].above))
		s.Mol = append(s.Mol, float32(sun.PhotonsMolM2(g.light.stripWM2(k)*3600)))
		day := &s.Days[len(s.Days)-1]
		for j := range day {
			day[j] += float32(sun.PhotonsMolM2(g.light.strips[k*Stretches+j] * 3600))
		}
	}
}

// photons is the light on level ground at the beds in the hour [mol/m²]; plants use PAR, the bedWM2 is all sun.
func (g *Greenhouse) photons() float64 { return sun.PhotonsMolM2(g.light.bedWM2 * 3600) }
