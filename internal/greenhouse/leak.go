package greenhouse

import (
	"suncellar/internal/airflow"
	"suncellar/internal/house"
)

// Leak is the outdoor air that the joints of a house let in [m³/s] between an inside and an outside temperature [°C] at a wind of
// the site's station [m/s], as a run computes it.
func Leak(h *house.House, insideC, outsideC, windMS float64) (float64, error) {
	p := h.Plan
	if p.Leakage.AirChanges != nil {
		return *p.Leakage.AirChanges * h.Gross / 3600, nil
	}
	joints, err := airflow.NewLeakage(leakageArea(p, h.Envelope()), 1, shelter[p.Site.Exposure])
	if err != nil {
		return 0, err
	}
	return joints.Flow(insideC, outsideC, windMS), nil
}
