package report

import (
	"fmt"
	"math"
	"strings"

	"suncellar/internal/carry"
	"suncellar/internal/drawing"
	"suncellar/internal/unit"
)

// carryCurve tells the carry-through over the cold outside: a table of days, a picture in letters, and what ice holds, apart.
func (t Teller) carryCurve(p *page, a *carry.Answer) {
	c := a.Curve
	if c == nil {
		return
	}
	p.head("How long at other colds: days without sun that count")
	heads := [2][]string{{"outside, mean"}, {t.degree()}}
	for i, k := range c.Cases {
		heads[0], heads[1] = append(heads[0], string(rune('A'+i))), append(heads[1], "")
		if i == 0 {
			for _, b := range curveBands(a) {
				heads[0], heads[1] = append(heads[0], "A, 8 in 10"), append(heads[1], carryBy(b))
			}
		}
		if k.WaterM3 == 0 {
			p.item(fmt.Sprintf("%c: %s, without water", 'A'+i, k.Name))
			continue
		}
		p.item(fmt.Sprintf("%c: %s, %s of water, reserve %s kWh at sunset", 'A'+i, k.Name, t.water(k.WaterM3), number(k.ReserveJ/3.6e6, 1)))
	}
	p.gap()
	tab := newTable(heads[0], heads[1])
	for i, out := range c.OutsideC {
		cells := []string{t.figure(out)}
		for j, k := range c.Cases {
			cells = append(cells, pointWords(k.Points[i]))
			if j == 0 {
				for _, b := range curveBands(a) {
					cells = append(cells, timesWords(b.Curve[i]))
				}
			}
		}
		tab.row(cells...)
	}
	p.table(tab)
	p.gap()
	t.carryBars(p, c)
	p.gap()
	p.say(t.curveNotes(a))
}

// days is a time in days, cut off after the first decimal and never rounded up [h].
func days(hours float64) string { return number(math.Floor(hours/2.4+1e-9)/10, 1) }

// pointWords is a point in a cell.
func pointWords(p carry.Point) string {
	s := days(p.Hours)
	if p.Beyond && p.OnIce == 0 {
		s = fmt.Sprintf("> %d", carry.MaxDays)
	}
	switch {
	case p.OnIce > 0 && p.Beyond:
		return s + ", then ice"
	case p.OnIce > 0:
		return s + " + " + days(p.OnIce) + " ice"
	}
	return s
}

// The bars: how many columns are left of them, and the days that a mark may stand for [d].
const barLead = 13

// barSteps are the days that a mark of a bar may stand for.
func barSteps() []float64 { return []float64{0.05, 0.1, 0.2, 0.3, 0.4, 0.5, 0.75, 1} }

// carryBars draws the curve in letters: what counts, what is on ice, and an arrow where it goes on beyond the longest run or the edge.
func (t Teller) carryBars(p *page, c *carry.Curve) {
	longest, room := 0.0, float64(Width-barLead-1)
	for _, k := range c.Cases {
		for _, x := range k.Points {
			if !x.Beyond || x.OnIce > 0 { // by what counts; some room above it for ice
				longest = math.Max(longest, math.Min(1.5*x.Hours, x.Hours+x.OnIce)/24)
			}
		}
	}
	step := barSteps()[len(barSteps())-1]
	for i := len(barSteps()) - 1; i >= 0 && longest/barSteps()[i] <= room; i-- {
		step = barSteps()[i]
	}
	for i, out := range c.OutsideC {
		for j, k := range c.Cases {
			lead := strings.Repeat(" ", barLead)
			if j == 0 {
				lead = fmt.Sprintf("%*s", barLead-5, t.figure(out)) + strings.Repeat(" ", 5)
			}
			p.line(lead[:barLead-3] + string(rune('A'+j)) + " |" + bar(k.Points[i], step, int(room)))
		}
	}
	p.say(fmt.Sprintf("Each sign is %g days: = counts, ~ has ice in the drums and does not count, > goes on.", step))
}

// bar is the bar of a point.
func bar(p carry.Point, step float64, room int) string {
	n, ice := int(p.Hours/24/step+1e-9), int(math.Ceil(p.OnIce/24/step-1e-9))
	on := ""
	if p.Beyond || n+ice > room {
		on = ">"
	}
	n = min(n, room)
	ice = min(ice, room-n)
	return strings.Repeat("=", n) + strings.Repeat("~", ice) + on
}

