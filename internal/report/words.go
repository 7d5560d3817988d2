package report

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"suncellar/internal/greenhouse"
	"suncellar/internal/plan"
	"suncellar/internal/weather"
	"suncellar/internal/winter"
)

// oneWinter is how sure an answer from one winter is.
const oneWinter = "in this one winter, with these assumptions"

// where is a place with its height or depth.
func (t Teller) where(p *winter.Place) string {
	if p.InSoil {
		return fmt.Sprintf("%s, %s below its top", p.Name, t.depth(p.DepthM))
	}
	if p.Kind == greenhouse.OutPlace {
		return p.Name
	}
	if p.HeightM < 0 {
		return fmt.Sprintf("%s, %s below the floor", p.Name, t.height(-p.HeightM))
	}
	return fmt.Sprintf("%s, %s above the floor", p.Name, t.height(p.HeightM))
}

// firstSentence is what a winter comes to in one sentence. It never says more than what was computed.
func (t Teller) firstSentence(a *winter.Answer, of OfHouse) string {
	if a.Watched < 0 {
		return upper(oneWinter) + ", no place inside is watched."
	}
	p := &a.Places[a.Watched]
	switch {
	case p.HoursBelowLimit > 0 && a.LimitC == 0:
		return fmt.Sprintf("Frost reaches %s, %s.", strings.TrimSuffix(within(p.Name), ","), oneWinter)
	case p.HoursBelowLimit > 0:
		return fmt.Sprintf("%s falls below its limit of %s, %s.", subject(p.Name), t.temp(a.LimitC), oneWinter)
	case p.LowestC < a.LimitC+closeK:
		return fmt.Sprintf("%s comes within %s of %s, %s: another winter can cross it.", subject(p.Name), t.span(p.LowestC-a.LimitC), t.limit(a), oneWinter)
	}
	if lo, _, _, ok := of.lowest(a); ok && lo < a.LimitC {
		return fmt.Sprintf("%s comes down to %s, %s; what is not known of the house can take it below %s, and another winter can be colder.", subject(p.Name), t.temp(p.LowestC), oneWinter, t.limit(a))
	}
	return fmt.Sprintf("%s comes down to %s, %s; another winter can be colder.", subject(p.Name), t.temp(p.LowestC), oneWinter)
}

// closeK is how near a limit is called close [K]: within it not even many winters could speak of safety.
const closeK = 2

func (t Teller) limit(a *winter.Answer) string {
	if a.LimitC == 0 {
		return "freezing"
	}
	return "its limit of " + t.temp(a.LimitC)
}

// figureSentence is the figure with unit, place and time, and how sure it is.
func (t Teller) figureSentence(a *winter.Answer, of OfHouse) string {
	p := &a.Places[a.Watched]
	out := fmt.Sprintf("Lowest %s, %s, %s", t.temp(p.LowestC), when(local(a, p.LowestAt)), t.where(p))
	if p.HoursBelowZero > 0 {
		out += fmt.Sprintf("; %s below freezing", count(p.HoursBelowZero, "hour"))
	}
	out += " (" + t.snowWords(a.SnowCase)
	if a.Other != nil {
		c, _ := a.Other.Traces[a.Watched].Lowest()
		out += fmt.Sprintf("; with %s %s", a.OtherCase, t.temp(c))
	}
	return out + "). " + t.surely(a, of)
}

func (t Teller) snowWords(snowCase string) string {
	switch snowCase {
	case "as snow falls":
		return "with the snow that falls"
	case "glazing bare", "snow lying":
		return "with " + snowCase
	}
	return snowCase
}

// why tells what stood behind the lowest hour of the watched place.
func (t Teller) why(a *winter.Answer) string {
	r := a.Result
	_, at := r.Traces[a.Watched].Lowest()
	var parts []string
	if out := r.Trace("outdoor air"); out != nil {
		s := fmt.Sprintf("Why: outdoors it was %s then", t.temp(out.C[at]))
		if at >= 72 {
			s += fmt.Sprintf(", %s on the mean of the three days before", t.temp(mean(out.C[at-72:at])))
		}
		parts = append(parts, s+".")
	}
	if at >= 72 && sumOf(r.EnteredW) > 0 {
		parts = append(parts, fmt.Sprintf("In those days %s kWh of sun a day came in, against %s on the mean of the run.",
			number(sumOf(r.EnteredW[at-72:at])/3000, 0), number(mean(r.EnteredW)*24/1000, 0)))
	}
	if low, high, ok := waterRange(r, at); ok {
		parts = append(parts, "The water stood at "+t.fromTo(low, high)+".")
	}
	if r.SnowM[at] > 0 {
		parts = append(parts, fmt.Sprintf("%s of snow lay on the glazing.", t.depth(r.SnowM[at])))
	}
	if at >= 24 {
		parts = append(parts, t.losses(r, at-23, at+1))
	}
	return strings.Join(slices.DeleteFunc(parts, func(s string) bool { return s == "" }), " ")
}

