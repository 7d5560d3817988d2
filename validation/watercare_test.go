package validation

import (
	"math"
	"testing"

	"suncellar/internal/pipes"
	"suncellar/internal/water"
)

func TestDirtAndFrostInWater(t *testing.T) {
	s := begin(t, "Dirt and frost in the water", "Davis, Water and Wastewater Engineering, example 10-1 (figure seen in a copy); Ferguson and Church 2004 (constants seen in copies); ASHRAE Fundamentals, ch. 23, time to freeze (figures seen as quoted by others); Plank 1913, from memory",
		"Davis: grit of 0.2 mm, 2650 kg/m3, in water of 1000 kg/m3 and 0.955 mPa s, by Stokes' law, which the example then finds to be beyond its range. The handbook's pipe is one of 2 in (bore 2.067 in, 2.375 in outside) under 1.5 in of "+
			"insulation of 0.30 Btu in/h ft2 F, from 42 F to freezing; neither steel nor film resists there, so that ours has one wall from bore to outside with the insulation's resistance. Quoted to 0.1 h. Of Ferguson and Church the constants are won back from both ends of the curve: that shows that the equation is written as published, and no more.")
	f := pipes.Fluid{Density: 1000, Viscosity: 9.55e-4}
	s.near(seen, "Davis 10-1: grit by Stokes", 100*f.Stokes(0.2e-3, 2650), 3.77, 0.01, " cm/s")
	const r, g = 1.65, 9.80665
	for _, c := range []struct {
		name  string
		drag  float64
		wants float64
	}{{"natural grains", pipes.DragGrain, 1.0}, {"smooth spheres", pipes.DragSphere, 0.4}} {
		fine, coarse := f.Sinks(1e-6, 2650, c.drag), f.Sinks(1, 2650, c.drag)
		s.near(seen, "Ferguson and Church, C1 of "+c.name+", from 1 µm", r*g*1e-12/(f.Viscosity/f.Density*fine), 18, 0.05, "")
		s.near(seen, "Ferguson and Church, C2 of "+c.name+", from 1 m", 4*r*g/(3*coarse*coarse), c.wants, 0.01*c.wants, "")
	}
	const in = 0.0254
	still := water.Still{Diameter: 2.067 * in, Wall: (5.375 - 2.067) / 2 * in, FilmWM2K: 1e9}
	still.WallWMK = 0.30 * 0.144228 * math.Log(5.375/2.067) / math.Log(5.375/2.375)
	celsius := func(f float64) float64 { return (f - 32) / 1.8 }
	s.near(seen, "pipe of 2 in, insulated, to 0 °C in air of -18 F", still.CoolsS(celsius(42), 0, celsius(-18))/3600, 1.4, 0.05, " h")
	s.near(seen, "the same in air of 20 F", still.CoolsS(celsius(42), 0, celsius(20))/3600, 4.6, 0.05, " h")
	bare := water.Still{Diameter: 0.1, Wall: 1e-9, WallWMK: 1e6, FilmWM2K: 25}
	s.near(recomputed, "Plank: 100 mm of water in air of -10 °C, 25 W/m2K, to solid", bare.FreezesS(1, -10)/3600, 11.896, 0.001, " h")
	s.done(t)
}
