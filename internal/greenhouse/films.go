package greenhouse

import (
	"math"

	"suncellar/internal/air"
	"suncellar/internal/airflow"
	"suncellar/internal/material"
)

// stillAirs is air at sea level, as the formulas of still films take it.
var stillAirs = airflow.NewFluids(-70, 100, 1, func(celsius float64) airflow.Fluid {
	t := air.TransportAt(celsius, 101325)
	return airflow.Fluid{ConductivityWMK: t.ConductivityWMK, KinematicM2S: t.KinematicM2S, Prandtl: t.Prandtl}
})

// waters is the water in drums.
var waters = airflow.NewFluids(0, 80, 2, func(celsius float64) airflow.Fluid {
	p := material.Water(celsius)
	return airflow.Fluid{ConductivityWMK: p.ConductivityWMK, KinematicM2S: p.KinematicM2S, Prandtl: p.Prandtl}
})

// stillAir is air of celsius [°C] at sea level.
func stillAir(celsius float64) airflow.Fluid { return stillAirs.At(celsius) }

// drumFilm is the film of air on the side of a drum [W/m²K].
func drumFilm(surfaceC, airC, height float64) float64 {
	return stillAirs.Upright((surfaceC+airC)/2, airflow.Buoyancy(surfaceC, airC), height)
}

// waterFilm is the film of water on the inside of a drum's wall [W/m²K]. It nearly dies near 4 °C, where water hardly differs
// in weight.
func waterFilm(waterC, wallC, height float64) float64 {
	w, s := clamp(waterC, 0, 80), clamp(wallC, 0, 80)
	rho := material.WaterDensity(w)
	return waters.Upright((w+s)/2, (rho-material.WaterDensity(s))/rho, height)
}

// overturn is the air that two layers exchange where the lower is the warmer [m³/s].
func overturn(lower, upper *layer, lowerC, upperC, length float64) float64 {
	thick := clamp(math.Min(lower.z1-lower.z0, upper.z1-upper.z0)/2, 0.05, 0.3)
	v := airflow.Level{AreaM2: lower.area, SideM: math.Min(lower.area/length, length), ThicknessM: thick}
	return v.Overturn(lowerC, upperC, stillAir((lowerC+upperC)/2))
}

// stillExchange is the air that layers exchange even when the colder lies below: draughts of leakage and of the films on walls
// that pass both layers. Own judgement: 1 mm/s over the area between them.
func stillExchange(lower *layer) float64 { return 0.001 * lower.area }
