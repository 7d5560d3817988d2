package greenhouse

import (
	"time"

	"suncellar/internal/enclosure"
	"suncellar/internal/house"
	"suncellar/internal/sun"
)

// Seen is what a point of a house sees of the sky's edge: the site's skyline with the banks round it raised. x and z are those of the section, along is from the middle of the house to the right end [m].
func Seen(h *house.House, x, along, z float64) sun.Skyline {
	g := &Greenhouse{House: h}
	var s sun.Skyline
	if of := skylineOf(h.Plan); of != nil {
		s = *of
	}
	for _, b := range h.Plan.Site.Banks {
		s.Raise(g.edge(b, place3{x: x, y: along, z: z}))
	}
	return s
}

// Beam is the sun as the room of a house sees it.
func Beam(h *house.House, p sun.Position) enclosure.Sun {
	return (&Greenhouse{House: h}).profile(p)
}

// Off tells whether the panels of a face are taken off at a time.
func Off(f *house.Face, t time.Time) bool {
	return f.Off != nil && season(f.Off.From, f.Off.Until, t)
}
