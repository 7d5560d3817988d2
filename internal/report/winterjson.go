package report

import (
	"encoding/json"
	"io"
	"math"
	"time"

	"suncellar/internal/greenhouse"
	"suncellar/internal/plan"
	"suncellar/internal/winter"
)

// Schema names what a JSON answer is.
type Schema struct {
	Name    string `json:"name"`
	Version int    `json:"version"`
}

// datum says from where heights and depths are counted.
const datum = "height_m is above the floor of the house, below it negative; depth_m is below the top of the bed; from_m and until_m run across the house from the inside of the front wall"

// The JSON answer of a winter. All values are SI, temperatures °C; each key ends in its unit. Instants are RFC 3339 with the site's
// offset from UTC, standard time.
type winterJSON struct {
	Schema     Schema           `json:"schema"`
	Plan       string           `json:"plan"`
	From       string           `json:"from"`
	Until      string           `json:"until"`
	Hours      int              `json:"hours"`
	Datum      string           `json:"datum"`
	LimitC     float64          `json:"limit_c"`
	Watched    string           `json:"watched,omitempty"`
	Sentence   string           `json:"sentence"`
	Places     []placeJSON      `json:"places"`
	Snow       snowJSON         `json:"snow"`
	Store      *storeJSON       `json:"store,omitempty"`
	Hot        heatPeaksJSON    `json:"overheating"`
	Old        *oldJSON         `json:"older_house,omitempty"`
	Tubes      []tubesJSON      `json:"tubes,omitempty"`
	Months     []monthJSON      `json:"months"`
	BedLight   []stripJSON      `json:"bed_light"`
	Heat       heatJSON         `json:"heat"`
	Causes     []causeJSON      `json:"causes"`
	Vapour     vapourJSON       `json:"vapour"`
	Water      *waterJSON       `json:"water,omitempty"`
	Air        *airJSON         `json:"air,omitempty"`
	Weather    weatherJSON      `json:"weather"`
	Simplified []simplifiedJSON `json:"simplified"`
	Assumed    []assumedJSON    `json:"assumed"`
	Cautions   []string         `json:"cautions"`
	Work       workJSON         `json:"work"`

	Band     *unitBandJSON `json:"band_of_the_house,omitempty"`
	NoBand   string        `json:"no_band_because,omitempty"`
	Houses   *housesJSON   `json:"drawn_houses,omitempty"`
	NotDrawn string        `json:"not_drawn_because,omitempty"`
}

type placeJSON struct {
	Name                       string   `json:"name"`
	Kind                       string   `json:"kind"`
	HeightM                    *float64 `json:"height_m,omitempty"`
	DepthM                     *float64 `json:"depth_m,omitempty"`
	LowestC                    float64  `json:"lowest_c"`
	LowestAt                   string   `json:"lowest_at"`
	HighestC                   float64  `json:"highest_c"`
	MeanC                      float64  `json:"mean_c"`
	HoursBelowFreezing         int      `json:"hours_below_freezing"`
	DegreeHoursBelowFreezingKh float64  `json:"degree_hours_below_freezing_kh"`
	HoursBelowLimit            int      `json:"hours_below_limit"`
	DegreeHoursBelowLimitKh    float64  `json:"degree_hours_below_limit_kh"`
	LowestWithOtherSnowC       *float64 `json:"lowest_with_other_snow_c,omitempty"`
}

type snowJSON struct {
	Known     bool   `json:"known"`
	Case      string `json:"case"`
	OtherCase string `json:"other_case,omitempty"`
}

type storeJSON struct {
	WaterM3         float64 `json:"water_m3"`
	ReserveLowestJ  float64 `json:"reserve_lowest_j"`
	ReserveLowestAt string  `json:"reserve_lowest_at"`
	IceHighestShare float64 `json:"ice_highest_share"`
}

type monthJSON struct {
	Month           string   `json:"month"`
	Hours           int      `json:"hours"`
	OutdoorLowestC  *float64 `json:"outdoor_lowest_c,omitempty"`
	WatchedLowestC  *float64 `json:"watched_lowest_c,omitempty"`
	BedLightMolM2D  float64  `json:"bed_light_mol_m2d"`
	SunEnteredWh    float64  `json:"sun_entered_wh"`
	WatchedFrostHrs int      `json:"watched_hours_below_freezing"`
}

