package validation

import (
	"testing"

	"suncellar/internal/catchment"
	"suncellar/internal/pipes"
)

func TestWater(t *testing.T) {
	s := begin(t, "Water in pipes and off roofs", "White, Fluid Mechanics, ch. 6, examples 6.17 (from memory), 6.18 and 6.19 (figures seen in copies); Texas Manual on Rainwater Harvesting, 3rd ed. 2005, ch. 4; closed forms",
		"White's three pipes: 100 m of 8 cm, 150 m of 6 cm, 80 m of 4 cm, roughness over diameter 0.003, 0.002, 0.005, water of 1000 kg/m3 and 1.02e-6 m2/s, no minor losses. The book reads its friction factors off a chart, "+
			"ours are Colebrook's: 1 % is allowed. Of the manual's table the January row alone was recovered.")
	three := [3]pipes.Tube{{Diameter: 0.08, Length: 100, Roughness: 0.00024}, {Diameter: 0.06, Length: 150, Roughness: 0.00012}, {Diameter: 0.04, Length: 80, Roughness: 0.0002}}
	fluid := pipes.Fluid{Density: 1000, Viscosity: 1.02e-3}
	flows := func(joints []pipes.Junction, ends [3][2]int) []float64 {
		n := &pipes.Network{Fluid: fluid, Junctions: joints}
		for i, at := range ends {
			n.Links = append(n.Links, pipes.Link{Tube: three[i], From: at[0], To: at[1]})
		}
		settled, err := n.Settle()
		if err != nil {
			t.Fatal(err)
		}
		return append(settled.Flows, settled.Heads...)
	}
	const hour = 3600.0
	beside := flows([]pipes.Junction{{Kept: true, Head: 20.3}, {Kept: true}}, [3][2]int{{0, 1}, {0, 1}, {0, 1}})
	for i, want := range []float64{62.5, 25.9, 11.4} {
		s.near(seen, "example 6.18, in parallel under 20.3 m: pipe "+short(float64(i+1)), beside[i]*hour, want, 0.01*want, " m3/h")
	}
	row := flows([]pipes.Junction{{Kept: true, Head: 20.3}, {}, {}, {Kept: true}}, [3][2]int{{0, 1}, {1, 2}, {2, 3}})
	s.near(remembered, "example 6.17, in series under 20.3 m", row[0]*hour, 10.22, 0.1, " m3/h")
	joined := flows([]pipes.Junction{{}, {Kept: true, Head: 20}, {Kept: true, Head: 100}, {Kept: true, Head: 40}}, [3][2]int{{0, 1}, {2, 0}, {3, 0}})
	s.near(seen, "example 6.19, reservoirs at 20, 100 and 40 m: head at the joint", joined[3], 34.53, 0.2, " m")
	for i, want := range []float64{52.8, 47.0, 5.8} {
		s.near(seen, "example 6.19: pipe "+short(float64(i+1)), joined[i]*hour, want, 0.01*want+0.1, " m3/h")
	}
	cold := pipes.Fluid{Density: 1000, Viscosity: 1.307e-3}
	s.near(recomputed, "laminar drip line, 0.02 L/s in 10 m of 13.6 mm at 10 °C: head", pipes.Tube{Diameter: 13.6e-3, Length: 10}.HeadOf(cold, 0.02e-3), 0.0317, 0.0001, " m")
	s.near(recomputed, "dripper of 2 L/h at 10 m, exponent 0.5, at 1 m", pipes.Dripper{Rated: 2e-3 / hour, RatedHead: 10, Exponent: 0.5}.Flow(1)*1000*hour, 0.632, 0.001, " L/h")
	s.near(recomputed, "hole of 1 mm under 1 m", pipes.Orifice(1e-3, 1)*1000*hour, 7.765, 0.005, " L/h")
	const ft, in, gal = 0.3048, 25.4, 231 * 0.0254 * 0.0254 * 0.0254
	got := catchment.Yield(2500*ft*ft, 1.97*in, 0.85) / gal
	s.near(recomputed, "Dallas, January, 1.97 in on 2,500 ft2, share 0.85, with the manual's 0.62 gal for a square foot and inch", got*0.62/(144.0/231), 2595, 1, " gal")
	s.near(recomputed, "the same with the exact 0.6234", got, 2595, 0.006*2595, " gal")
	s.done(t)
}
