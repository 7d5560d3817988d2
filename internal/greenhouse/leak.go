package greenhouse

import (
	"suncellar/internal/airflow"
	"suncellar/internal/house"
)

// Leak is the outdoor air that the joints of a house let in [m³/s] between an inside and an outside temperature [°C] at a wind of
// the site's station [m/s], as a run computes it.
func Leak(h *house.House, insideC, outsideC, windMS float64) (float64, error) {
	joints, err := airflow.NewLeakage(leakageArea(h.Plan, h.Envelope()), 1, shelter[h.Plan.Site.Exposure])
	if err != nil {
		return 0, err
	}
	return leak(h, joints, insideC, outsideC, windMS), nil
}

// leak is the flow through joints [m³/s]: the plan's fixed air changes, else what stack and wind drive.
func leak(h *house.House, joints airflow.Leakage, insideC, outsideC, windMS float64) float64 {
	if n := h.Plan.Leakage.AirChanges; n != nil {
		return airflow.AirChanges{Still: *n}.Flow(h.Gross, insideC, outsideC, windMS)
	}
	return joints.Flow(insideC, outsideC, windMS)
}
