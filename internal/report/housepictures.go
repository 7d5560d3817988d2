package report

import (
	"suncellar/internal/draw"
	"suncellar/internal/drawing"
	"suncellar/internal/winter"
)

// HousePictures draws a house and its winter beyond Pictures: the section painted with the lowest of every place, the floor plan, the house cut out of its ground, and heat as
// streams through the worst ten days.
func (t Teller) HousePictures(a *winter.Answer) ([]Picture, error) {
	return drawAll(t.housePictures(a))
}

func (t Teller) housePictures(a *winter.Answer) []named {
	if a.Result.Hours() == 0 {
		return nil
	}
	return []named{
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
	}
}
