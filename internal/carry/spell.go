package carry

import (
	"suncellar/internal/weather"
)

// The default sky of a spell: steady and dull, with a swing such as thick cloud leaves. All own judgement, told with each answer.
const (
	defaultSwingK         = 8.0
	defaultClearness      = 0.10
	defaultCloud          = 1.0
	defaultWindMS         = 2.0
	defaultDewPointBelowK = 1.0
)

// spell states the spell: what was asked, and the default for the rest.
func (a *Answer) spell(req Request, first int) error {
	s := a.counted()
	_, cold, _ := s.Coldest(min(meanHours, len(s.Hours)))
	lying := a.Span.Hours[first-1].SnowDepthM
	if !(lying > 0) { // unknown counts as none
		lying = 0
	}
	state := func(name, unit, source string, asked *float64, otherwise float64) float64 {
		c := Condition{Name: name, Unit: unit, Value: otherwise, Source: source}
		if asked != nil {
			c.Value, c.Given, c.Source = *asked, true, ""
		}
		a.Conditions = append(a.Conditions, c)
		return c.Value
	}
	const own = "own judgement"
	r := req.Spell
	a.Spec = weather.SpellSpec{
		Days:           MaxDays,
		MeanC:          state("outdoor air, mean", "°C", "mean of the winter's coldest 72 h", r.OutsideC, cold),
		SwingK:         state("day-night swing", "K", own, r.SwingK, defaultSwingK),
		Clearness:      state("clearness", "", "deep overcast, own judgement", r.Clearness, defaultClearness),
		Cloud:          state("share of sky under cloud", "", own, r.Cloud, defaultCloud),
		WindMS:         state("wind", "m/s", own, r.WindMS, defaultWindMS),
		DewPointBelowK: state("dew point below the day's lowest air", "K", own, r.DewPointBelowK, defaultDewPointBelowK),
		SnowDepthM:     state("snow on level ground", "m", "as the winter has it at that date", r.SnowDepthM, lying),
	}
	return a.Spec.Check()
}
