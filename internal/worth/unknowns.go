package worth

import (
	"math"
	"strconv"
	"strings"

	"suncellar/internal/greenhouse"
	"suncellar/internal/plan"
)

// prior is how far one thing may lie from the plan: one standard deviation, as a factor (log-normal) or as a distance (normal).
type prior struct {
	factor, by float64
	words      string // one standard deviation in words
	source     string
}

// The priors. Each is one standard deviation of a house built by careful amateurs that nobody has measured.
var (
	// Natural air exchange runs from 0.5 to 1.5 an hour in new houses and from 1 to 4 in old ones.
	priorLeakage = prior{factor: 2, words: "double or half", source: "judgement after natural air exchange of ASABE EP406 and NRAES-33, from memory"}
	// 0.93 to 0.98 is left when washed each year, 0.80 to 0.90 when never.
	priorDirt = prior{factor: 2, words: "double or half", source: "trade: 2 to 7 % lost washed yearly, 10 to 20 % unwashed, from memory"}
	// Conductivity at a known moisture: the method's own scatter, and a texture that is only named.
	priorSoil     = prior{factor: 1.35, words: "times or over 1.35", source: "judgement; with the moisture about the factor 1.5 that is common for soil in fitted models"}
	priorMoisture = prior{by: 0.15, words: "15 % of the pores", source: "judgement: a wet autumn or a dry one, drainage or none"}
	priorDrums    = prior{factor: 1.3, words: "times or over 1.3", source: "judgement: scatter of published films in rooms"}
	priorInside   = prior{factor: 1.3, words: "times or over 1.3", source: "judgement: scatter of published films in rooms"}
	// Sealed 1, leaky edges 0.5.
	priorFit = prior{by: 0.15, words: "15 %", source: "trade: leaky edges halve the benefit, from memory"}
)

// unknown adds what is not known of a house.
func (t *things) unknown() {
	switch l := t.p.Leakage; {
	case l.AirChanges != nil:
		t.guess("leakage.air_changes", "leakage", *l.AirChanges, priorLeakage)
	case l.Area != nil:
		t.guess("leakage.area", "leakage", *l.Area, priorLeakage)
	default:
		t.guess("leakage.per_area", "leakage", l.PerArea, priorLeakage)
	}
	if t.onSoil() {
		t.guess("site.soil.moisture", "moisture of the soil", t.p.Site.Soil.Moisture, priorMoisture, t.layersOf("moisture")...)
		if m, err := greenhouse.SoilMedium(t.p.Site.Soil); err == nil {
			t.guess("site.soil.conductivity", "conductivity of the soil", m.K, priorSoil, t.layersOf("conductivity")...)
		}
	}
	if t.h.GlazedArea() > 0 {
		t.guess("frame.dirt", "dirt on the glazing", t.p.Frame.Dirt, priorDirt)
	}
	if t.h.Water() > 0 && t.p.Surfaces.Inside == nil {
		t.guess("surfaces.drum_factor", "coupling of the drums to the air", oneIfNil(t.p.Surfaces.DrumFactor), priorDrums)
	}
	if t.p.Surfaces.Inside == nil {
		t.guess("surfaces.inside_factor", "film of air on walls and glazing", oneIfNil(t.p.Surfaces.InsideFactor), priorInside)
	}
	if c := t.p.Cover; c != nil && t.h.GlazedArea() > 0 {
		t.guess("cover.fit", "fit of the cover", c.Fit, priorFit)
	}
}

func oneIfNil(v *float64) float64 {
	if v == nil {
		return 1
	}
	return *v
}

// along is a value that is wrong the same way as another, such as that of each layer of soil; it stays between low and high, which are 0 where the plan's
// own limits hold, so that a dry layer above a wet one leaves neither side without an answer.
type along struct {
	path      string
	at        float64
	low, high float64
}

// layersOf is a value of every layer of soil: a wet autumn wets them all.
func (t *things) layersOf(key string) []along {
	var list []along
	for i, l := range t.p.Site.SoilLayers {
		v := along{path: path("site", "soil_layers", i, key), at: l.Moisture, low: 0.05, high: 1}
		if key == "conductivity" {
			m, err := greenhouse.SoilMedium(l.Soil())
			if err != nil {
				continue
			}
			v.at, v.low, v.high = m.K, 0.1, 5
		}
		list = append(list, v)
	}
	return list
}

// guess adds a value that is not known, and those that go along with it. Its own measure is the number of standard deviations, 0 as planned.
func (t *things) guess(id, label string, at float64, p prior, with ...along) {
	if at <= 0 && p.factor > 0 {
		return
	}
	t.add(Parameter{ID: id + ", not known", Label: label, Kind: Unknown, One: Amount{1, p.words, 1, p.words}, Step: 1, Prior: p.source,
		set: func(z float64) []plan.Change {
			var list []plan.Change
			for _, v := range append([]along{{path: id, at: at}}, with...) {
				list = append(list, t.guessed(v, p, z))
			}
			return list
		}})
}

// guessed is one value, so many standard deviations off.
func (t *things) guessed(v along, p prior, z float64) plan.Change {
	x := v.at + p.by*z
	if p.factor > 0 {
		x = v.at * math.Pow(p.factor, z)
	}
	if v.high > 0 {
		x = math.Min(v.high, math.Max(v.low, x))
	}
	if _, written := t.p.Origins.At(v.path); written {
		return t.number(v.path, x)
	}
	return plan.Change{Path: v.path, Value: bare(v.path, x), Origin: plan.Changed}
}

// bare writes a number that the plan does not hold yet.
func bare(path string, x float64) string {
	text := strconv.FormatFloat(x, 'g', -1, 64)
	if strings.HasSuffix(path, ".conductivity") {
		text += " W/mK"
	}
	return text
}
