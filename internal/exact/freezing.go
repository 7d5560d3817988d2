package exact

import (
	"fmt"
	"math"

	"suncellar/internal/numeric"
)

// Phase is one state of a freezing body.
type Phase struct {
	Conductivity float64 // k [W/(m K)]
	HeatCapacity float64 // of a volume, C [J/(m3 K)]
}

// Diffusivity is k/C [m2/s].
func (p Phase) Diffusivity() float64 { return p.Conductivity / p.HeatCapacity }

// StefanRoot is lambda of the front that freezes a body already at its freezing
// point, X = 2 lambda sqrt(a t), for the Stefan number St = C (Tf-Ts) / L, both of
// the volume, the frozen part.
//
//	lambda exp(lambda^2) erf(lambda) = St / sqrt(pi)
//
// Valid for 0 < St < 1e6. Source: CJ section 11.2 with the body at Tf (Stefan's problem).
func StefanRoot(stefan float64) (float64, error) {
	if !(stefan > 0 && stefan < 1e6) {
		return 0, fmt.Errorf("stefan number is %g, must be above 0 and below 1e6", stefan)
	}
	return numeric.Root(func(l float64) float64 {
		return l*math.Exp(l*l)*math.Erf(l) - stefan/math.Sqrt(math.Pi)
	}, 0, 5, 0)
}

// Freezing is a deep body that starts at Start and freezes from a surface held
// at Surface. The two states have one density: nothing swells.
type Freezing struct {
	Frozen, Thawed Phase
	Latent         float64 // heat of freezing of a volume, L [J/m3]
	Surface        float64 // Ts, below Point [°C]
	Start          float64 // Ti, at or above Point [°C]
	Point          float64 // Tf, of freezing [°C]
}

// Front is the solved position of the ice.
type Front struct {
	Freezing
	Mu float64 // X = 2 Mu sqrt(a_frozen t)
}

// Solve finds the front.
//
//	kf (Tf-Ts) exp(-m^2) / (sqrt(pi af) erf m)
//	  - ku (Ti-Tf) exp(-m^2 af/au) / (sqrt(pi au) erfc(m sqrt(af/au))) = L m sqrt(af)
//
// Source: F. Neumann's solution, CJ section 11.2.
func (f Freezing) Solve() (Front, error) {
	if !(f.Surface < f.Point) || !(f.Start >= f.Point) || !(f.Latent > 0) {
		return Front{}, fmt.Errorf("freezing from %g to %g °C through %g °C with %g J/m3, must start at or above the point, be held below it and have latent heat", f.Start, f.Surface, f.Point, f.Latent)
	}
	af, au := f.Frozen.Diffusivity(), f.Thawed.Diffusivity()
	ratio := math.Sqrt(af / au)
	balance := func(m float64) float64 {
		out := f.Frozen.Conductivity * (f.Point - f.Surface) * math.Exp(-m*m) / (math.Sqrt(math.Pi*af) * math.Erf(m))
		// exp(-z^2)/erfc(z) is 1/erfcx(z).
		in := f.Thawed.Conductivity * (f.Start - f.Point) / (math.Sqrt(math.Pi*au) * erfcx(m*ratio))
		return out - in - f.Latent*m*math.Sqrt(af)
	}
	mu, err := numeric.Root(balance, 1e-12, 10, 0)
	if err != nil {
		return Front{}, fmt.Errorf("front of freezing: %w", err)
	}
	return Front{f, mu}, nil
}

// Depth of the front [m] after a time [s].
func (f Front) Depth(time float64) float64 {
	return 2 * f.Mu * math.Sqrt(f.Frozen.Diffusivity()*time)
}

// Temperature at a depth [m] after a time [s], in °C.
// Source: CJ section 11.2.
func (f Front) Temperature(depth, time float64) float64 {
	if depth <= f.Depth(time) {
		z := depth / (2 * math.Sqrt(f.Frozen.Diffusivity()*time))
		return f.Surface + (f.Point-f.Surface)*math.Erf(z)/math.Erf(f.Mu)
	}
	au := f.Thawed.Diffusivity()
	z := depth / (2 * math.Sqrt(au*time))
	return f.Start - (f.Start-f.Point)*math.Erfc(z)/math.Erfc(f.Mu*math.Sqrt(f.Frozen.Diffusivity()/au))
}

// SurfaceFlow is the heat that leaves the surface [W/m2] at a time [s].
//
//	q = kf (Tf-Ts) / (sqrt(pi af t) erf m)
//
// Source: from the gradient of the frozen part in CJ section 11.2.
func (f Front) SurfaceFlow(time float64) float64 {
	return f.Frozen.Conductivity * (f.Point - f.Surface) / (math.Sqrt(math.Pi*f.Frozen.Diffusivity()*time) * math.Erf(f.Mu))
}

// FrostDepth is the depth of ice [m] where the frozen part stores no heat: the
// quasi-steady front for a freezing index [K s].
//
//	X = sqrt(2 k F / L)
//
// Source: J. Stefan 1891, as CJ section 11.2 for small Stefan numbers.
func FrostDepth(frozen Phase, latent, index float64) float64 {
	return math.Sqrt(2 * frozen.Conductivity * index / latent)
}
