package report

import (
	"fmt"
	"io"
	"strings"
	"time"

	"suncellar/internal/drill"
)

// Footing tells on which days a bay could stand empty.
func (t Teller) Footing(a *drill.FootingAnswer) string {
	p := &page{}
	p.say(fmt.Sprintf("%s, what %s stands on mended in winter", a.Winter.Plan.Name, a.Bay))
	p.gap()
	for _, s := range t.FootingSentences(a) {
		p.say(s)
	}
	p.head("Begins that were tried, lowest of all leaves until three days after the work, " + t.degree())
	tab := newTable([]string{"begin", "bay full", "bay empty", "air at the floor", ""})
	for i := range a.Begins {
		b := &a.Begins[i]
		tab.row(local(a.Winter, b.Begin).Format("2 Jan"), t.figure(b.LowestC[0]), t.figure(b.LowestC[1]), t.figure(b.FloorC), footingWord(b))
	}
	p.table(tab)
	p.head("Before you rely on it")
	for _, c := range a.Cautions {
		p.item(c)
	}
	return p.String()
}

func footingWord(b *drill.FootingBegin) string {
	switch {
	case b.Open && b.Sets:
		return "open"
	case b.Open:
		return "open, if the cement is kept warm"
	}
	return "no"
}

// FootingSentences are the spans of begins that are open.
func (t Teller) FootingSentences(a *drill.FootingAnswer) []string {
	var spans []string
	from := -1
	day := func(i int) string { return local(a.Winter, a.Begins[i].Begin).Format("2 January") }
	for i := 0; i <= len(a.Begins); i++ {
		if i < len(a.Begins) && a.Begins[i].Open {
			if from < 0 {
				from = i
			}
			continue
		}
		if from >= 0 {
			if i-1 == from {
				spans = append(spans, day(from))
			} else {
				spans = append(spans, day(from)+" to "+day(i-1))
			}
			from = -1
		}
	}
	bay := fmt.Sprintf("%s (%s)", a.Bay, t.water(a.WaterM3))
	if len(spans) == 0 {
		return []string{fmt.Sprintf("On no day of this winter that was tried could %s begin to stand empty for %s without a leaf coming within %s of its limit: wait for spring, or cover the beds as well.", bay, count(a.Days, "day"), t.span(2))}
	}
	return []string{fmt.Sprintf("%s can stand empty for %s in this winter, no leaf coming within %s of its limit, if the work begins on %s. Between the days that were tried nothing is known.", upper(bay), count(a.Days, "day"), t.span(2), strings.Join(spans, "; on "))}
}

type footingWorkJSON struct {
	Schema    Schema             `json:"schema"`
	Plan      string             `json:"plan"`
	Bay       string             `json:"bay"`
	Days      int                `json:"days"`
	WaterM3   float64            `json:"water_m3"`
	Sentences []string           `json:"sentences"`
	Begins    []footingBeginJSON `json:"begins"`
	Cautions  []string           `json:"cautions"`
}

type footingBeginJSON struct {
	Begin   string     `json:"begin"`
	LowestC [2]float64 `json:"lowest_c"` // with the bay full, empty
	FloorC  float64    `json:"floor_c"`
	Open    bool       `json:"open"`
	Sets    bool       `json:"cement_sets"`
}

// FootingJSON writes the answer for programs.
func FootingJSON(w io.Writer, a *drill.FootingAnswer) error {
	out := footingWorkJSON{Schema: Schema{"suncellar.footing", 1}, Plan: a.Winter.Plan.Name, Bay: a.Bay, Days: a.Days, WaterM3: a.WaterM3, Sentences: Teller{}.FootingSentences(a), Cautions: a.Cautions}
	for i := range a.Begins {
		b := &a.Begins[i]
		out.Begins = append(out.Begins, footingBeginJSON{b.Begin.Format(time.RFC3339), b.LowestC, b.FloorC, b.Open, b.Sets})
	}
	return WriteJSON(w, out)
}
