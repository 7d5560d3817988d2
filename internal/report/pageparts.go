package report

import (
	"fmt"

	"suncellar/internal/draw"
	"suncellar/internal/drawing"
	"suncellar/internal/house"
	"suncellar/internal/winter"
)

// What a page shows of an answer by itself.

// Sentence is the first sentence of a winter: what it means for the watched place.
func (t Teller) Sentence(a *winter.Answer, of OfHouse) string { return t.firstSentence(a, of) }

// Surely is how sure the lowest of a winter is: the band of what is not known of the house and what it means, or that there is none.
func (t Teller) Surely(a *winter.Answer, of OfHouse) string { return t.surely(a, of) }

// Lowest is the lowest of the watched place: how cold, when, where; "" where no place is watched.
func (t Teller) Lowest(a *winter.Answer) string {
	if a.Watched < 0 {
		return ""
	}
	p := &a.Places[a.Watched]
	return fmt.Sprintf("Lowest %s, %s, %s.", t.temp(p.LowestC), local(a, p.LowestAt).Format("2 January 15:04"), p.Name)
}

// SectionPicture draws the section of a house; with an answer its places carry their lowest temperatures, with nil there are none.
func (t Teller) SectionPicture(h *house.House, a *winter.Answer) (*draw.List, error) {
	return drawing.DrawSection(t.Section(h, a), t.Frame())
}
