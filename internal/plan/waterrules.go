package plan

import "slices"

// WithEvents is the plan with more that happens to the water of its store, which it must have.
func (p *Plan) WithEvents(more ...StoreEvent) *Plan {
	changed, store := *p, *p.Store
	store.Events = append(slices.Clone(store.Events), more...)
	changed.Store = &store
	return &changed
}

// Kept is the water that is not used on a day [m³].
func (w *Water) Kept(d Date) float64 {
	most := 0.0
	for _, k := range w.Keep {
		if d.Between(k.From, k.Until) {
			most = max(most, k.Volume)
		}
	}
	return most
}

// ShutOn tells whether the inlet is shut on a day.
func (i *WaterInlet) ShutOn(d Date) bool {
	return i.ShutFrom != nil && i.ShutUntil != nil && d.Between(*i.ShutFrom, *i.ShutUntil)
}
