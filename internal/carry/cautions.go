package carry

import "suncellar/internal/winter"

// cautions belong to the answer and stand with it.
func (a *Answer) cautions(req Request) []string {
	list := []string{
		"This time is of this spell alone, from this state and with these assumptions. A colder, windier or clearer night brings the limit sooner; no time told here is a promise.",
	}
	if a.Beyond {
		list = append(list, "The sum ends after 60 days: what comes later, and what another cold brings, is not computed.")
	}
	if a.House.Water() > 0 {
		list = append(list, "The reserve ends at 0 °C. Ice is told apart and is no reserve: drums are never to be let freeze, they split.")
	}
	if a.IceShare > 0 {
		list = append(list, "Part of the water is ice already at the begin of the spell: look after the drums first.")
	}
	if req.Lose > 0 || req.BayLost != "" || a.Curve.losesWater() {
		list = append(list, "Lost water is gone at sunset, and where it went is not computed here (store.events in the plan tells that): it wets and may cool or flood beds and floor. No digging or compacting beside full drums or behind a wall after a leak.")
	}
	if a.storeChanges() {
		list = append(list, "Leaks, drains, refills, draws and the daily use of the plan go on by their dates, before the spell and within it.")
	}
	if a.Plan.Cover != nil && !req.NoCover {
		list = append(list, "The cover is taken to be drawn as the plan says, every night of its season; a night without it is not in this time.")
	}
	if !a.SnowKnown && a.House.GlazedArea() > 0 {
		list = append(list, "Snowfall is not known: the glazing is taken as bare up to the spell and through it. Without sun that is the cold side.")
	}
	return append(list, winter.FootingCautions(a.House)...)
}

// losesWater tells whether a curve has a case that loses water.
func (c *Curve) losesWater() bool {
	if c == nil {
		return false
	}
	for _, k := range c.Cases {
		if k.Lose > 0 || k.BayLost != "" {
			return true
		}
	}
	return false
}

// storeChanges tells whether the plan says what happens to its water.
func (a *Answer) storeChanges() bool {
	w := a.House.Scheme
	return len(a.House.Events) > 0 || w != nil && w.Plan.Use != nil
}
