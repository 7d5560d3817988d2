package report

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"

	"suncellar/internal/drawing"
	"suncellar/internal/plan"
	"suncellar/internal/unit"
	"suncellar/internal/worth"
)

// Compare tells to people what each change is worth, and beside it what is not known of the house and, where costs are not nil, what it costs.
func (t Teller) Compare(a *worth.Answer, of OfPairs, costs *Costs) string {
	p := &page{}
	p.say(fmt.Sprintf("%s, %s: %s", a.First.Plan.Name, span(a.First), weatherWords(a.First)))
	p.gap()
	p.say(t.mostWorth(a))
	if s := t.pairSentence(a, of); s != "" {
		p.say(s)
	}
	if s := t.costSentence(a, costs); s != "" {
		p.say(s)
	}
	p.say(fmt.Sprintf("Without any change the lowest of %s is %s, on %s, %s. The worst night is that night, %s to %s, noon to noon.", within(a.Place), t.temp(a.Base.LowestC),
		when(local(a.First, a.Base.LowestAt)), t.snowWords(a.Base.SnowCase), local(a.First, a.Night[0]).Format("2 January"), local(a.First, a.Night[1]).Format("2 January")))
	p.say("How sure: " + t.sureOfLowest(a, of) + "A difference is surer than either lowest, and other winters have other worst nights.")
	p.head("What each change does at " + a.Place)
	d := t.degree()
	tab := newTable([]string{"", "own", "change", "change on", "hours", "light", "water"}, []string{"", "lowest", "of it", "worst night", "below", "mol/m²", t.waterUnit()},
		[]string{"change", d, d, d, t.figure(a.LimitC) + " " + d, "a day", ""})
	tab.row("as planned", t.figure(a.Base.LowestC), "", "", fmt.Sprint(a.Base.HoursBelow), number(a.Base.LightMol, 1), t.waterFigure(a.Base.WaterM3))
	for i := range a.Rows {
		t.compareRow(tab, a, &a.Rows[i])
	}
	p.table(tab)
	p.say("Change of it: between the two lowests, whenever each comes. Change on worst night: between the lowest of both plans in the first plan's worst night. Hours, light and water: more or less than planned.")
	t.pairs(p, a, of)
	t.costs(p, a, costs)
	notes := t.compareNotes(a)
	if len(notes) > 0 {
		p.head("To be known with it")
		for _, n := range notes {
			p.item(n)
		}
	}
	p.head("Before you rely on it")
	for _, c := range cautionsWith(a.First, a.Cautions) {
		p.item(c)
	}
	p.say("What the physics simplifies and what the plan leaves to assumptions is told by 'suncellar simulate' and in --json.")
	return p.String()
}

// sureOfLowest is how sure the plan's own lowest is.
func (t Teller) sureOfLowest(a *worth.Answer, of OfPairs) string {
	b := of.best()
	if b == nil {
		return "one winter and one set of inputs. "
	}
	return fmt.Sprintf("in 8 of 10 houses built like this one the lowest without any change is %s in this same winter (%s). %s ", t.between(b.Base.Lo, b.Base.Hi), pairsBy(b), t.bandMeans(b.Base.Lo, a.Base.LowestC, b.Base.Hi, a.LimitC))
}

// bestRow is the change that does most on the worst night, -1 where none could be compared.
func bestRow(a *worth.Answer) int {
	best := -1
	for i := range a.Rows {
		if r := &a.Rows[i]; r.Err == nil && r.HasNight && (best < 0 || r.By.NightK > a.Rows[best].By.NightK) {
			best = i
		}
	}
	return best
}

// mostWorth is the first sentence: which change does most on the worst night.
func (t Teller) mostWorth(a *worth.Answer) string {
	best := bestRow(a)
	if best < 0 {
		return "None of the changes could be compared on the worst night."
	}
	r := &a.Rows[best]
	if r.By.NightK <= 0 {
		return fmt.Sprintf("None of the changes makes the worst night warmer at %s, %s.", a.Place, oneWinter)
	}
	most := "does most"
	if len(a.Rows) == 1 {
		most = "does it"
	}
	return fmt.Sprintf("%s %s: the worst night is %s warmer by it at %s, %s.", r.Variant.Name(), most, t.span(r.By.NightK), a.Place, oneWinter)
}

func (t Teller) waterUnit() string {
	if t.System == unit.US {
		return "gal"
	}
	return "L"
}

