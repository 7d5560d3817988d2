package report

import (
	"fmt"

	"suncellar/internal/draw"
	"suncellar/internal/drawing"
	"suncellar/internal/winter"
)

// HousePictures draws a house and its winter beyond Pictures: the section with the lowest of every place.
func (t Teller) HousePictures(a *winter.Answer) ([]Picture, error) {
	var list []Picture
	if a.Result.Hours() == 0 {
		return nil, nil
	}
	for _, p := range []struct {
		name string
		draw func() (*draw.List, error)
	}{
		{"section-lowest.svg", func() (*draw.List, error) { return drawing.DrawSectionResult(t.SectionLowest(a), t.Frame()) }},
		{"floor-plan.svg", func() (*draw.List, error) { return drawing.DrawFloorPlan(t.FloorPlan(a.House, a), t.Frame()) }},
		{"view.svg", func() (*draw.List, error) { return drawing.DrawView(t.View(a.House, 35), t.Frame()) }},
		{"flows.svg", func() (*draw.List, error) {
			from, to := a.Spell.From, a.Spell.To
			if to <= from {
				from, to = 0, a.Result.Hours()
			}
			in, err := t.Flows(a, from, to)
			if err != nil {
				return nil, err
			}
			return drawing.DrawFlows(in, t.Frame())
		}},
	} {
		l, err := p.draw()
		if err != nil {
			return nil, fmt.Errorf("picture %s: %w", p.name, err)
		}
		list = append(list, Picture{p.name, l})
	}
	return list, nil
}
