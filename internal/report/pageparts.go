package report

import (
	"fmt"
	"math"

	"suncellar/internal/draw"
	"suncellar/internal/drawing"
	"suncellar/internal/house"
	"suncellar/internal/unknown"
	"suncellar/internal/winter"
)

// What a page shows of an answer by itself.

// Sentence is the first sentence of a winter: what it means for the watched place.
func (t Teller) Sentence(a *winter.Answer, of OfHouse) string { return t.firstSentence(a, of) }

// Surely is how sure the lowest of a winter is: the band of what is not known of the house and what it means, or that there is none.
func (t Teller) Surely(a *winter.Answer, of OfHouse) string { return t.surely(a, of) }

// DrawnError is how far an end of the band of so many drawn houses may lie off for having been drawn.
//
// One standard error of a tenth of a sample is sqrt(0.1 0.9/n) over the density there, 0.1755 of a normal one, in standard deviations; half of the band is 1.2816 of them.
func DrawnError(houses int) string {
	off := math.Sqrt(0.09/float64(houses)) / 0.1755 / unknown.EightInTen
	return fmt.Sprintf("With %d houses an end may lie off by about %s %% of half the band.", houses, number(100*off, 0))
}

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
