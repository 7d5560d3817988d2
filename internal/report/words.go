package report

import (
	"fmt"
	"slices"
	"strings"

	"suncellar/internal/greenhouse"
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

// firstSentence is what a winter comes to in one sentence.
func (t Teller) firstSentence(a *winter.Answer) string {
	if a.Watched < 0 {
		return "No place inside is watched, " + oneWinter + "."
	}
	p := &a.Places[a.Watched]
	limit := t.limit(a)
	switch {
	case p.HoursBelowLimit > 0 && a.LimitC == 0:
		return fmt.Sprintf("Frost reaches %s, %s.", p.Name, oneWinter)
	case p.HoursBelowLimit > 0:
		return fmt.Sprintf("%s falls below its limit of %s, %s.", upper(p.Name), limit, oneWinter)
	case p.LowestC < a.LimitC+closeK:
		return fmt.Sprintf("%s comes close to %s, %s.", upper(p.Name), limit, oneWinter)
	}
	return fmt.Sprintf("%s does not fall to %s, %s.", upper(p.Name), limit, oneWinter)
}

// closeK is how near a limit is called close [K]: the least distance at which more than one winter might speak of safety.
const closeK = 2

func (t Teller) limit(a *winter.Answer) string {
	if a.LimitC == 0 {
		return "freezing"
	}
	return t.temp(a.LimitC)
}

// figureSentence is the figure with unit, place and time, and how sure it is.
func (t Teller) figureSentence(a *winter.Answer) string {
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
	return out + "). How sure: one winter and one set of inputs; what other winters or unknown inputs would change is not in this figure."
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

// why tells what stood behind the lowest hour.
func (t Teller) why(a *winter.Answer) string {
	r := a.Result
	trace := &r.Traces[a.Watched]
	_, at := trace.Lowest()
	var parts []string
	if out := r.Trace("outdoor air"); out != nil {
		s := fmt.Sprintf("Why: outdoors it was %s then", t.temp(out.C[at]))
		if at >= 72 {
			s += fmt.Sprintf(", %s on the mean of the three days before", t.temp(mean(out.C[at-72:at])))
		}
		parts = append(parts, s+".")
	}
	if at >= 72 {
		parts = append(parts, fmt.Sprintf("In those days %s of sun a day fell on level ground and %s of it and of what the slope gains came in through the glazing.",
			t.sun(sumOf(r.GlobalWM2[at-72:at])/3), t.entered(a, sumOf(r.EnteredW[at-72:at])/3)))
	}
	if c, ok := storeMean(r, at); ok {
		parts = append(parts, fmt.Sprintf("The water stood at %s.", t.temp(c)))
	}
	if r.SnowM[at] > 0 {
		parts = append(parts, fmt.Sprintf("%s of snow lay on the glazing.", upper(t.depth(r.SnowM[at]))))
	}
	if at >= 24 {
		parts = append(parts, t.losses(r, at-23, at+1))
	}
	return strings.Join(parts, " ")
}

// losses tells which causes took heat and gave it in a day.
func (t Teller) losses(r *greenhouse.Result, from, to int) string {
	own, _ := sides(causes(r, from, to))
	_, lost := sum(own)
	if lost <= 0 {
		return ""
	}
	slices.SortStableFunc(own, func(x, y cause) int {
		switch {
		case x.out > y.out:
			return -1
		case x.out < y.out:
			return 1
		}
		return 0
	})
	var took []string
	for _, c := range own[:min(3, len(own))] {
		if share := c.out / lost; share >= 0.05 {
			took = append(took, fmt.Sprintf("%s %s %%", c.name, number(100*share, 0)))
		}
	}
	return fmt.Sprintf("Of the %s kWh that left the house in the day before, %s.", kWh(lost), list(took))
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

// storeMean is the mean temperature of the water's layers at an hour [°C]; they are of one size within a row.
func storeMean(r *greenhouse.Result, at int) (float64, bool) {
	sum, n := 0.0, 0
	for i := range r.Traces {
		if r.Traces[i].Kind == greenhouse.WaterPlace {
			sum, n = sum+r.Traces[i].C[at], n+1
		}
	}
	return sum / float64(max(1, n)), n > 0
}
