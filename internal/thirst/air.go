package thirst

import (
	"math"

	"suncellar/internal/air"
	"suncellar/internal/cropwater"
	"suncellar/internal/greenhouse"
	"suncellar/internal/sun"
	"suncellar/internal/winter"
)

// bedAir is the layer of air that beds give their vapour to.
const bedAir = "bed air"

// hours is what a bed stands in, by hour.
type hours struct {
	airC     []float64 // at bed level, mean of the hour
	vapour   []float64 // of that air [kPa]
	sunWM2   []float64 // on the bed
	longWM2  []float64 // net longwave of its leaves from above, a gain positive
	soilC    []float64 // 5 cm down, at the end of the hour
	booked   []greenhouse.BedKg
	pressure float64 // [kPa]
}

// leafEmittance is that of leaves in longwave, as the house's own have it.
const leafEmittance = 0.96

// stefan is the constant of that name [W/m²K⁴].
const stefan = 5.670374e-8

// airOf gathers the hours of a bed from the winter. The temperatures that are kept stand at the end of each hour; of the air the mean of both ends is
// taken.
func airOf(w *winter.Answer, bed string) hours {
	r := w.Result
	n := r.Hours()
	h := hours{airC: make([]float64, n), vapour: make([]float64, n), sunWM2: make([]float64, n), longWM2: make([]float64, n)}
	pa := air.StandardPressure(w.Plan.Site.Elevation)
	h.pressure = pa / 1000
	trace := r.Trace(bedAir)
	moist := moistOf(r)
	if trace == nil || moist == nil {
		panic("thirst: a house with beds has no air at bed level")
	}
	for i := range n {
		before := trace.C[max(0, i-1)]
		h.airC[i] = (before + trace.C[i]) / 2
		end := moist[i] * air.SaturationHumidityRatio(trace.C[i], pa)
		begin := moist[max(0, i-1)] * air.SaturationHumidityRatio(before, pa)
		h.vapour[i] = air.VapourPressure((begin+end)/2, pa) / 1000
	}
	h.ofStrips(r, bed)
	h.soilC = r.Trace(bed + ", soil 5 cm").C
	for i := range r.Air.Given {
		if r.Air.Given[i].Bed == bed {
			h.booked = r.Air.Given[i].Kg
		}
	}
	return h
}

func moistOf(r *greenhouse.Result) []float64 {
	for i := range r.Air.Moist {
		if r.Air.Moist[i].Layer == bedAir {
			return r.Air.Moist[i].Share
		}
	}
	return nil
}

// ofStrips takes light and longwave of a bed's strips, by their breadth.
func (h *hours) ofStrips(r *greenhouse.Result, bed string) {
	breadth := 0.0
	for k := range r.Strips {
		s := &r.Strips[k]
		if s.Bed != bed {
			continue
		}
		wide := s.X1 - s.X0
		breadth += wide
		leaf := r.Trace(leafTips(s))
		for i := range h.airC {
			h.sunWM2[i] += wide * float64(s.Mol[i]) / (sun.MolPerJoule * 3600)
			h.longWM2[i] += wide * leafEmittance * (float64(s.AboveWM2[i]) - stefan*math.Pow(leaf.C[i]+273.15, 4))
		}
	}
	for i := range h.airC {
		h.sunWM2[i] /= breadth
		h.longWM2[i] /= breadth
	}
}

// leafTips is the name of a strip's place.
func leafTips(s *greenhouse.StripLight) string {
	if s.Side == "" {
		return s.Bed + ", leaf tips"
	}
	return s.Bed + ", leaf tips, " + s.Side
}

// mjOfWM2 makes a mean of an hour [W/m²] the paper's MJ/m² of the hour.
const mjOfWM2 = 3600 / 1e6

// referenceMM is the reference in hour i [mm]. Dew is left out: it wets leaves, and no root drinks it.
func (h *hours) referenceMM(i int) float64 {
	net := cropwater.NetSolarMJ(h.sunWM2[i]*mjOfWM2) + h.longWM2[i]*mjOfWM2
	day := h.sunWM2[i] > 0
	of := cropwater.Hour{NetMJ: net, SoilMJ: cropwater.SoilHeatHourMJ(net, day), AirC: h.airC[i], VapourKPa: h.vapour[i], Psychrometric: cropwater.PsychrometricKPaK(h.pressure)}
	return math.Max(0, of.StillMM(day))
}
