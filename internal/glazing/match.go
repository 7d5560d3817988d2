package glazing

import (
	"fmt"
	"math"
)

// Stacks made to meet published numbers: the sheets' extinction is chosen to meet
// a normal transmittance, and a conductance beside each gap to meet a U.

// withTransmittance returns the stack with one extinction in all its sheets so
// that a beam at normal incidence is passed to the share want. It fails where
// even a lossless stack of that index passes less.
func (s Stack) withTransmittance(want float64) (Stack, error) {
	s.Sheets = append([]Sheet(nil), s.Sheets...)
	set := func(extinction float64) float64 {
		for i := range s.Sheets {
			s.Sheets[i].ExtinctionPerM = extinction
		}
		return s.Optics(1).Transmittance
	}
	if clear := set(0); !(want > 0 && want <= clear) {
		return Stack{}, fmt.Errorf("normal transmittance is %g, must be above 0 and at most %.3f, what %d sheets of index %g pass without absorbing", want, clear, len(s.Sheets), s.Sheets[0].Index)
	}
	low, high := 0.0, 1/s.Sheets[0].ThicknessM
	for set(high) > want {
		high *= 2
	}
	for high-low > 1e-12*high {
		mid := 0.5 * (low + high)
		if set(mid) > want {
			low = mid
		} else {
			high = mid
		}
		if mid == low && mid == high {
			break
		}
	}
	set(0.5 * (low + high))
	return s, nil
}

// withU returns the stack with one conductance beside every gap so that its
// DeclaredU is want. Where the gaps alone already pass more, nothing is added and
// the stack keeps its own, higher U: a conductance cannot be taken away.
func (s Stack) withU(want float64) Stack {
	s.Gaps = append([]Gap(nil), s.Gaps...)
	set := func(web float64) float64 {
		for i := range s.Gaps {
			s.Gaps[i].WebWM2K = web
		}
		return s.DeclaredU()
	}
	if len(s.Gaps) == 0 || set(0) >= want {
		return s
	}
	low, high := 0.0, 1000.0
	for high-low > 1e-6 {
		mid := 0.5 * (low + high)
		if set(mid) < want {
			low = mid
		} else {
			high = mid
		}
	}
	set(high)
	return s
}

// Pane is one sheet of a stack given by its optical data, and the gap behind it.
type Pane struct {
	Index           float64 // refractive index
	ExtinctionPerM  float64 // [1/m]
	ThicknessM      float64 // [m]
	ConductivityWMK float64 // [W/m K]; 0 stands for 1.0, glass
	Emittance       float64 // of both faces; 0 stands for 0.84, glass
	GapM            float64 // gap to the next pane inward [m]; not used in the last
	GapWM2K         float64 // where above 0, the whole fixed conductance of that gap [W/m2 K]
}

// FromPanes returns the stack of those panes, from outdoors inward, with air between them.
func FromPanes(panes []Pane) (Stack, error) {
	var s Stack
	for i, p := range panes {
		if p.ConductivityWMK == 0 {
			p.ConductivityWMK = 1.0
		}
		if p.Emittance == 0 {
			p.Emittance = 0.84
		}
		s.Sheets = append(s.Sheets, Sheet{Index: p.Index, ExtinctionPerM: p.ExtinctionPerM, ThicknessM: p.ThicknessM,
			ConductivityWMK: p.ConductivityWMK, EmittanceOuter: p.Emittance, EmittanceInner: p.Emittance})
		if i < len(panes)-1 {
			s.Gaps = append(s.Gaps, Gap{ThicknessM: p.GapM, FixedWM2K: p.GapWM2K})
		}
	}
	return s, s.Check()
}

// Numbers is a glazing of which only two figures are known.
type Numbers struct {
	NormalTransmittance float64 // of sunlight at normal incidence
	UWM2K               float64 // under the maker's conditions: see Stack.DeclaredU
	// Sheets is how many walls it has; 0 stands for 1 from 4.5 W/m2K up, 3 below 2.2, else 2.
	Sheets int
}

// FromNumbers returns a stack that meets both figures: sheets of index 1.526, or
// lower where so clear a glazing needs it; gaps of 12 mm of air with a conductance
// beside them, or, where the U is lower than such gaps allow, of a fixed
// conductance. A single sheet's U is mostly its films: it is met down to a sheet of no
// resistance, 5.88, and a declared U from there to 7 gives that sheet.
func FromNumbers(n Numbers) (Stack, error) {
	err := within(bound{"normal transmittance", n.NormalTransmittance, 0.05, 0.97}, bound{"U in W/m2K", n.UWM2K, 0.2, 7}, bound{"number of sheets", float64(n.Sheets), 0, MaxSheets})
	if err != nil {
		return Stack{}, fmt.Errorf("glazing: %w", err)
	}
	films := DeclaredFilms()
	s := n.plain()
	left := 1/n.UWM2K - 1/films.Outside - 1/films.Inside // resistance of the pane itself
	switch {
	case len(s.Gaps) == 0:
		s.Sheets[0].ConductivityWMK = min(s.Sheets[0].ThicknessM/max(left, 1e-9), 10)
		if s.Sheets[0].ConductivityWMK < 0.01 {
			return Stack{}, fmt.Errorf("glazing: U is %g W/m2K for a single sheet, must be at least 2", n.UWM2K)
		}
	case s.DeclaredU() <= n.UWM2K:
		if s = s.withU(n.UWM2K); math.Abs(s.DeclaredU()-n.UWM2K) > 0.01 {
			return Stack{}, fmt.Errorf("glazing: U is %g W/m2K for %d sheets, must be at most %.2f", n.UWM2K, len(s.Sheets), s.DeclaredU())
		}
	default:
		for i := range s.Sheets {
			left -= 1 / s.SheetWM2K(i)
		}
		for i := range s.Gaps {
			s.Gaps[i].FixedWM2K = float64(len(s.Gaps)) / left
		}
	}
	return s.withTransmittance(n.NormalTransmittance)
}

// plain returns the sheets and gaps that FromNumbers starts from.
func (n Numbers) plain() Stack {
	sheets := n.Sheets
	if sheets == 0 {
		switch {
		case n.UWM2K >= 4.5:
			sheets = 1
		case n.UWM2K >= 2.2:
			sheets = 2
		default:
			sheets = 3
		}
	}
	index := 1.526
	if most := lossless(index, sheets); n.NormalTransmittance > most {
		low, high := 1.0, index
		for high-low > 1e-9 {
			if mid := 0.5 * (low + high); lossless(mid, sheets) > n.NormalTransmittance {
				low = mid
			} else {
				high = mid
			}
		}
		index = low
	}
	var s Stack
	for i := range sheets {
		s.Sheets = append(s.Sheets, Sheet{Index: index, ThicknessM: 0.003, ConductivityWMK: 1, EmittanceOuter: 0.84, EmittanceInner: 0.84})
		if i > 0 {
			s.Gaps = append(s.Gaps, Gap{ThicknessM: 0.012})
		}
	}
	return s
}

// lossless returns the normal transmittance of sheets that absorb nothing:
// (1 - r)/(1 + (2 N - 1) r), Duffie and Beckman eq. 5.1.8.
func lossless(index float64, sheets int) float64 {
	r, _, _ := Fresnel(index, 1)
	return (1 - r) / (1 + (2*float64(sheets)-1)*r)
}
