package carry

import (
	"suncellar/internal/greenhouse"
	"suncellar/internal/winter"
)

// watchers are the places of which the first to fall below the limit ends the time.
type watchers struct {
	limitC float64
	names  []string
	how    string // why these
	first  string // what is told of the one that falls first
	traces []*greenhouse.Trace
	start  []float64 // at the begin of the spell [°C]
	which  int       // the one that fell first, -1 none yet
	hours  float64
}

// watchers finds the places: the one asked for, else the plan's, else all leaf tips, else all air.
func (a *Answer) watchers(req Request, c Case, g *greenhouse.Greenhouse) (*watchers, error) {
	w := &watchers{limitC: a.LimitC, which: -1}
	state := ""
	if c.Lose == 1 || c.BayLost != "" {
		state = " without its water"
	}
	for _, named := range []struct{ name, how string }{{req.Place, "named"}, {a.Plan.Run.Place, "of the plan"}} {
		if named.name == "" {
			continue
		}
		if err := winter.HasPlace(g, named.name, state); err != nil {
			return nil, err
		}
		w.names, w.how, w.first = []string{named.name}, named.how, named.how
		return w, nil
	}
	for _, kind := range []struct {
		kind  greenhouse.PlaceKind
		words string
	}{{greenhouse.LeafPlace, "leaf tips"}, {greenhouse.AirPlace, "air"}} {
		for _, p := range g.Places() {
			if p.Kind == kind.kind {
				w.names = append(w.names, p.Name)
			}
		}
		if len(w.names) > 0 {
			w.how, w.first = "the coldest of all "+kind.words, "the first of all "+kind.words+" to fall below the limit"
			return w, nil
		}
	}
	panic("carry: a house without air")
}

// begin takes the traces of the run that has just begun.
func (w *watchers) begin(s *passage, r *greenhouse.Result) {
	for _, name := range w.names {
		t := r.Trace(name)
		w.traces = append(w.traces, t)
		w.start = append(w.start, s.startC(t))
	}
}

// look finds the first crossing, by the hour that was recorded last; true once there is one.
func (w *watchers) look(r *greenhouse.Result) bool {
	if w.which >= 0 {
		return true
	}
	n := r.Hours()
	for i, t := range w.traces {
		before := w.start[i]
		if n > 1 {
			before = t.C[n-2]
		}
		at, crosses := crossing(before, t.C[n-1], w.limitC)
		if at += float64(n - 1); crosses && (w.which < 0 || at < w.hours) {
			w.which, w.hours = i, at
		}
	}
	return w.which >= 0
}

// crossing is the share of an hour, 0..1, after which a line from one temperature to another falls below the limit, and whether it does;
// 0 where it begins below.
func crossing(from, to, limit float64) (share float64, crosses bool) {
	switch {
	case from < limit:
		return 0, true
	case to < limit:
		return (from - limit) / (from - to), true
	}
	return 0, false
}

// settle tells the answer what was found.
func (w *watchers) settle(a *Answer, r *greenhouse.Result) {
	if w.which >= 0 {
		a.Place, a.PlaceWhy, a.Hours = w.names[w.which], w.first, w.hours
		return
	}
	a.Hours, a.Beyond = -1, true
	coldest := 0
	for i, t := range w.traces {
		if coldestOf(t.C) < coldestOf(w.traces[coldest].C) {
			coldest = i
		}
	}
	a.Place, a.PlaceWhy = w.names[coldest], w.how
}
