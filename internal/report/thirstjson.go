package report

import (
	"encoding/csv"
	"io"

	"suncellar/internal/thirst"
)

// The JSON answer of what beds drink. Water is in mm (a litre on a square metre) and L; a day is a calendar day in the site's standard time.
type thirstJSON struct {
	Schema    Schema           `json:"schema"`
	Plan      string           `json:"plan"`
	From      string           `json:"from"`
	Until     string           `json:"until"`
	Days      int              `json:"days"`
	Sentences []string         `json:"sentences"`
	NeedL     float64          `json:"need_l"`
	LeavesL   float64          `json:"need_of_leaves_l"`
	WateredL  float64          `json:"to_be_given_l"`
	DrawnL    float64          `json:"drawn_by_plan_l"`
	Booked    bookedThirstJSON `json:"booked_by_the_winter"`
	Beds      []thirstyBedJSON `json:"beds"`
	RestsOn   []simplifiedJSON `json:"rests_on"`
	Assumed   []assumedJSON    `json:"assumed"`
	Cautions  []string         `json:"cautions"`
	Weather   weatherJSON      `json:"weather"`
}

type bookedThirstJSON struct {
	LeavesL float64 `json:"leaves_l"`
	SoilL   float64 `json:"soil_l"`
}

type thirstyBedJSON struct {
	Name      string           `json:"name"`
	AreaM2    float64          `json:"area_m2"`
	Crop      string           `json:"crop"`
	FiguresOf string           `json:"figures_of,omitempty"`
	Sown      string           `json:"sown,omitempty"`
	Soil      string           `json:"soil"`
	Capacity  float64          `json:"field_capacity_m3_m3"`
	Wilting   float64          `json:"wilting_point_m3_m3"`
	RootsM    float64          `json:"roots_m"`
	NeedMM    float64          `json:"need_mm"`
	NeedL     float64          `json:"need_l"`
	LostMM    float64          `json:"lost_mm"`
	DrainedMM float64          `json:"drained_mm"`
	Booked    bookedThirstJSON `json:"booked_by_the_winter"`
	Waterings []wateringJSON   `json:"waterings"`
	Days      []thirstDay      `json:"by_day"`
}

type wateringJSON struct {
	Day   string  `json:"day"`
	MM    float64 `json:"water_mm"`
	L     float64 `json:"water_l"`
	SoilC float64 `json:"soil_lowest_c"`
	LateD int     `json:"late_days"`
}

type thirstDay struct {
	Day         string           `json:"day"`
	AirC        float64          `json:"air_c"`
	LightMolM2  float64          `json:"light_mol_m2"`
	ReferenceMM float64          `json:"reference_mm"`
	Coefficient float64          `json:"crop_coefficient"`
	NeedMM      float64          `json:"need_mm"`
	LostMM      float64          `json:"lost_mm"`
	DrawnMM     float64          `json:"drawn_by_plan_mm"`
	WateredMM   float64          `json:"to_be_given_mm"`
	LacksMM     float64          `json:"lacking_mm"`
	EasyMM      float64          `json:"drawn_with_ease_mm"`
	AvailableMM float64          `json:"available_mm"`
	SoilC       float64          `json:"soil_lowest_c"`
	Booked      bookedThirstJSON `json:"booked_by_the_winter"`
}

const dayStamp = "2006-01-02"

// ThirstJSON writes what beds drink as one JSON object. Errors: a failed write; a value that is not finite.
func ThirstJSON(w io.Writer, a *thirst.Answer) error {
	win := a.Winter
	out := thirstJSON{Schema: Schema{"suncellar.thirst", 1}, Plan: win.Plan.Name, Days: a.Days,
		From: stamp(local(win, win.Result.Start)), Until: stamp(local(win, win.Result.Time(24*a.Days-1))),
		Sentences: Teller{}.ThirstSentences(a), NeedL: a.NeedL(), LeavesL: a.LeavesL(), WateredL: a.WateredL(), DrawnL: a.PlannedL(),
		Booked: bookedThirstJSON(a.Booked), RestsOn: []simplifiedJSON{}, Assumed: assumed(a.Assumed), Cautions: a.Cautions, Weather: weatherOf(win.Prepared)}
	for _, c := range a.Choices {
		out.RestsOn = append(out.RestsOn, simplifiedJSON{c.Item, c.How})
	}
	for i := range a.Beds {
		out.Beds = append(out.Beds, thirstyBed(&a.Beds[i]))
	}
	return WriteJSON(w, out)
}

func thirstyBed(b *thirst.Bed) thirstyBedJSON {
	out := thirstyBedJSON{Name: b.Name, AreaM2: b.AreaM2, Crop: b.Crop.Name, FiguresOf: b.Crop.As, Soil: b.Soil.Texture, Capacity: b.Soil.Capacity, Wilting: b.Soil.Wilting(),
		RootsM: b.RootsM, NeedMM: b.NeedMM, NeedL: b.NeedMM * b.AreaM2, LostMM: b.LostMM, DrainedMM: b.DrainedMM, Booked: bookedThirstJSON(b.Booked), Waterings: []wateringJSON{}}
	if b.Sown != nil {
		out.Sown = b.Sown.Format(dayStamp)
	}
	for _, w := range b.Waterings {
		out.Waterings = append(out.Waterings, wateringJSON{w.Begin.Format(dayStamp), w.MM, w.Litres, w.SoilC, w.LateD})
	}
	for i := range b.Days {
		d := &b.Days[i]
		out.Days = append(out.Days, thirstDay{d.Begin.Format(dayStamp), d.AirC, d.LightMol, d.ReferenceMM, d.Coefficient, d.NeedMM, d.LostMM, d.PlannedMM, d.WateredMM, d.LacksMM, d.EasyMM, d.AvailableMM, d.SoilC, bookedThirstJSON(d.Booked)})
	}
	return out
}

// ThirstCSV writes every day of every bed as CSV, in SI with units in the heads. Errors: a failed write.
func ThirstCSV(w io.Writer, a *thirst.Answer) error {
	rows := [][]string{{"day", "bed", "crop", "air at bed level [degC]", "light [mol/m2]", "reference [mm]", "crop coefficient", "need [mm]", "need [L]", "lost [mm]", "drawn by the plan [mm]", "to be given [mm]", "to be given [L]",
		"lacking at the end [mm]", "drawn with ease [mm]", "available [mm]", "soil at 5 cm, lowest [degC]", "booked by the winter, leaves [L]", "booked by the winter, soil [L]"}}
	for i := range a.Beds {
		b := &a.Beds[i]
		for k := range b.Days {
			d := &b.Days[k]
			row := []string{d.Begin.Format(dayStamp), b.Name, b.Crop.Name}
			for _, v := range []float64{d.AirC, d.LightMol, d.ReferenceMM, d.Coefficient, d.NeedMM, d.NeedMM * b.AreaM2, d.LostMM, d.PlannedMM, d.WateredMM, d.WateredMM * b.AreaM2, d.LacksMM, d.EasyMM, d.AvailableMM, d.SoilC, d.Booked.LeavesL, d.Booked.SoilL} {
				row = append(row, figureSI(v))
			}
			rows = append(rows, row)
		}
	}
	return csv.NewWriter(w).WriteAll(rows)
}
