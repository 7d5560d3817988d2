package worth

import "suncellar/internal/unknown"

// unknown adds what is not known of a house, each measured in its own standard deviations, 0 as planned. Snow is left out: all runs here
// have the snow of the plan's own, so that it would move nothing.
func (t *things) unknown() {
	for _, in := range unknown.Of(t.p, t.h) {
		if in.Snow || !in.On {
			continue
		}
		t.add(Parameter{ID: in.Path + ", not known", Label: in.Label, Kind: Unknown, One: Amount{1, in.Words, 1, in.Words}, Step: 1, Prior: in.Source, Of: in.ID, set: in.Changes})
	}
}
