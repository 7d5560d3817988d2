package greenhouse

import (
	"fmt"
	"time"

	"suncellar/internal/air"
	"suncellar/internal/ground"
	"suncellar/internal/plan"
	"suncellar/internal/sun"
	"suncellar/internal/thermal"
	"suncellar/internal/weather"
)

// openDepth is how deep the column of open ground reaches [m]; its foot lets no heat through.
const openDepth = 16.0

// OpenGround is a column of a site's soil under the open sky, without any house: the ground's surface as the slice of a house has it
// (sun, sky, wind, evaporation, snow) and the soil of the site below. It is carried through weather hour by hour.
type OpenGround struct {
	column  *ground.Column
	body    *thermal.Body
	net     *thermal.Network
	balance *thermal.Balance
	top     *groundTop
	site    site
	outdoor thermal.Node
	sky     thermal.Node
}

// NewOpenGround makes the column of a plan's site; start is its temperature by depth [°C].
func NewOpenGround(p *plan.Plan, start func(depthM float64) float64) (*OpenGround, error) {
	soil, err := SoilOf(p.Site)
	if err != nil {
		return nil, err
	}
	column, err := ground.Strata{Layers: soil.strata(), Fill: soil.Below, Depth: openDepth, Area: 1, Finest: 0.03, Growth: 0.2, Coarsest: 1.2}.Column()
	if err != nil {
		return nil, err
	}
	o := &OpenGround{column: column, net: &thermal.Network{Control: thermal.Control{Tolerance: 0.5, Finest: 3}}, site: siteOf(p)}
	o.outdoor = o.net.Given("outdoor air", start(0))
	o.sky = o.net.Given("sky", start(0)-15)
	o.top = addGroundTop(o.net, "ground", p.Site, start(0), air.StandardPressure(p.Site.Elevation), o.outdoor, o.sky, o.net.Given("0 °C", 0))
	o.top.view = o.site.levelView
	o.body = column.AddTo(o.net, "undisturbed ground", start, []thermal.Node{o.top.skin}, []string{"into the ground"})
	return o, nil
}

// Hour carries the ground through hour i of a series; hours must be given in order.
func (o *OpenGround) Hour(s *weather.Series, i int) error {
	if o.balance == nil {
		o.balance, o.site.neverRains = o.net.NewBalance(), dry(s)
	}
	h := o.site.hourAt(s, i, s.Hours[max(0, i-1)], sun.OverHour(o.site.place, s.HourStart(i).Add(time.Hour)))
	if err := o.advance(&h); err != nil {
		return err
	}
	o.net.AddHour(o.balance)
	return nil
}

func (o *OpenGround) advance(h *hour) error {
	o.net.SetGiven(o.outdoor, h.air0, h.w.AirC)
	o.net.SetGiven(o.sky, h.skyC, h.skyC)
	o.top.hour(h)
	if err := o.net.Advance(o.top.step); err != nil {
		return fmt.Errorf("ground without the house, %s: %w", h.start.Format("2006-01-02 15:04"), err)
	}
	return nil
}

// SetCover changes what grows or lies on the ground, by the words of the plan's ground_cover.
func (o *OpenGround) SetCover(name string) { o.top.cover = coverOf(name) }

// Profile is the temperature by depth [°C] as it now is; later hours do not change it.
func (o *OpenGround) Profile() func(depthM float64) float64 { return o.column.Profile(o.body) }

// SkinC is the soil's own face [°C], under whatever lies on it.
func (o *OpenGround) SkinC() float64 { return o.net.T(o.top.skin) }

// TopC is the face that the sky sees, the snow's or the ground's [°C].
func (o *OpenGround) TopC() float64 { return o.net.T(o.top.top) }

// FrostDepth is the depth of the deepest cell of which more than half is frozen, to its foot [m]; 0 without frost.
func (o *OpenGround) FrostDepth() float64 {
	deepest := 0.0
	for i := range o.column.Len() {
		if o.body.IceShare(i) > 0.5 {
			deepest = max(deepest, o.column.Foot(i))
		}
	}
	return deepest
}

// Imbalance is by how much the heat of all hours run is not accounted for, over the heat that crossed inward.
func (o *OpenGround) Imbalance() float64 {
	if o.balance == nil {
		return 0
	}
	rel, _ := o.net.Imbalance(o.balance)
	return rel
}