func (t Teller) waterFigure(m3 float64) string {
	return strings.TrimSuffix(t.water(m3), " "+t.waterUnit())
}

func (t Teller) compareRow(tab *table, a *worth.Answer, r *worth.Row) {
	if r.Err != nil {
		tab.row(r.Variant.Name(), "not computed")
		return
	}
	diff := func(k float64) string { return signed(unit.InMain(unit.TemperatureDifference, k, t.System), 1) }
	cells := []string{r.Variant.Name(), "", "", "", "", signed(r.By.LightMol, 1), plus(t.waterFigure(r.By.WaterM3))}
	if r.HasPlace {
		cells[1], cells[2], cells[4] = t.figure(r.Figures.LowestC), diff(r.By.LowestK), signed(float64(r.By.HoursBelow), 0)
	}
	if r.HasNight {
		cells[3] = diff(r.By.NightK)
	}
	tab.row(cells...)
}

// plus gives a figure its sign.
func plus(figure string) string {
	if strings.HasPrefix(figure, "-") || strings.Trim(figure, "0.") == "" {
		return figure
	}
	return "+" + figure
}

func (t Teller) compareNotes(a *worth.Answer) []string {
	var list []string
	for i := range a.Rows {
		r := &a.Rows[i]
		if r.Err != nil {
			list = append(list, r.Variant.Name()+": not computed, see the error")
		}
		for _, n := range r.Notes {
			list = append(list, r.Variant.Name()+": "+n)
		}
		if r.Winter != nil {
			for k := range r.Winter.Tubes {
				list = append(list, r.Variant.Name()+": "+t.tubesNote(&r.Winter.Tubes[k]))
			}
		}
		for _, f := range r.Findings {
			if f.Severity == plan.Warning {
				list = append(list, r.Variant.Name()+": "+f.Message)
			}
		}
	}
	return list
}

// ComparePictures draws the worth of each change on the worst night, the most first; none where nothing could be compared.
func (t Teller) ComparePictures(a *worth.Answer, of OfPairs, costs *Costs) ([]Picture, error) {
	in := drawing.Compare{Title: "What each change is worth on the worst night", Sentence: fmt.Sprintf("%s: %s on %s as planned, in this one winter.",
		upper(a.Place), minus(t.temp(a.Base.LowestC)), local(a.First, a.Base.LowestAt).Format("2 January"))}
	for i := range a.Rows {
		if r := &a.Rows[i]; r.Err == nil && r.HasNight {
			c := drawing.Change{Name: r.Variant.Name(), K: r.By.NightK, Lo: r.By.NightK, Hi: r.By.NightK, Note: "change of the lowest " + minus(t.difference(r.By.LowestK))}
			if cost := costs.of(i); cost != nil {
				c.Cost = costWords(costs.List, cost)
			}
			if b := of.best(); b != nil && b.Rows[i].HasNight {
				c.Lo, c.Hi = min(c.K, b.Rows[i].Night.Lo), max(c.K, b.Rows[i].Night.Hi)
			}
			in.Changes = append(in.Changes, c)
		}
	}
	if len(in.Changes) == 0 {
		return nil, nil
	}
	slices.SortStableFunc(in.Changes, func(x, y drawing.Change) int { return cmp.Compare(y.K, x.K) })
	if b := of.best(); b != nil {
		in.Sentence += " Bands: 8 in 10 houses built like this one, " + pairsBy(b) + "."
	}
	l, err := drawing.DrawCompare(in, t.Frame())
	if err != nil {
		return nil, fmt.Errorf("picture compare.svg: %w", err)
	}
	return []Picture{{"compare.svg", l}}, nil
}

// The JSON answer of a comparison.
type compareJSON struct {
	Schema     Schema           `json:"schema"`
	Plan       string           `json:"plan"`
	Place      string           `json:"place"`
	LimitC     float64          `json:"limit_c"`
	Sentence   string           `json:"sentence"`
	Night      nightJSON        `json:"worst_night"`
	AsPlanned  figuresJSON      `json:"as_planned"`
	Changes    []changeJSON     `json:"changes"`
	Band       *pairsJSON       `json:"band_of_the_house,omitempty"`
	NoBand     string           `json:"no_band_because,omitempty"`
	Houses     *pairsJSON       `json:"drawn_houses,omitempty"`
	NotDrawn   string           `json:"not_drawn_because,omitempty"`
	Weather    weatherJSON      `json:"weather"`
	Simplified []simplifiedJSON `json:"simplified"`
	Assumed    []assumedJSON    `json:"assumed"`
	Cautions   []string         `json:"cautions"`
}

