package report

import (
	"fmt"
	"io"
	"math"

	"suncellar/internal/carry"
	"suncellar/internal/drawing"
	"suncellar/internal/unit"
)

// Carry tells to people how long a house lasts without sun.
func (t Teller) Carry(a *carry.Answer) string {
	p := &page{}
	p.say(a.Plan.Name + ", no sun from " + when(a.Begin.In(zoneOf(a.Plan))))
	p.gap()
	for _, s := range t.CarrySentences(a) {
		p.say(s)
	}
	p.head("What \"no sun\" means here")
	for _, c := range a.Conditions {
		source := "as asked"
		if !c.Given {
			source = "not asked for: " + c.Source
		}
		p.item(fmt.Sprintf("%s: %s (%s)", c.Name, t.condition(c), source))
	}
	p.item("place and limit: " + a.PlaceWhy)
	t.carryDays(p, a)
	t.carryCurve(p, a)
	t.carryBandNotes(p, a)
	p.head("Before you rely on it")
	for _, c := range a.Cautions {
		p.item(c)
	}
	p.say("What the physics simplifies and what the plan leaves to assumptions is told by 'suncellar simulate' and in --json.")
	return p.String()
}

// CarrySentences tell the time, ice that ends it before, what all of the store would last, the reserve, and how sure it is.
func (t Teller) CarrySentences(a *carry.Answer) []string {
	list := []string{t.carrySentence(a)}
	for _, s := range []string{iceSentence(a), fullSentence(a)} {
		if s != "" {
			list = append(list, s)
		}
	}
	return append(list, t.reserveSentence(a), t.carrySure(a))
}

// carrySentence is the time in one sentence.
func (t Teller) carrySentence(a *carry.Answer) string {
	limit := t.temp(a.LimitC)
	if a.LimitC == 0 {
		limit = "freezing"
	}
	cold := fmt.Sprintf("at %s outside on the mean", t.temp(a.Spec.MeanC))
	switch {
	case a.Beyond:
		return fmt.Sprintf("%s does not fall below %s within %d days: %s (%s).", subject(a.Place), limit, carry.MaxDays, carry.BeyondWords, cold)
	case a.Hours == 0:
		return fmt.Sprintf("%s is below %s when the spell begins.", subject(a.Place), limit)
	}
	return fmt.Sprintf("%s falls below %s after %s without sun, %s, from this state.", subject(a.Place), limit, daysHours(a.Hours), cold)
}

// iceSentence tells of ice that comes before the limit is met: time on it does not count. "" where none does.
func iceSentence(a *carry.Answer) string {
	if a.IceAfterHours < 0 || !a.Beyond && a.IceAfterHours >= a.Hours {
		return ""
	}
	if a.IceAfterHours == 0 {
		return "There is ice in the drums from the begin on: none of this time is to be counted upon."
	}
	return fmt.Sprintf("Ice begins in the drums after %s: time from then on is not to be counted upon.", daysHours(a.IceAfterHours))
}

// daysHours writes a time as days and whole hours, cut off and never rounded up.
func daysHours(hours float64) string {
	h := int(math.Floor(hours))
	switch d := h / 24; {
	case h == 0:
		return "less than an hour"
	case d == 0:
		return count(h, "hour")
	case h%24 == 0:
		return count(d, "day")
	default:
		return count(d, "day") + " and " + count(h%24, "hour")
	}
}

func (t Teller) reserveSentence(a *carry.Answer) string {
	if !a.HasWater {
		return "There is no water in the store: its reserve is nothing."
	}
	s := fmt.Sprintf("Reserve at sunset: %s kWh above freezing in %s of water at %s.", number(a.ReserveJ/3.6e6, 1), t.water(a.WaterM3), t.temp(a.StoreC))
	if a.IceShare > 0.0005 {
		s += fmt.Sprintf(" %s %% of it is ice, which is no reserve.", number(100*a.IceShare, 1))
	}
	if a.LostM3 > 0 {
		s += fmt.Sprintf(" %s of water is gone, and %s kWh of reserve with it.", t.water(a.LostM3), number(a.LostJ/3.6e6, 1))
	}
	return s
}

