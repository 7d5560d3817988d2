package report

import (
	"suncellar/internal/draw"
	"suncellar/internal/drawing"
	"suncellar/internal/house"
	"suncellar/internal/winter"
)

// What a page shows of an answer by itself.

// Sentence is the first sentence of a winter: what it means for the watched place.
func (t Teller) Sentence(a *winter.Answer) string { return t.firstSentence(a) }

// SectionPicture draws the section of a house; with an answer its places carry their lowest temperatures, with nil there are none.
func (t Teller) SectionPicture(h *house.House, a *winter.Answer) (*draw.List, error) {
	return drawing.DrawSection(t.Section(h, a), t.Frame())
}