type heatJSON struct {
	InJ          map[string]float64 `json:"in_j"`
	OutJ         map[string]float64 `json:"out_j"`
	StoredJ      map[string]float64 `json:"stored_j"`
	ImbalanceRel float64            `json:"imbalance_rel"`
	WorstPart    string             `json:"worst_part"`
	WorstJ       float64            `json:"worst_j"`
}

type causeJSON struct {
	Name string  `json:"name"`
	Of   string  `json:"of"` // house or earth
	InJ  float64 `json:"in_j"`
	OutJ float64 `json:"out_j"`
}

type vapourJSON struct {
	InKg     map[string]float64 `json:"in_kg"`
	OutKg    map[string]float64 `json:"out_kg"`
	StoredKg float64            `json:"stored_kg"`
	OpenKg   float64            `json:"open_kg"`
}

// waterJSON is the ledger of the store's water; a litre is 0.9997 kg, ice with it.
type waterJSON struct {
	Bays  []bayJSON `json:"bays"`
	OpenL float64   `json:"open_l"`
}

type bayJSON struct {
	Name   string             `json:"name"`
	StartL float64            `json:"start_l"`
	EndL   float64            `json:"end_l"`
	LevelM float64            `json:"level_end_m"`
	InL    map[string]float64 `json:"in_l"`
	OutL   map[string]float64 `json:"out_l"`
	ShortL float64            `json:"short_l"`
}

func waterAsJSON(a greenhouse.WaterAccount) *waterJSON {
	if len(a.Bays) == 0 {
		return nil
	}
	out := &waterJSON{OpenL: a.OpenL}
	for _, b := range a.Bays {
		out.Bays = append(out.Bays, bayJSON{b.Name, b.StartL, b.EndL, b.LevelM, b.InL, b.OutL, b.ShortL})
	}
	return out
}

type weatherJSON struct {
	Name  string   `json:"name"`
	Made  bool     `json:"made"`
	Seed  *int     `json:"seed,omitempty"`
	Notes []string `json:"notes"`
}

type simplifiedJSON struct {
	Item string `json:"item"`
	How  string `json:"how"`
}

type assumedJSON struct {
	Path   string `json:"path"`
	Value  string `json:"value"`
	Source string `json:"source"`
}

type workJSON struct {
	Nodes         int     `json:"nodes"`
	Cells         int     `json:"cells"`
	Hours         int     `json:"hours"`
	Steps         int     `json:"steps"`
	Rejected      int     `json:"rejected"`
	Solves        int     `json:"solves"`
	SolvesPerHour float64 `json:"solves_per_hour"`
}

// WinterJSON writes a winter as one JSON object, with what is not known of the house. Errors: a failed write; a value that is not finite.
func WinterJSON(w io.Writer, a *winter.Answer, of OfHouse) error {
	out := winterAsJSON(a)
	out.Sentence = Teller{}.firstSentence(a, of)
	out.Band, out.NoBand = bandAsJSON(of.Order), of.Why
	out.Houses, out.NotDrawn = housesAsJSON(of.Drawn), of.WhyNotDrawn
	return WriteJSON(w, out)
}

