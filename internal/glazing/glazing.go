// Package glazing is the optics and the heat transfer of a stack of clear sheets
// with gaps between them: glass, multiwall plastic, film, on any slope.
//
// It promises, for every angle of incidence and from either side, that what is
// transmitted, reflected and absorbed in each sheet sums to one; that beam light
// is followed through all reflections for each polarisation by itself; and that a
// gap's convection follows its own slope, spacing, temperatures and air
// pressure. A library sheet carries its source and how sure it is, meets its
// published normal transmittance exactly, and its published U under the conditions that U was declared for.
//
// Sheets are numbered from outdoors inward. A cosine is that of the angle
// between the ray and the pane's normal; slopes are Angles from level ground.
// Equation numbers are given from memory. Temperatures in °C, lengths in m, conductances in W/m2 K. A NaN given is a NaN returned.
package glazing

import (
	"fmt"
	"math"
)

// Angle is an angle in radians.
type Angle float64

// Degrees returns the angle of that many degrees.
func Degrees(d float64) Angle { return Angle(d * math.Pi / 180) }

// Vertical is the slope of an upright pane.
const Vertical = Angle(math.Pi / 2)

// MaxSheets is the largest number of sheets in a stack.
const MaxSheets = 10

// Sheet is one clear, smooth sheet.
type Sheet struct {
	Index           float64 // refractive index against air
	ExtinctionPerM  float64 // of sunlight in the material [1/m]
	ThicknessM      float64 // [m]
	ConductivityWMK float64 // thermal conductivity [W/m K]
	EmittanceOuter  float64 // longwave, face to outdoors
	EmittanceInner  float64 // longwave, face to indoors
	// LongwaveTransmittance is the share of longwave that passes when dry; films only. Heat
	// transfer here takes every sheet as opaque to longwave: what passes a single sheet is exchanged by the room.
	LongwaveTransmittance float64
	HeatJM2K              float64 // heat capacity of the sheet [J/m2 K]; 0 where unknown
}

// Gas fills a gap.
type Gas int

// Gases of ISO 15099.
const (
	Air Gas = iota
	Argon90
)

// Gap lies between two sheets.
type Gap struct {
	ThicknessM float64 // [m]
	Gas        Gas
	// FixedWM2K, where above 0, is the whole conductance of the gap, convection
	// and radiation, at every temperature and slope [W/m2 K].
	FixedWM2K float64
	// WebWM2K is added to the gap's own convection and radiation: the ribs that
	// join the walls of a multiwall sheet, or longwave that passes a film [W/m2 K].
	WebWM2K float64
}

// Stack is sheets from outdoors inward with a gap between each two.
type Stack struct {
	Sheets []Sheet
	Gaps   []Gap // one fewer than Sheets
}

// Check reports the first value that no pane can have, saying where it is and
// what is allowed.
func (s Stack) Check() error {
	if n := len(s.Sheets); n < 1 || n > MaxSheets {
		return fmt.Errorf("glazing has %d sheets, must have 1 to %d", n, MaxSheets)
	}
	if len(s.Gaps) != len(s.Sheets)-1 {
		return fmt.Errorf("glazing has %d gaps between %d sheets, must have %d", len(s.Gaps), len(s.Sheets), len(s.Sheets)-1)
	}
	for i, sheet := range s.Sheets {
		if err := sheet.check(); err != nil {
			return fmt.Errorf("glazing sheet %d: %w", i+1, err)
		}
	}
	for i, gap := range s.Gaps {
		if err := gap.check(); err != nil {
			return fmt.Errorf("glazing gap %d: %w", i+1, err)
		}
	}
	return nil
}

func (s Sheet) check() error {
	return within(
		bound{"refractive index", s.Index, 1, 3},
		bound{"extinction in 1/m", s.ExtinctionPerM, 0, 1e6},
		bound{"thickness in m", s.ThicknessM, 1e-6, 0.1},
		bound{"conductivity in W/mK", s.ConductivityWMK, 0.01, 10},
		bound{"outer emittance", s.EmittanceOuter, 0.01, 1},
		bound{"inner emittance", s.EmittanceInner, 0.01, 1},
		bound{"longwave transmittance", s.LongwaveTransmittance, 0, 1},
		bound{"heat capacity in J/m2K", s.HeatJM2K, 0, 1e6},
	)
}

func (g Gap) check() error {
	if g.Gas != Air && g.Gas != Argon90 {
		return fmt.Errorf("gas is number %d, must be air or argon", g.Gas)
	}
	if err := within(bound{"fixed conductance in W/m2K", g.FixedWM2K, 0, 1000}, bound{"web conductance in W/m2K", g.WebWM2K, 0, 1000}); err != nil || g.FixedWM2K > 0 {
		return err
	}
	return within(bound{"thickness in m", g.ThicknessM, 1e-4, 1})
}

// bound is a value and the range it must lie in.
type bound struct {
	what             string
	value, low, high float64
}

func within(bounds ...bound) error {
	for _, b := range bounds {
		if !(b.value >= b.low && b.value <= b.high) {
			return fmt.Errorf("%s is %g, must be %g to %g", b.what, b.value, b.low, b.high)
		}
	}
	return nil
}
