package glazing

import "math"

// Diffuse is a stack's optics for light of equal brightness from all or part of
// the half-space it faces, each per unit of that light on the pane.
type Diffuse struct {
	Outside Optics // the whole outdoor half-space
	Inside  Optics // the whole indoor half-space
	Sky     Optics // the part of the outdoor half-space above the horizon
	Ground  Optics // the part below; all zero for a level pane, which sees none
}

// Diffuse returns the diffuse optics of the stack at the given slope, 0 to 180°,
// by integration over incidence a:
//
//	integral of x(a) share(a) sin 2a da / integral of share(a) sin 2a da,  0 to 90°
//
// share is 1 for a whole half-space. The sky fills the share arccos(-cot a cot s)/pi of the
// ring of incidence a about the normal of a pane of slope s, the ground the rest;
// so the share of sky on the pane is (1 + cos s)/2. Simpson's rule in steps of half a degree.
func (s Stack) Diffuse(slope Angle) Diffuse {
	const steps = 180
	var d Diffuse
	var whole, sky, ground float64
	for i := 1; i < steps; i++ { // sin 2a is 0 at both ends
		a := float64(i) / steps * math.Pi / 2
		weight := math.Sin(2*a) * float64(2+2*(i%2))
		up := skyShare(a, float64(slope))
		outside, inside := s.Optics(math.Cos(a)), s.OpticsFromInside(math.Cos(a))
		d.Outside.accumulate(&outside, weight)
		d.Inside.accumulate(&inside, weight)
		d.Sky.accumulate(&outside, weight*up)
		d.Ground.accumulate(&outside, weight*(1-up))
		whole, sky, ground = whole+weight, sky+weight*up, ground+weight*(1-up)
	}
	d.Outside.scale(1 / whole)
	d.Inside.scale(1 / whole)
	if sky > 1e-9*whole {
		d.Sky.scale(1 / sky)
	}
	if ground > 1e-9*whole {
		d.Ground.scale(1 / ground)
	}
	return d
}

// skyShare returns the share of the ring of incidence a that lies above the horizon.
func skyShare(a, slope float64) float64 {
	c := -math.Cos(slope) * math.Cos(a)
	s := math.Sin(slope) * math.Sin(a)
	if math.Abs(c) >= s {
		if c <= 0 {
			return 1
		}
		return 0
	}
	return math.Acos(c/s) / math.Pi
}

func (o *Optics) scale(by float64) {
	p := *o
	*o = Optics{}
	o.accumulate(&p, by)
}

// Table is a stack's optics worked out beforehand for hourly use. It is read
// only once made and safe to share.
type Table struct {
	Diffuse Diffuse
	sheets  int
	outside [tableSteps + 1]Optics
	inside  [tableSteps + 1]Optics
}

// tableSteps of the square root of the cosine, which crowds the rows near grazing
// incidence, where the shares turn sharply: within 0.0001 of the exact share at
// every incidence (a test holds it).
const tableSteps = 400

// NewTable returns the optics of the stack at the given slope, 0 to 180°.
func NewTable(s Stack, slope Angle) (*Table, error) {
	if err := s.Check(); err != nil {
		return nil, err
	}
	if err := within(bound{"glazing slope in radians", float64(slope), 0, math.Pi}); err != nil {
		return nil, err
	}
	t := &Table{Diffuse: s.Diffuse(slope), sheets: len(s.Sheets)}
	for i := range t.outside {
		root := float64(i) / tableSteps
		cos := root * root
		t.outside[i], t.inside[i] = s.Optics(cos), s.OpticsFromInside(cos)
	}
	return t, nil
}

// FromOutside returns Stack.Optics at that cosine from the table, without allocating.
func (t *Table) FromOutside(cosIncidence float64) Optics {
	return t.at(&t.outside, cosIncidence)
}

// FromInside returns Stack.OpticsFromInside at that cosine from the table.
func (t *Table) FromInside(cosIncidence float64) Optics {
	return t.at(&t.inside, cosIncidence)
}

func (t *Table) at(rows *[tableSteps + 1]Optics, cosIncidence float64) Optics {
	if math.IsNaN(cosIncidence) {
		return Optics{Transmittance: cosIncidence, Reflectance: cosIncidence}
	}
	x := math.Sqrt(min(max(cosIncidence, 0), 1)) * tableSteps
	i := min(int(x), tableSteps-1)
	f := x - float64(i)
	low, high := &rows[i], &rows[i+1]
	o := Optics{
		Transmittance: low.Transmittance + f*(high.Transmittance-low.Transmittance),
		Reflectance:   low.Reflectance + f*(high.Reflectance-low.Reflectance),
	}
	for k := range t.sheets {
		o.Absorbed[k] = low.Absorbed[k] + f*(high.Absorbed[k]-low.Absorbed[k])
	}
	return o
}