func winterAsJSON(a *winter.Answer) winterJSON {
	r := a.Result
	out := winterJSON{
		Schema: Schema{"suncellar.winter", 1}, Plan: a.Plan.Name, Hours: r.Hours(), Datum: datum, LimitC: a.LimitC,
		From: stamp(local(a, r.Start)), Until: stamp(local(a, r.Time(r.Hours()-1))),
		Snow:    snowJSON{a.SnowKnown, a.SnowCase, a.OtherCase},
		Heat:    heatJSON{r.Heat.InJ, r.Heat.OutJ, r.Heat.StoredJ, r.Heat.ImbalanceRel, r.Heat.WorstPart, r.Heat.WorstJ},
		Vapour:  vapourJSON{r.Vapour.InKg, r.Vapour.OutKg, r.Vapour.StoredKg, r.Vapour.OpenKg},
		Water:   waterAsJSON(r.Water),
		Air:     airAsJSON(r),
		Weather: weatherOf(a.Prepared),
		Assumed: assumed(a.Assumed), Cautions: cautions(a), Causes: []causeJSON{}, Simplified: simplified(a.Simplified),
		Work: workJSON{r.Work.Nodes, r.Work.Cells, r.Work.Hours, r.Work.Steps, r.Work.Rejected, r.Work.Solves, r.Work.SolvesPerHour},
	}
	if a.Watched >= 0 {
		out.Watched = a.Places[a.Watched].Name
	}
	for i := range a.Places {
		out.Places = append(out.Places, placeAsJSON(a, i))
	}
	for _, m := range monthsOf(a) {
		out.Months = append(out.Months, m.asJSON(a))
	}
	out.BedLight = stripsAsJSON(a)
	out.Store = storeAsJSON(a)
	out.Hot, out.Old = heatAsJSON(a), oldAsJSON(a)
	out.Tubes = tubesAsJSON(a.Tubes)
	for _, c := range causes(r, 0, r.Hours()) {
		of := "house"
		if c.earth {
			of = "earth"
		}
		out.Causes = append(out.Causes, causeJSON{c.name, of, c.in, c.out})
	}
	return out
}

// WriteJSON writes a value as JSON for programs and for people who look into it.
func WriteJSON(w io.Writer, v any) error {
	e := json.NewEncoder(w)
	e.SetIndent("", "  ")
	e.SetEscapeHTML(false)
	return e.Encode(v)
}

func stamp(at time.Time) string { return at.Format(time.RFC3339) }

func assumed(values []plan.Value) []assumedJSON {
	out := []assumedJSON{}
	for _, v := range values {
		out = append(out, assumedJSON{v.Path, v.Text, v.Source})
	}
	return out
}

func simplified(items []winter.Simplification) []simplifiedJSON {
	out := []simplifiedJSON{}
	for _, s := range items {
		out = append(out, simplifiedJSON{s.Item, s.How})
	}
	return out
}

func weatherOf(p *winter.Prepared) weatherJSON {
	out := weatherJSON{Name: p.Year.Name, Made: p.Made, Notes: []string{}}
	if p.Made {
		out.Seed = &p.Plan.Run.Seed
	}
	for _, n := range p.Year.Notes {
		out.Notes = append(out.Notes, n.String())
	}
	return out
}

func placeAsJSON(a *winter.Answer, i int) placeJSON {
	p := &a.Places[i]
	out := placeJSON{Name: p.Name, Kind: string(p.Kind), LowestC: p.LowestC, LowestAt: stamp(local(a, p.LowestAt)), HighestC: p.HighestC, MeanC: p.MeanC,
		HoursBelowFreezing: p.HoursBelowZero, DegreeHoursBelowFreezingKh: p.KhBelowZero, HoursBelowLimit: p.HoursBelowLimit, DegreeHoursBelowLimitKh: p.KhBelowLimit}
	if p.InSoil {
		out.DepthM = &p.DepthM
	} else {
		out.HeightM = &p.HeightM
	}
	if a.Other != nil {
		c, _ := a.Other.Traces[i].Lowest()
		out.LowestWithOtherSnowC = &c
	}
	return out
}

func storeAsJSON(a *winter.Answer) *storeJSON {
	if a.House.Water() == 0 {
		return nil
	}
	least, ice := reserve(a.Result)
	return &storeJSON{a.House.Water(), a.Result.ReserveJ[least], stamp(local(a, a.Result.Time(least))), ice}
}

// reserve is the hour at which the store's heat above 0 °C is least, and the most of it that is ice at any hour.
func reserve(r *greenhouse.Result) (least int, ice float64) {
	for i, j := range r.ReserveJ {
		if j < r.ReserveJ[least] {
			least = i
		}
		ice = math.Max(ice, r.IceShare[i])
	}
	return least, ice
}

func (m *month) asJSON(a *winter.Answer) monthJSON {
	return monthJSON{Month: m.begin.Format("2006-01"), Hours: m.hours, OutdoorLowestC: finite(m.outdoor), WatchedLowestC: finite(m.watched),
		BedLightMolM2D: m.mol / float64(m.hours) * 24, SunEnteredWh: m.sunWh, WatchedFrostHrs: m.watchedBelow}
}
