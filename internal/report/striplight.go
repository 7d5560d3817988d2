package report

import (
	"math"
	"time"

	"suncellar/internal/greenhouse"
	"suncellar/internal/winter"
)

// stripMonth is the light on a strip in one calendar month [mol/m² a day].
type stripMonth struct {
	begin time.Time
	days  int
	along [greenhouse.Stretches]float64 // from the left end
}

func (m *stripMonth) mean() float64 {
	sum := 0.0
	for _, v := range m.along {
		sum += v
	}
	return sum / greenhouse.Stretches
}

// monthsOfStrip gathers a strip's days to calendar months; a day that is not whole is left out.
func monthsOfStrip(a *winter.Answer, s *greenhouse.StripLight) []stripMonth {
	var list []stripMonth
	for d := range len(s.Mol) / 24 {
		at := local(a, a.Result.Time(24*d+11))
		if len(list) == 0 || list[len(list)-1].begin.Month() != at.Month() {
			list = append(list, stripMonth{begin: at})
		}
		m := &list[len(list)-1]
		m.days++
		for k, mol := range s.Days[d] {
			m.along[k] += float64(mol)
		}
	}
	for i := range list {
		for k := range list[i].along {
			list[i].along[k] /= float64(list[i].days)
		}
	}
	return list
}

// leastDays is how many days a month must have to be told as the darkest.
const leastDays = 10

// darkest is the month with the least light on all strips together, by its place; the first where none is long enough.
func darkest(strips [][]stripMonth) int {
	best, least := 0, math.Inf(1)
	for i := range strips[0] {
		sum := 0.0
		for _, s := range strips {
			sum += s[i].mean()
		}
		if strips[0][i].days >= leastDays && sum < least {
			best, least = i, sum
		}
	}
	return best
}

// monthsOfStrips are the months of every strip, and which is the darkest; nil where there is no bed, no whole day, or where light falls is given.
func monthsOfStrips(a *winter.Answer) (months [][]stripMonth, dark int) {
	r := a.Result
	if len(r.Strips) == 0 || len(r.Strips[0].Mol) < 24 || len(a.Plan.SunShares) > 0 {
		return nil, 0
	}
	for i := range r.Strips {
		months = append(months, monthsOfStrip(a, &r.Strips[i]))
	}
	return months, darkest(months)
}

// stripLight is the table of light by strip, and along the house in the darkest month.
func (t Teller) stripLight(p *page, a *winter.Answer) {
	r := a.Result
	months, dark := monthsOfStrips(a)
	if months == nil {
		return
	}
	name := months[0][dark].begin.Format("January")
	p.head("Light at the beds, mol/m² a day")
	tab := newTable([]string{"", "all days", name, "left", "middle", "right"}, []string{"", "", "", "quarter", "half", "quarter"})
	for i := range r.Strips {
		s := &r.Strips[i]
		all := 0.0
		for _, v := range s.DayMol(0, len(s.Mol)/24) {
			all += v / greenhouse.Stretches
		}
		m := &months[i][dark]
		tab.row(s.Name(), number(all, 1), number(m.mean(), 1), number(m.along[0], 1), number((m.along[1]+m.along[2])/2, 1), number(m.along[3], 1))
	}
	p.table(tab)
	p.say("Photosynthetic light on level ground at the height of the soil, no leaves above it; left and right as seen from inside, looking out, in " + name + ".")
}

type stripJSON struct {
	Bed       string           `json:"bed"`
	Strip     string           `json:"strip,omitempty"`
	FromM     float64          `json:"from_m"`
	UntilM    float64          `json:"until_m"`
	MeanMolMD float64          `json:"mean_mol_m2d"`
	Months    []stripMonthJSON `json:"months"`
}

type stripMonthJSON struct {
	Month   string                        `json:"month"`
	Days    int                           `json:"days"`
	MolM2D  float64                       `json:"mol_m2d"`
	ByAlong [greenhouse.Stretches]float64 `json:"quarters_from_left_mol_m2d"`
}

func stripsAsJSON(a *winter.Answer) []stripJSON {
	out := []stripJSON{}
	if len(a.Plan.SunShares) > 0 { // where light falls is given there, not found
		return out
	}
	for i := range a.Result.Strips {
		s := &a.Result.Strips[i]
		j := stripJSON{Bed: s.Bed, Strip: s.Side, FromM: s.X0, UntilM: s.X1, Months: []stripMonthJSON{}}
		days := 0
		for _, m := range monthsOfStrip(a, s) {
			j.Months = append(j.Months, stripMonthJSON{m.begin.Format("2006-01"), m.days, m.mean(), m.along})
			j.MeanMolMD += m.mean() * float64(m.days)
			days += m.days
		}
		if days > 0 {
			j.MeanMolMD /= float64(days)
		}
		out = append(out, j)
	}
	return out
}