// curveNotes tell what the curve rests on, and what ice holds.
func (t Teller) curveNotes(a *carry.Answer) string {
	c := a.Curve
	s := "All from the same sunset and state; only the cold outside differs. "
	holds := 0.0
	for _, k := range c.Cases {
		holds = math.Max(holds, k.FreezeJ)
	}
	if holds > 0 {
		s += fmt.Sprintf("Freezing all its water would give the full store %s kWh more, slowly, after the crop is hurt and while drums split: no day of it is counted. ", number(c.Cases[0].FreezeJ/3.6e6, 0))
	}
	for _, k := range c.Cases {
		for _, x := range k.Points {
			if x.ByLaw {
				return s + fmt.Sprintf("Colds milder than one that is beyond %d days were not run: a milder cold does not shorten the time.", carry.MaxDays)
			}
		}
	}
	return s
}

// curveKinds are how the lines of the curve are drawn, in the order of the cases.
var curveKinds = []drawing.Kind{drawing.Store, drawing.Soil, drawing.Sink, drawing.Air, drawing.Leaf}

// carryCurvePicture draws the curve.
func (t Teller) carryCurvePicture(a *carry.Answer) (Picture, error) {
	c := a.Curve
	in := drawing.CarryCurve{Title: "How long without sun, over the cold outside", OutsideC: c.OutsideC, MostDays: carry.MaxDays,
		Conditions: fmt.Sprintf("Until %s falls below %s; day-night swing of %s, %s %% of the sky under cloud, wind %s.", a.Place, minus(t.temp(a.LimitC)), t.span(a.Spec.SwingK),
			number(100*a.Spec.Cloud, 0), unit.Format(unit.Speed, a.Spec.WindMS, t.System, 1))}
	for i, k := range c.Cases {
		l := drawing.CurveLine{Name: k.Name, Kind: curveKinds[i%len(curveKinds)]}
		for _, x := range k.Points {
			l.Days, l.OnIce, l.Beyond = append(l.Days, x.Hours/24), append(l.OnIce, x.OnIce/24), append(l.Beyond, x.Beyond)
		}
		if bands := curveBands(a); i == 0 && len(bands) > 0 {
			best := bands[len(bands)-1] // drawn houses before the first order
			in.BandName = "Pale: what 8 in 10 houses built like this one lie between, " + carryByWords(best) + "."
			for _, x := range best.Curve {
				l.LoDays, l.HiDays = append(l.LoDays, x.Lo/24), append(l.HiDays, max(x.Lo, x.Hi)/24)
			}
		}
		in.Lines = append(in.Lines, l)
	}
	l, err := drawing.DrawCarryCurve(in, t.Frame())
	if err != nil {
		return Picture{}, fmt.Errorf("picture carry-curve.svg: %w", err)
	}
	return Picture{"carry-curve.svg", l}, nil
}

// The curve in JSON.
type curveJSON struct {
	OutsideC []float64       `json:"outside_c"`
	Cases    []curveCaseJSON `json:"cases"`
}

type curveCaseJSON struct {
	Name         string      `json:"name"`
	LostShare    float64     `json:"lost_share"`
	BayLost      string      `json:"bay_lost,omitempty"`
	CoverLeftOff bool        `json:"cover_left_off"`
	WaterM3      float64     `json:"water_m3"`
	ReserveJ     float64     `json:"reserve_j"`
	FreezeJ      float64     `json:"freezing_all_would_give_j"`
	Points       []pointJSON `json:"points"`
}

type pointJSON struct {
	OutsideC   float64  `json:"outside_c"`
	Hours      *float64 `json:"hours"` // that count; null: not within max_days, and no ice till then
	OnIceHours float64  `json:"on_ice_hours"`
	Beyond     bool     `json:"beyond"`
	ByLaw      bool     `json:"by_law"`
	Place      string   `json:"place"`
	ReserveJ   float64  `json:"reserve_left_j"`
	IceShare   float64  `json:"ice_share"`
	StillIceJ  float64  `json:"freezing_the_rest_would_give_j"`
}

func curveAsJSON(c *carry.Curve) *curveJSON {
	if c == nil {
		return nil
	}
	out := &curveJSON{OutsideC: c.OutsideC}
	for _, k := range c.Cases {
		one := curveCaseJSON{k.Name, k.Lose, k.BayLost, k.NoCover, k.WaterM3, k.ReserveJ, k.FreezeJ, nil}
		for i, x := range k.Points {
			p := pointJSON{c.OutsideC[i], &k.Points[i].Hours, x.OnIce, x.Beyond, x.ByLaw, x.Place, x.ReserveJ, x.IceShare, x.StillIceJ}
			if x.Beyond && x.OnIce == 0 {
				p.Hours = nil
			}
			one.Points = append(one.Points, p)
		}
		out.Cases = append(out.Cases, one)
	}
	return out
}
