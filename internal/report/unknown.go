package report

import (
	"fmt"
	"strings"

	"suncellar/internal/house"
	"suncellar/internal/unit"
	"suncellar/internal/unknown"
)

// notKnown lists what is not known of a house: between which ends, and where that is from.
func (t Teller) notKnown(p *page, h *house.House) {
	p.head("Not known of the house: ends that 8 in 10 houses lie between; source")
	judged := 0
	for _, in := range unknown.Of(h.Plan, h) {
		if !in.On {
			p.item(in.Label + ": taken as known, " + t.spreadValue(&in, 0))
			continue
		}
		p.item(fmt.Sprintf("%s: %s to %s, planned %s; %s", in.Label, t.spreadValue(&in, -unknown.EightInTen), t.spreadValue(&in, unknown.EightInTen), t.spreadValue(&in, 0), standsOn(&in)))
		if in.Basis == unknown.Judgement {
			judged++
		}
	}
	if judged > 0 {
		p.say(fmt.Sprintf("%d of these stand on own judgement. Who knows better writes it into the plan's key unknown.", judged))
	}
}

// standsOn is the source of a spread, beginning with its basis.
func standsOn(in *unknown.Input) string {
	if basis := string(in.Basis); !strings.HasPrefix(in.Source, basis) {
		return basis + ": " + in.Source
	}
	return in.Source
}

// spreadValue is the value of an input so many standard deviations from the plan.
func (t Teller) spreadValue(in *unknown.Input, z float64) string {
	v := in.Value(z)
	switch in.Kind {
	case unit.Ratio:
		return number(v, 2) + " times"
	case unit.Conductivity, unit.AirChanges:
		return unit.Format(in.Kind, v, t.System, 2)
	case unit.Share:
		return number(100*v, 1) + " %"
	case unit.AreaRatio:
		return unit.Format(in.Kind, v, t.System, 1)
	}
	if t.System == unit.US {
		return number(v/squareInch, 0) + " sq in"
	}
	return number(1e4*v, 0) + " cm²"
}

// squareInch is a square inch [m²], exact.
const squareInch = 0.0254 * 0.0254

type notKnownJSON struct {
	Key          string   `json:"key"`
	Label        string   `json:"label"`
	On           bool     `json:"on"`
	Path         string   `json:"path"`
	Kind         string   `json:"kind"`
	Planned      float64  `json:"planned"`
	Low          *float64 `json:"low_8_in_10,omitempty"`
	High         *float64 `json:"high_8_in_10,omitempty"`
	Distribution string   `json:"distribution"`
	Deviation    string   `json:"standard_deviation"`
	Basis        string   `json:"basis"`
	OwnJudgement bool     `json:"own_judgement"`
	Source       string   `json:"source"`
}

func notKnownAsJSON(h *house.House) []notKnownJSON {
	list := []notKnownJSON{}
	for _, in := range unknown.Of(h.Plan, h) {
		row := notKnownJSON{Key: in.ID, Label: in.Label, On: in.On, Path: in.Path, Kind: in.Kind.String(), Planned: in.At, Distribution: in.Distribution, Deviation: in.Words,
			Basis: string(in.Basis), OwnJudgement: in.Basis == unknown.Judgement, Source: in.Source}
		if in.On {
			low, high := in.Value(-unknown.EightInTen), in.Value(unknown.EightInTen)
			row.Low, row.High = &low, &high
		}
		list = append(list, row)
	}
	return list
}
