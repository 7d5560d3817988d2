package airflow

import "math"

// Fluids is a fluid by its temperature, as a table of what films take from it, straight between its rows. Films are asked for thousands of times an hour, and
// the formulas of the fluids are longer than those of the films.
type Fluids struct {
	from, perK float64
	of         func(celsius float64) Fluid
	rows       []fluidRow
}

type fluidRow struct {
	Fluid
	upright float64 // 0.387 (g Pr/nu^2)^(1/6)/shape, see Upright [1/m^(1/2)]
}

// NewFluids returns the table of a fluid from and to temperatures [°C], perK rows for a kelvin. Beyond its ends the fluid's own formulas are asked.
func NewFluids(from, to, perK float64, of func(celsius float64) Fluid) *Fluids {
	t := &Fluids{from: from, perK: perK, of: of}
	for k := range int((to-from)*perK) + 1 {
		t.rows = append(t.rows, rowOf(of(from+float64(k)/perK)))
	}
	return t
}

func rowOf(f Fluid) fluidRow {
	return fluidRow{f, 0.387 / uprightShape(f.Prandtl) * math.Sqrt(cubeRoot(f.rayleigh(1, 1)))}
}

// At is the fluid at celsius [°C].
func (t *Fluids) At(celsius float64) Fluid {
	r := t.row(celsius)
	return r.Fluid
}

// Upright is the film of Upright in the fluid at celsius [°C].
func (t *Fluids) Upright(celsius, density, heightM float64) float64 {
	r := t.row(celsius)
	return r.film(density, heightM)
}

// film is that of Upright.
func (r *fluidRow) film(density, heightM float64) float64 {
	root := 0.825 + r.upright*math.Sqrt(cubeRoot(math.Abs(density)*heightM*heightM*heightM))
	return root * root * r.ConductivityWMK / heightM
}

func (t *Fluids) row(celsius float64) fluidRow {
	x := (celsius - t.from) * t.perK
	if !(x >= 0 && x < float64(len(t.rows)-1)) {
		return rowOf(t.of(celsius))
	}
	k := int(x)
	a, b, f := &t.rows[k], &t.rows[k+1], x-float64(k)
	return fluidRow{Fluid{
		ConductivityWMK: a.ConductivityWMK + f*(b.ConductivityWMK-a.ConductivityWMK),
		KinematicM2S:    a.KinematicM2S + f*(b.KinematicM2S-a.KinematicM2S),
		Prandtl:         a.Prandtl + f*(b.Prandtl-a.Prandtl),
	}, a.upright + f*(b.upright-a.upright)}
}
