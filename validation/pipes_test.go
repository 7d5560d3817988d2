package validation

import (
	"math"
	"testing"

	"suncellar/internal/ground"
	"suncellar/internal/pipes"
	"suncellar/internal/thermal"
)

func TestPipes(t *testing.T) {
	s := begin(t, "Pipes and buried tubes", "Colebrook 1939, Haaland 1983; White, Fluid Mechanics, ch. 6 (print from memory, figures recomputed); Gnielinski 1976 with NTU, recomputed",
		"Buried tubes: smooth, air of 1.25 kg/m3, 1.76e-5 Pa s, 0.0247 W/mK, 1006 J/kgK, the wall at one temperature. Their published friction has Petukhov's factor of a smooth pipe, "+
			"ours Colebrook's; the two agree within 2 %.")
	haaland := 0.0
	for _, c := range []struct{ re, rough, want float64 }{{1e5, 0, 0.01799}, {1e5, 1e-3, 0.02217}, {1e6, 1e-4, 0.01344}, {5e3, 1e-2, 0.04726},
		{4e4, 2e-4, 0.02259}, {1e8, 0.05, 0.07155}} {
		s.near(recomputed, "Colebrook, Re "+short(c.re)+", roughness "+short(c.rough), pipes.Colebrook(c.re, c.rough), c.want, 1e-3*c.want, "")
		haaland = math.Max(haaland, 100*math.Abs(pipes.Haaland(c.re, c.rough)/c.want-1))
	}
	s.worst(recomputed, "Haaland beside Colebrook, the same six", 6, haaland, 1.3, " %")
	white(s)
	for _, c := range []struct {
		name                                        string
		tube                                        pipes.Tube
		speed, in, wall                             float64
		re, film, ntu, outlet, pascal, watt, filmBy float64
	}{
		{"20 m of 100 mm, 2 m/s, air 0, wall 10 °C", pipes.Tube{Length: 20, Diameter: 0.1}, 2, 0, 10, 14205, 9.87, 3.139, 9.567, 14.3, 189, 0.05},
		{"30 m of 150 mm, 3 m/s, air -10, wall 8 °C", pipes.Tube{Length: 30, Diameter: 0.15}, 3, -10, 8, 31960, 12.34, 2.618, 6.687, 26.2, 1112, 0.06},
	} {
		air := pipes.Fluid{Density: 1.25, Viscosity: 1.76e-5, Conductivity: 0.0247, Heat: 1006}
		ntu := c.tube.NTU(air, c.speed)
		out := pipes.Outlet(c.in, c.wall, ntu)
		watt := air.Density * c.tube.Section() * c.speed * air.Heat * (out - c.in)
		s.near(recomputed, c.name+": Reynolds", c.tube.Reynolds(air, c.speed), c.re, 5, "")
		s.near(recomputed, c.name+": film", c.tube.Film(air, c.speed), c.film, c.filmBy, " W/m2K")
		s.near(recomputed, c.name+": transfer units", ntu, c.ntu, 0.005*c.ntu, "")
		s.near(recomputed, c.name+": outlet", out, c.outlet, 0.02, " °C")
		s.near(recomputed, c.name+": friction", c.tube.Loss(air, c.speed), c.pascal, 0.02*c.pascal, " Pa")
		s.near(recomputed, c.name+": heat", watt, c.watt, 0.005*c.watt, " W")
	}
	rowOfTubes(t, s)
	s.done(t)
}

