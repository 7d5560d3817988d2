package report

import (
	"fmt"

	"suncellar/internal/winter"
)

// Winter tells a winter to people.
func (t Teller) Winter(a *winter.Answer) string {
	p := &page{}
	for _, pl := range a.Places {
		p.line(fmt.Sprintf("%-40s %s", pl.Name, t.temp(pl.LowestC)))
	}
	for _, f := range a.Result.Flows {
		in, out := 0.0, 0.0
		for _, j := range f.J {
			if j > 0 {
				in += j
			} else {
				out -= j
			}
		}
		p.line(fmt.Sprintf("%-50s %v %s %s", f.Name, f.Crosses, kWh(in), kWh(out)))
	}
	for k, v := range a.Result.Heat.StoredJ {
		p.line(fmt.Sprintf("stored %s %s", k, kWh(v)))
	}
	p.line(fmt.Sprint(a.Result.Heat.ImbalanceRel, a.Result.Work))
	return p.String()
}
