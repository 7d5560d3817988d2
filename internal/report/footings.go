package report

import (
	"fmt"
	"strings"

	"suncellar/internal/drawing"
	"suncellar/internal/house"
	"suncellar/internal/winter"
)

// footings lists the strips that walls and drums stand on, with the caution that goes with them.
func (t Teller) footings(p *page, h *house.House) {
	if len(h.Footings) == 0 {
		return
	}
	p.head("Footings")
	for i := range h.Footings {
		p.item(t.footingWords(&h.Footings[i]))
	}
	p.item("Heat through them counts in a winter's run; the steady loss above is without them.")
	for _, c := range winter.FootingCautions(h) {
		p.item(c)
	}
}

func (t Teller) footingWords(f *house.Footing) string {
	return fmt.Sprintf("under %s: %s, %s wide, %s thick, its underside %s below grade", f.Plan.Under, strings.ReplaceAll(f.Layer.Name, "_", " "),
		t.depth(f.Plan.Width), t.depth(f.Plan.Thickness), t.height(-f.Low()))
}

// strips are the footings of the picture.
func (t Teller) strips(h *house.House) []drawing.Strip {
	var list []drawing.Strip
	for i := range h.Footings {
		f := &h.Footings[i]
		for _, b := range f.Boxes {
			list = append(list, drawing.Strip{Part: drawing.Part{Name: "footing " + t.footingWords(f), Outline: box(b[0].X, b[0].Z, b[2].X, b[2].Z)}, Hatch: hatchOf(f.Layer)})
		}
	}
	return list
}

type footingJSON struct {
	Under      string  `json:"under"`
	Material   string  `json:"material"`
	WidthM     float64 `json:"width_m"`
	ThicknessM float64 `json:"thickness_m"`
	UndersideM float64 `json:"underside_below_grade_m"`
}

func footingsJSON(h *house.House) []footingJSON {
	var list []footingJSON
	for i := range h.Footings {
		f := &h.Footings[i]
		list = append(list, footingJSON{f.Plan.Under, f.Layer.Name, f.Plan.Width, f.Plan.Thickness, -f.Low()})
	}
	return list
}
