package report

import (
	"fmt"

	"suncellar/internal/greenhouse"
	"suncellar/internal/winter"
)

// old sets the house that has stood for years beside the one of this answer, where it was run.
func (t Teller) old(p *page, a *winter.Answer) {
	if a.Old == nil {
		return
	}
	p.head("The same winter when the house is older")
	tab := newTable([]string{"lowest " + t.degree(), "as told above", fmt.Sprintf("stood %d years before", a.Old.Years)})
	for i := range a.Places {
		if k := a.Places[i].Kind; k == greenhouse.LeafPlace || k == greenhouse.AirPlace || k == greenhouse.SoilPlace || k == greenhouse.WaterPlace {
			c, _ := a.Old.Result.Traces[i].Lowest()
			tab.row(a.Places[i].Name, t.figure(a.Places[i].LowestC), t.figure(c))
		}
	}
	p.table(tab)
	p.say("A house warms its ground in its first years, if it is used alike and its soil stays as dry. Count on the colder: nothing here says that it did.")
}

type oldJSON struct {
	Years  int            `json:"years"`
	Places []oldPlaceJSON `json:"places"`
}

type oldPlaceJSON struct {
	Name    string  `json:"name"`
	LowestC float64 `json:"lowest_c"`
}

func oldAsJSON(a *winter.Answer) *oldJSON {
	if a.Old == nil {
		return nil
	}
	out := &oldJSON{Years: a.Old.Years}
	for i := range a.Places {
		c, _ := a.Old.Result.Traces[i].Lowest()
		out.Places = append(out.Places, oldPlaceJSON{a.Places[i].Name, c})
	}
	return out
}
