package glazing

import "math"

// Optics is what becomes of one unit of sunlight that falls on a stack, all as
// shares: Transmittance + Reflectance + the sum of Absorbed is 1.
type Optics struct {
	Transmittance float64
	Reflectance   float64
	// Absorbed by sheet, numbered from outdoors whichever side the light comes
	// from; 0 beyond the last sheet.
	Absorbed [MaxSheets]float64
}

// Fresnel returns the reflectances of one smooth surface between air and a
// material of the given refractive index, for light with its electric field
// across (perpendicular) and in (parallel) the plane of incidence, and the
// cosine of the refracted ray, by the cosine of incidence, 0 to 1.
//
//	sin b = sin a/n
//	perpendicular = ((cos a - n cos b)/(cos a + n cos b))^2
//	parallel      = ((n cos a - cos b)/(n cos a + cos b))^2
//
// Source: Fresnel; Duffie and Beckman, Solar Engineering of Thermal Processes, eqs. 5.1.1 to 5.1.4.
func Fresnel(index, cosIncidence float64) (perpendicular, parallel, cosRefracted float64) {
	a := cosIncidence
	b := math.Sqrt(1 - (1-a*a)/(index*index))
	across := (a - index*b) / (a + index*b)
	in := (index*a - b) / (index*a + b)
	return across * across, in * in, b
}

// layer is a sheet or a pile of sheets for one polarisation.
type layer struct{ transmittance, reflectance float64 }

// single returns a sheet's own transmittance and reflectance with all inner
// reflections, for surfaces of reflectance r and one pass of transmittance p.
//
//	t = p (1-r)^2/(1 - r^2 p^2),  reflectance = r (1 + p t)
//
// Source: Duffie and Beckman, eqs. 5.3.1 and 5.3.2.
func single(r, p float64) layer {
	t := p * (1 - r) * (1 - r) / (1 - r*r*p*p)
	return layer{t, r * (1 + p*t)}
}

// grazing is the cosine below which a ray is taken as wholly thrown back: the
// formulas become 0/0 at 90°.
const grazing = 1e-6

// Optics returns what becomes of a beam from outdoors, unpolarised, by the
// cosine of incidence. A cosine of 0 or less is light along or behind the pane: it is thrown back whole.
//
// Each polarisation goes through the stack on its own and the two are averaged,
// exact for plane parallel sheets thicker than a wavelength. Source: Duffie and Beckman,
// ch. 5; the sums over sheets by Edwards 1977, Solar Energy 19:401.
func (s Stack) Optics(cosIncidence float64) Optics { return s.optics(cosIncidence, outdoors) }

// OpticsFromInside returns what becomes of a beam from indoors: as Optics, with
// Absorbed still numbered from outdoors.
func (s Stack) OpticsFromInside(cosIncidence float64) Optics { return s.optics(cosIncidence, indoors) }

// side is where light comes from.
type side int

const (
	outdoors side = iota
	indoors
)

// sheet returns which sheet, numbered from outdoors, is met i-th of n.
func (from side) sheet(i, n int) int {
	if from == indoors {
		return n - 1 - i
	}
	return i
}

func (s Stack) optics(cosIncidence float64, from side) Optics {
	if cosIncidence < grazing {
		return Optics{Reflectance: 1}
	}
	n := len(s.Sheets)
	cos := min(cosIncidence, 1)
	var across, in [MaxSheets]layer
	for i := range n {
		sheet := &s.Sheets[from.sheet(i, n)]
		perpendicular, parallel, refracted := Fresnel(sheet.Index, cos)
		pass := math.Exp(-sheet.ExtinctionPerM * sheet.ThicknessM / refracted)
		across[i], in[i] = single(perpendicular, pass), single(parallel, pass)
	}
	var o Optics
	o.add(across[:n], from)
	o.add(in[:n], from)
	return o
}

// add follows half a unit of light, one polarisation, through the layers in the
// order it meets them. Above and below layer i the pile is one layer each:
//
//	T_i+1 = T_i t_i/(1 - B_i r_i),   B_i+1 = r_i + t_i^2 B_i/(1 - B_i r_i)
//	F_i   = r_i + t_i^2 F_i+1/(1 - r_i F_i+1)
//
// with T transmittance and B back reflectance of the layers passed, F reflectance
// of the layers to come. The light that falls on layer i is D_i = T_i/(1 - B_i F_i).
func (o *Optics) add(layers []layer, from side) {
	n := len(layers)
	var ahead [MaxSheets + 1]float64 // F
	for i := n - 1; i >= 0; i-- {
		l := layers[i]
		ahead[i] = l.reflectance + l.transmittance*l.transmittance*ahead[i+1]/(1-l.reflectance*ahead[i+1])
	}
	passed, back := 1.0, 0.0 // T, B
	onto := 1.0              // D
	for i, l := range layers {
		loop := 1 - back*l.reflectance
		passed *= l.transmittance / loop
		back = l.reflectance + l.transmittance*l.transmittance*back/loop
		beyond := passed / (1 - back*ahead[i+1])
		o.Absorbed[from.sheet(i, n)] += 0.5 * (1 - l.transmittance - l.reflectance) * (onto + beyond*ahead[i+1])
		onto = beyond
	}
	o.Transmittance += 0.5 * passed
	o.Reflectance += 0.5 * ahead[0]
}

// accumulate adds weight times p to o.
func (o *Optics) accumulate(p *Optics, weight float64) {
	o.Transmittance += weight * p.Transmittance
	o.Reflectance += weight * p.Reflectance
	for i := range o.Absorbed {
		o.Absorbed[i] += weight * p.Absorbed[i]
	}
}
