package house

import "suncellar/internal/plan"

// BayAt is a bay of the store: row and bay of it, both from 0.
type BayAt struct{ Row, Bay int }

// WaterEvent is an event of the plan with its bays found.
type WaterEvent struct {
	plan.StoreEvent
	Bays []BayAt
}

// BayName is what bay i of the row is called, from 0.
func (r Row) BayName(i int) string { return plan.BayName(r.Name, r.Bays, i) }

// BayNamed is what a bay is called.
func (h *House) BayNamed(at BayAt) string { return h.Rows[at.Row].BayName(at.Bay) }

// BaysNamed are the bays of a name: one, or all of a row; none when the name is not known.
func (h *House) BaysNamed(name string) []BayAt {
	var list []BayAt
	for i := range h.Rows {
		for b := range h.Rows[i].Bays {
			if name == h.Rows[i].Name || name == h.Rows[i].BayName(b) {
				list = append(list, BayAt{i, b})
			}
		}
	}
	return list
}

// BayNames are the names of all bays that hold drums.
func (h *House) BayNames() []string {
	var list []string
	for i := range h.Rows {
		for b := range h.Rows[i].Bays {
			if h.Rows[i].Drums > 0 {
				list = append(list, h.Rows[i].BayName(b))
			}
		}
	}
	return list
}

// events finds the bays of the plan's events.
func (r *resolver) events() {
	if r.p.Store == nil {
		return
	}
	for i, e := range r.p.Store.Events {
		w := WaterEvent{StoreEvent: e, Bays: r.h.BaysNamed(e.Bay)}
		for _, at := range w.Bays {
			row := &r.h.Rows[at.Row]
			if high := row.Top - row.Base; e.Level != nil && *e.Level > high+1e-9 {
				r.fail(pathIndex("store.events", i)+".level", "level counts from the bottom of the lowest drums", "%.2f m is above the top of %s, %.2f m", *e.Level, row.BayName(at.Bay), high)
				break
			}
		}
		r.h.Events = append(r.h.Events, w)
	}
}