// condition is a condition's value in the reader's units.
func (t Teller) condition(c carry.Condition) string {
	if c.Words != "" {
		return c.Words
	}
	switch c.Unit {
	case "°C":
		return t.temp(c.Value)
	case "K":
		return t.span(c.Value)
	case "m/s":
		return unit.Format(unit.Speed, c.Value, t.System, 1)
	case "m":
		return t.depth(c.Value)
	case "":
		return number(100*c.Value, 0) + " %"
	}
	return fmt.Sprintf("%g %s", c.Value, c.Unit)
}

// carryDays is the spell by days, at most ten rows, the day of the crossing among them.
func (t Teller) carryDays(p *page, a *carry.Answer) {
	p.head("Day by day, lowest of each day without sun, " + t.degree())
	n := len(a.Lines.PlaceC)
	heads := []string{"day", a.Place, "outside", a.Lines.AirName}
	if a.HasWater {
		heads = append(heads, "water, mean", "reserve kWh")
	}
	tab := newTable(heads)
	days := (n - 1 + 23) / 24
	every := max(1, int(math.Ceil(float64(days)/10)))
	for d := 0; d < days; d++ {
		crossing := !a.Beyond && int(a.Hours)/24 == d
		if d%every != 0 && !crossing && d != days-1 {
			continue
		}
		from, to := d*24, min(n, d*24+25)
		cells := []string{fmt.Sprint(d + 1), t.figure(lowest(a.Lines.PlaceC[from:to])), t.figure(lowest(a.Lines.OutsideC[from:to])), t.figure(lowest(a.Lines.AirC[from:to]))}
		if a.HasWater {
			cells = append(cells, t.figure(mean(a.Lines.StoreC[from:to])), number(a.Lines.ReserveJ[to-1]/3.6e6, 1))
		}
		tab.row(cells...)
	}
	p.table(tab)
}

func lowest(v []float64) float64 {
	low := math.Inf(1)
	for _, x := range v {
		low = math.Min(low, x)
	}
	return low
}

// CarryPictures draws the reserve in days, how the place, the air, the store and the outdoors go without sun, and the curve where there is one.
func (t Teller) CarryPictures(a *carry.Answer) ([]Picture, error) {
	in := drawing.Carry{Title: "No sun from " + a.Begin.In(zoneOf(a.Plan)).Format("2 January"), StepH: 1, LimitC: a.LimitC, LimitName: "limit",
		Conditions: fmt.Sprintf("Outside %s on the mean with a day-night swing of %s, %s %% of the sky under cloud, wind %s.", minus(t.temp(a.Spec.MeanC)), t.span(a.Spec.SwingK),
			number(100*a.Spec.Cloud, 0), unit.Format(unit.Speed, a.Spec.WindMS, t.System, 1))}
	if a.HasWater {
		in.Lines = append(in.Lines, drawing.Series{Name: "water", Kind: drawing.Store, TempC: a.Lines.StoreC})
	}
	if a.Lines.AirName != a.Place {
		in.Lines = append(in.Lines, drawing.Series{Name: a.Lines.AirName, Kind: drawing.Air, TempC: a.Lines.AirC})
	}
	in.Lines = append(in.Lines, drawing.Series{Name: a.Place, Kind: drawing.Leaf, TempC: a.Lines.PlaceC})
	if b := a.Band; b != nil && b.Why == "" {
		in.LoC, in.HiC, in.BandName = b.LoC, b.HiC, "Pale: what 8 in 10 houses built like this one lie between, to first order."
	}
	l, err := drawing.DrawCarry(in, t.Frame())
	if err != nil {
		return nil, fmt.Errorf("picture carry.svg: %w", err)
	}
	reserve, err := t.reservePicture(a)
	if err != nil {
		return nil, err
	}
	list := []Picture{reserve, {"carry.svg", l}}
	if a.Curve != nil {
		curve, err := t.carryCurvePicture(a)
		if err != nil {
			return nil, err
		}
		list = append(list, curve)
	}
	return list, nil
}

