package report

import (
	"slices"

	"suncellar/internal/drawing"
	"suncellar/internal/house"
	"suncellar/internal/winter"
)

// Shown is what a section shows beside the house itself.
type Shown struct {
	WinterSun, SummerSun bool    // at noon of the shortest and of the longest day
	Measures             bool    // spans and levels
	SnowM, GroundSnowM   float64 // as it lay at the deepest in a winter, on glazing and ground [m]
}

// SectionShown fills in the section of a house without a winter's temperatures.
func (t Teller) SectionShown(h *house.House, shown Shown) drawing.Section {
	s := t.Section(h, nil)
	s.Rays = slices.DeleteFunc(s.Rays, func(r drawing.Ray) bool { return r.Dashed && !shown.SummerSun || !r.Dashed && !shown.WinterSun })
	if !shown.Measures {
		s.Spans, s.Levels = nil, nil
	}
	s.SnowM, s.SnowByM, s.SnowWords = shown.SnowM, shown.GroundSnowM, deepest
	return s
}

// deepest is said of snow in a section.
const deepest = "deepest in this winter"

// DeepestSnow is how deep snow lay at most in a winter, on the glazing and on the ground [m].
func DeepestSnow(a *winter.Answer) (glazing, ground float64) {
	return slices.Max(append(slices.Clone(a.Result.SnowM), 0)), slices.Max(append(slices.Clone(a.Result.GroundSnowM), 0))
}