// cautions are those of an answer, and before them what is doubtful in the weather itself.
func cautions(a *winter.Answer) []string { return cautionsWith(a, a.Cautions) }

// cautionsWith puts what is doubtful in the weather of a winter before other cautions.
func cautionsWith(a *winter.Answer, others []string) []string {
	list := []string{}
	for _, n := range a.Year.Notes {
		if n.Kind == weather.Flagged && n.Hours >= doubtfulHours && n.What != "rain" { // rain warms and cools nothing here
			list = append(list, fmt.Sprintf("The weather is doubtful in its %s: %s.", n.What, n.Text))
		}
	}
	return append(list, others...)
}

// doubtfulHours is how many hours a doubt about the weather has to concern to be told with the cautions.
const doubtfulHours = 720

// byLoss puts causes in the order of the heat they took.
func byLoss(causes []cause) []cause {
	slices.SortStableFunc(causes, func(x, y cause) int { return cmp.Compare(y.out, x.out) })
	return causes
}

// losses tells which causes took heat and gave it in a day.
func (t Teller) losses(r *greenhouse.Result, from, to int) string {
	own, _ := sides(causes(r, from, to))
	_, lost := sum(own)
	if lost <= 0 {
		return ""
	}
	own = byLoss(own)
	var took []string
	for _, c := range own[:min(3, len(own))] {
		if share := c.out / lost; share >= 0.05 {
			took = append(took, fmt.Sprintf("%s %% went by %s", number(100*share, 0), c.name))
		}
	}
	return fmt.Sprintf("Of the %s kWh that left the house in the day before, %s.", kWh(lost), list(took))
}

// within is a place's name inside a sentence; one that holds a comma is set between two.
func within(name string) string {
	if name == "air" {
		return "the air"
	}
	if strings.Contains(name, ",") {
		name += ","
	}
	return name
}

// subject is the same at the begin of a sentence.
func subject(name string) string { return upper(within(name)) }

// advice is what to try first: what acts on the causes that took most heat in the day before the lowest hour.
func advice(a *winter.Answer) string {
	_, at := a.Result.Traces[a.Watched].Lowest()
	if at < 24 {
		return ""
	}
	own, _ := sides(causes(a.Result, at-23, at+1))
	_, lost := sum(own)
	var try []string
	for _, c := range byLoss(own) {
		if c.out >= 0.1*lost {
			if words := remedy(a, c.name); words != "" {
				try = append(try, words)
			}
		}
	}
	if len(a.House.Rows) == 0 {
		try = append(try, "a store of water")
	}
	if len(try) == 0 {
		return ""
	}
	return "What to try first: " + list(try) + ". 'suncellar compare' tells what each is worth."
}

// remedy is a change that acts on a cause.
func remedy(a *winter.Answer, name string) string {
	switch name {
	case causeGlazing:
		if a.Plan.Cover == nil {
			return "a cover on the glazing at night (cover)"
		}
		return "a better or tighter cover (cover.r_value, cover.fit)"
	case causeLeakage:
		return "tighter joints (leakage)"
	case causeWalls:
		return "more insulation in walls and roof (builds)"
	case causeEarth:
		return "insulation boards in the ground (ground.boards)"
	}
	return ""
}

// list joins words as a sentence does.
func list(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}

func upper(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

func mean(v []float64) float64 { return sumOf(v) / float64(len(v)) }

func sumOf(v []float64) float64 {
	sum := 0.0
	for _, x := range v {
		sum += x
	}
	return sum
}

// waterRange is the lowest and the highest temperature of the water at an hour [°C].
func waterRange(r *greenhouse.Result, at int) (low, high float64, ok bool) {
	low, high = math.Inf(1), math.Inf(-1)
	for i := range r.Traces {
		if r.Traces[i].Kind == greenhouse.WaterPlace && !r.RanDry(r.Traces[i].Bay, at) {
			low, high, ok = math.Min(low, r.Traces[i].C[at]), math.Max(high, r.Traces[i].C[at]), true
		}
	}
	return low, high, ok
}

// fromTo is a range of temperatures, or one where both read alike.
func (t Teller) fromTo(low, high float64) string {
	if t.figure(low) == t.figure(high) {
		return t.temp(low)
	}
	return t.figure(low) + " to " + t.temp(high)
}

// span is a distance between two temperatures with its unit [K].
func (t Teller) span(k float64) string { return strings.TrimPrefix(t.difference(k), "+") }

// local is an instant in the site's standard time.
func local(a *winter.Answer, at time.Time) time.Time { return at.In(zone(a)) }

func zone(a *winter.Answer) *time.Location { return zoneOf(a.Plan) }

func zoneOf(p *plan.Plan) *time.Location {
	return weather.Zone(time.Duration(p.Site.TimeZone.OffsetS) * time.Second)
}