// The JSON answer of a carry-through.
type carryJSON struct {
	Schema     Schema           `json:"schema"`
	Plan       string           `json:"plan"`
	Sentence   string           `json:"sentence"`
	Place      string           `json:"place"`
	PlaceWhy   string           `json:"place_why"`
	LimitC     float64          `json:"limit_c"`
	Begin      string           `json:"begin"`
	Sunset     string           `json:"sunset,omitempty"`
	Hours      *float64         `json:"hours"` // null: not within max_days
	Beyond     bool             `json:"beyond"`
	MaxDays    int              `json:"max_days"`
	WaterM3    float64          `json:"water_m3"`
	StoreC     *float64         `json:"store_c,omitempty"`
	ReserveJ   float64          `json:"reserve_j"`
	IceShare   float64          `json:"ice_share"`
	IceAfter   *float64         `json:"ice_after_hours"` // null: none while it was run
	LostM3     float64          `json:"lost_m3"`
	LostJ      float64          `json:"lost_j"`
	Conditions []conditionJSON  `json:"conditions"`
	Full       *float64         `json:"hours_with_all_of_the_store,omitempty"` // that count; where nothing was lost there is none
	Lines      linesJSON        `json:"by_hour"`
	Curve      *curveJSON       `json:"curve,omitempty"`
	Band       *carryBandJSON   `json:"band_of_the_house,omitempty"`
	Drawn      *carryBandJSON   `json:"drawn_houses,omitempty"`
	Simplified []simplifiedJSON `json:"simplified"`
	Assumed    []assumedJSON    `json:"assumed"`
	Cautions   []string         `json:"cautions"`
}

type conditionJSON struct {
	Name   string  `json:"name"`
	Value  float64 `json:"value"`
	Unit   string  `json:"unit"`
	Words  string  `json:"words,omitempty"`
	Given  bool    `json:"given"`
	Source string  `json:"source,omitempty"`
}

type linesJSON struct {
	AirName  string    `json:"air_name"`
	PlaceC   []float64 `json:"place_c"`
	OutsideC []float64 `json:"outside_c"`
	AirC     []float64 `json:"air_c"`
	StoreC   []float64 `json:"store_c,omitempty"`
	ReserveJ []float64 `json:"reserve_j"`
	IceShare []float64 `json:"ice_share"`
}

// CarryJSON writes a carry-through as one JSON object.
func CarryJSON(w io.Writer, a *carry.Answer) error {
	at := zoneOf(a.Plan)
	out := carryJSON{Schema: Schema{"suncellar.carry", 1}, Plan: a.Plan.Name, Sentence: Teller{}.carrySentence(a), Place: a.Place, PlaceWhy: a.PlaceWhy, LimitC: a.LimitC,
		Begin: stamp(a.Begin.In(at)), Beyond: a.Beyond, MaxDays: carry.MaxDays, WaterM3: a.WaterM3, ReserveJ: a.ReserveJ, IceShare: a.IceShare, LostM3: a.LostM3, LostJ: a.LostJ,
		Conditions: []conditionJSON{}, Lines: linesJSON(a.Lines), Simplified: simplified(a.Simplified), Assumed: assumed(a.Assumed), Cautions: a.Cautions}
	if !a.Sunset.IsZero() {
		out.Sunset = stamp(a.Sunset.In(at))
	}
	if !a.Beyond {
		out.Hours = &a.Hours
	}
	if a.IceAfterHours >= 0 {
		out.IceAfter = &a.IceAfterHours
	}
	out.Curve = curveAsJSON(a.Curve)
	out.Band, out.Drawn = carryBandAsJSON(a.Band, a.Curve), carryBandAsJSON(a.Drawn, a.Curve)
	if a.HasWater {
		out.StoreC = &a.StoreC
	}
	if a.Full != nil {
		out.Full = &a.Full.Hours
	}
	for _, c := range a.Conditions {
		out.Conditions = append(out.Conditions, conditionJSON(c))
	}
	return WriteJSON(w, out)
}
