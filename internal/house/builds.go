package house

import (
	"strings"

	"suncellar/internal/glazing"
	"suncellar/internal/material"
	"suncellar/internal/plan"
)

// Key turns a plan's "dark blue" into the tables' dark_blue.
func Key(name string) string { return strings.ReplaceAll(strings.TrimSpace(name), " ", "_") }

// builds resolves every build of the plan.
func (r *resolver) builds() {
	r.build = map[string]*Build{}
	for name, b := range r.p.Builds {
		out := &Build{Name: name, Inside: b.Inside, Outside: b.Outside}
		if b.RValue != nil {
			out.Layers = []Layer{{Name: "given resistance", R: *b.RValue}}
		}
		for i, l := range b.Layers {
			out.Layers = append(out.Layers, r.layer(l, pathIndex("builds."+name+".layers", i)))
		}
		r.build[name] = out
	}
}

func (r *resolver) layer(l plan.Layer, path string) Layer {
	if l.RValue != nil {
		return Layer{Name: "given resistance", R: *l.RValue, Thickness: l.Thickness}
	}
	m, ok := r.p.Materials[l.Material]
	if !ok {
		lib, err := material.Lookup(Key(l.Material))
		if err != nil {
			r.fail(path+".material", "", "%s", err.Error())
			return Layer{}
		}
		m = plan.Material{Conductivity: lib.ConductivityWMK, Density: lib.DensityKgM3, SpecificHeat: lib.SpecificHeatJKgK}
	}
	return Layer{Name: l.Material, Thickness: l.Thickness, Conductivity: m.Conductivity,
		VolumeHeat: m.Density * m.SpecificHeat, R: l.Thickness / m.Conductivity}
}

func (r *resolver) buildOf(name, path string) *Build {
	if b, ok := r.build[name]; ok {
		return b
	}
	r.fail(path, "write it under builds:", "no build is called %q", name)
	return &Build{Name: name, Layers: []Layer{{R: 1}}}
}

// ownGlazing makes a stack of the user's panes, or of bare numbers.
func ownGlazing(g plan.Glazing) (glazing.Stack, error) {
	if len(g.Panes) == 0 {
		return glazing.FromNumbers(glazing.Numbers{NormalTransmittance: *g.Transmittance, UWM2K: *g.UValue, Sheets: g.Sheets})
	}
	var s glazing.Stack
	for _, p := range g.Panes {
		s.Sheets = append(s.Sheets, glazing.Sheet{Index: p.Index, ExtinctionPerM: p.Extinction, ThicknessM: p.Thickness, ConductivityWMK: p.Conductivity,
			EmittanceOuter: p.Emittance, EmittanceInner: p.Emittance, HeatJM2K: p.Density * p.SpecificHeat * p.Thickness, LongwaveTransmittance: p.Longwave})
	}
	for _, gap := range g.Gaps {
		out := glazing.Gap{ThicknessM: gap.Thickness}
		if gap.Coefficient != nil {
			out.FixedWM2K = *gap.Coefficient
		}
		s.Gaps = append(s.Gaps, out)
	}
	return s, s.Check()
}