// rowOfTubes is steady heat from a row of tubes under a level face: rings round one of them, joined to a coarse slice as the house's are, beside
// the shape factor. Allowed is what the sheet's own resistance takes in cells as high as those that the program puts tubes in.
func rowOfTubes(t *testing.T, s *section) {
	const k, depth, outer = 1.2, 1.2, 0.055
	for _, spacing := range []float64{0.25, 0.5, 1} {
		mesh, err := ground.Slice{X1: spacing, Z0: -9, Fill: ground.Medium{K: k, C: 2e6}, Width: 1, Finest: 0.06, Growth: 0.5, Coarsest: 2,
			FineX: []float64{0}, FineZ: []float64{0}, LinesZ: []float64{-depth - 0.2, -depth + 0.2}, Rims: []ground.Rim{{A: ground.Point{}, B: ground.Point{X: spacing}}}}.Mesh()
		if err != nil {
			t.Fatal(err)
		}
		if err := mesh.AddSheets(ground.Sheet{X1: spacing, Z: -depth, Length: 1, Port: 1, Area: math.Pi / 4 * spacing * spacing}); err != nil {
			t.Fatal(err)
		}
		var net thermal.Network
		face, wall, far := net.Given("face", 0), net.Given("wall", 10), net.Add("plane", thermal.Law{}, 0)
		mesh.AddTo(&net, "earth", func(x, z float64) float64 { return 0 }, []thermal.Node{face, far}, []string{"face", "plane"})
		near := max(outer, pipes.Plane(spacing))
		g := 1e3 // where the tubes all but touch, the plane is at their wall
		if near > outer {
			g = 1 / pipes.Shell(outer, near, k)
		}
		through := net.Join("wall", wall, far, g)
		if err := net.Steady(); err != nil {
			t.Fatal(err)
		}
		shape := 2 * math.Pi / math.Log(spacing/(math.Pi*outer)*math.Sinh(2*math.Pi*depth/spacing))
		watt := net.JoinValue(through) * (net.T(wall) - net.T(far))
		s.near(recomputed, "tubes 110 mm wide, "+short(spacing)+" m apart, 1.2 m under a face 10 K colder: heat a metre", watt, shape*k*10, 0.05*shape*k*10, " W/m").source =
			"shape factor of a row of cylinders, Incropera and DeWitt, table of shape factors, from memory; recomputed from line sources"
	}
}

// white is two examples of the textbook; its print rounds the friction factor.
func white(s *section) {
	oil := pipes.Fluid{Density: 900, Viscosity: 900 * 1e-5}
	pipe := pipes.Tube{Diameter: 0.2, Length: 500, Roughness: 0.26e-3}
	speed := 0.2 / pipe.Section()
	head := pipe.Loss(oil, speed) / (900 * 9.81)
	fall := 500 * math.Sin(10*math.Pi/180)
	const name = "oil, 0.2 m3/s in 500 m of 200 mm cast iron falling 10°: "
	s.near(recomputed, name+"speed", speed, 6.37, 0.01, " m/s")
	s.near(recomputed, name+"Reynolds", pipe.Reynolds(oil, speed), 127000, 500, "")
	s.near(recomputed, name+"friction factor", pipes.Friction(pipe.Reynolds(oil, speed), pipe.Roughness/pipe.Diameter), 0.0227, 0.0001, "")
	s.near(recomputed, name+"head", head, 117.4, 0.5, " m")
	s.near(recomputed, name+"pressure", 900*9.81*(head-fall)/1000, 269.5, 2.7, " kPa")
	s.near(remembered, name+"head as printed", head, 117, 1, " m")
	s.near(remembered, name+"pressure as printed", 900*9.81*(head-fall)/1000, 265, 5, " kPa")
	const foot = 0.3048
	water := pipes.Tube{Diameter: 0.5 * foot, Length: 200 * foot, Roughness: 0.0008 * 0.5 * foot}
	wet := pipes.Fluid{Density: 1000, Viscosity: 1000 * 6 * foot * 0.5 * foot / 2.7e5}
	s.near(recomputed, "water, 6 ft/s in 200 ft of 6 in asphalted iron: friction factor", pipes.Friction(2.7e5, 0.0008), 0.0198, 0.0001, "")
	s.near(recomputed, "water, 6 ft/s in 200 ft of 6 in asphalted iron: head", water.Loss(wet, 6*foot)/(1000*9.81)/foot, 4.44, 0.02, " ft")
}