type nightJSON struct {
	From  string `json:"from"`
	Until string `json:"until"`
}

type figuresJSON struct {
	LowestC    float64 `json:"lowest_c"`
	LowestAt   string  `json:"lowest_at"`
	NightC     float64 `json:"worst_night_lowest_c"`
	MeanC      float64 `json:"mean_c"`
	HoursBelow int     `json:"hours_below_limit"`
	WaterM3    float64 `json:"water_m3"`
	LightMol   float64 `json:"bed_light_mol_m2d"`
	SnowCase   string  `json:"snow_case"`
}

type changeJSON struct {
	Name     string       `json:"name"`
	Set      []setJSON    `json:"set"`
	Error    string       `json:"error,omitempty"`
	HasPlace bool         `json:"has_place"`
	HasNight bool         `json:"has_worst_night"`
	Tubes    []tubesJSON  `json:"tubes,omitempty"`
	Figures  *figuresJSON `json:"figures,omitempty"`
	By       *byJSON      `json:"by,omitempty"`
	Cost     *costJSON    `json:"cost,omitempty"`
	Notes    []string     `json:"notes"`
}

type setJSON struct {
	Path  string `json:"path"`
	Value string `json:"value"`
}

type byJSON struct {
	LowestK    *float64 `json:"lowest_k,omitempty"`
	NightK     *float64 `json:"worst_night_k,omitempty"`
	MeanK      *float64 `json:"mean_k,omitempty"`
	HoursBelow *int     `json:"hours_below_limit,omitempty"`
	WaterM3    float64  `json:"water_m3"`
	LightMol   float64  `json:"bed_light_mol_m2d"`
}

// CompareJSON writes a comparison as one JSON object.
func CompareJSON(w io.Writer, a *worth.Answer, of OfPairs, costs *Costs) error {
	first := a.First
	out := compareJSON{Schema: Schema{"suncellar.compare", 1}, Plan: first.Plan.Name, Place: a.Place, LimitC: a.LimitC, Sentence: Teller{}.mostWorth(a),
		Night: nightJSON{stamp(local(first, a.Night[0])), stamp(local(first, a.Night[1]))}, AsPlanned: figuresAsJSON(a, a.Base), Changes: []changeJSON{},
		Weather: weatherOf(first.Prepared), Simplified: simplified(a.Simplified), Assumed: assumed(first.Assumed), Cautions: cautionsWith(first, a.Cautions)}
	for i := range a.Rows {
		change := changeAsJSON(a, &a.Rows[i])
		change.Cost = costAsJSON(&a.Rows[i], costs, i)
		out.Changes = append(out.Changes, change)
	}
	out.Band, out.NoBand = pairsAsJSON(a, of.Order)
	out.Houses, out.NotDrawn = pairsAsJSON(a, of.Drawn)
	return WriteJSON(w, out)
}

func figuresAsJSON(a *worth.Answer, f worth.Figures) figuresJSON {
	return figuresJSON{f.LowestC, stamp(local(a.First, f.LowestAt)), f.NightC, f.MeanC, f.HoursBelow, f.WaterM3, f.LightMol, f.SnowCase}
}

func changeAsJSON(a *worth.Answer, r *worth.Row) changeJSON {
	out := changeJSON{Name: r.Variant.Name(), HasPlace: r.HasPlace, HasNight: r.HasNight, Notes: append([]string{}, r.Notes...)}
	for _, c := range r.Variant.Changes {
		out.Set = append(out.Set, setJSON{c.Path, c.Value})
	}
	if r.Err != nil {
		out.Error = r.Err.Error()
		return out
	}
	out.Tubes = tubesAsJSON(r.Winter.Tubes)
	out.By = &byJSON{WaterM3: r.By.WaterM3, LightMol: r.By.LightMol}
	if r.HasPlace {
		f := figuresAsJSON(a, r.Figures)
		out.Figures = &f
		out.By.LowestK, out.By.MeanK, out.By.HoursBelow = &r.By.LowestK, &r.By.MeanK, &r.By.HoursBelow
	}
	if r.HasNight {
		out.By.NightK = &r.By.NightK
	}
	return out
}
