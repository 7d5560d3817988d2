package cropwater

import "math"

// Crop is what the paper has of a crop.
type Crop struct {
	Name             string
	Ini, Mid, End    float64    // crop coefficient Kc, soil and leaves together; table 12
	BasalIni         float64    // of leaves alone, Kcb; table 17
	BasalMid         float64    //
	BasalEnd         float64    //
	Days             [4]float64 // initial, development, mid-season, late; table 11
	Roots, DeepRoots float64    // range of the greatest depth of roots [m]; table 22
	Easy             float64    // p at 5 mm a day; table 22
	As               string     // the crop or group of the paper whose figures these are, where it does not have this one
}

// crops are rows of the paper; of table 11 that of an autumn or winter sowing where there is one. A crop that the paper lacks has the figures of
// a relative. Tables seen as transcribed in open code.
// Source: FAO paper 56, tables 11, 12, 17 and 22.
var crops = [...]Crop{
	{"small vegetables", 0.7, 1.05, 0.95, 0.15, 0.95, 0.85, [4]float64{30, 35, 90, 40}, 0.3, 0.5, 0.30, "small vegetables; stages of crucifers, roots of lettuce, the shallowest"},
	{"salad greens", 0.7, 1.00, 0.95, 0.15, 0.90, 0.85, [4]float64{20, 30, 40, 10}, 0.3, 0.5, 0.20, "spinach"},
	{"lettuce", 0.7, 1.00, 0.95, 0.15, 0.90, 0.90, [4]float64{30, 40, 25, 10}, 0.3, 0.5, 0.30, ""},
	{"spinach", 0.7, 1.00, 0.95, 0.15, 0.90, 0.85, [4]float64{20, 30, 40, 10}, 0.3, 0.5, 0.20, ""},
	{"chard", 0.7, 1.05, 0.95, 0.15, 0.95, 0.85, [4]float64{25, 30, 25, 10}, 0.6, 1.0, 0.50, "small vegetables; stages and roots of table beets"},
	{"kale", 0.7, 1.05, 0.95, 0.15, 0.95, 0.85, [4]float64{40, 60, 50, 15}, 0.4, 0.6, 0.45, "cabbage; roots of Brussels sprouts"},
	{"cabbage", 0.7, 1.05, 0.95, 0.15, 0.95, 0.85, [4]float64{40, 60, 50, 15}, 0.5, 0.8, 0.45, ""},
	{"broccoli", 0.7, 1.05, 0.95, 0.15, 0.95, 0.85, [4]float64{35, 45, 40, 15}, 0.4, 0.6, 0.45, ""},
	{"cauliflower", 0.7, 1.05, 0.95, 0.15, 0.95, 0.85, [4]float64{35, 50, 40, 15}, 0.4, 0.7, 0.45, ""},
	{"celery", 0.7, 1.05, 1.00, 0.15, 0.95, 0.90, [4]float64{25, 40, 95, 20}, 0.3, 0.5, 0.20, ""},
	{"carrots", 0.7, 1.05, 0.95, 0.15, 0.95, 0.85, [4]float64{30, 50, 90, 30}, 0.5, 1.0, 0.35, ""},
	{"radishes", 0.7, 0.90, 0.85, 0.15, 0.85, 0.75, [4]float64{10, 10, 15, 5}, 0.3, 0.5, 0.30, ""},
	{"beets", 0.5, 1.05, 0.95, 0.15, 0.95, 0.85, [4]float64{25, 30, 25, 10}, 0.6, 1.0, 0.50, ""},
	{"turnips", 0.5, 1.10, 0.95, 0.15, 1.00, 0.85, [4]float64{25, 30, 25, 10}, 0.5, 1.0, 0.50, "turnips; stages of table beets"},
	{"parsnips", 0.5, 1.05, 0.95, 0.15, 0.95, 0.85, [4]float64{30, 50, 90, 30}, 0.5, 1.0, 0.40, "parsnips; stages of carrots"},
	{"potatoes", 0.5, 1.15, 0.75, 0.15, 1.10, 0.65, [4]float64{25, 30, 40, 30}, 0.4, 0.6, 0.35, ""},
	{"onions", 0.7, 1.05, 0.75, 0.15, 0.95, 0.65, [4]float64{20, 35, 110, 45}, 0.3, 0.6, 0.30, ""},
	{"green onions", 0.7, 1.00, 1.00, 0.15, 0.90, 0.90, [4]float64{20, 45, 20, 10}, 0.3, 0.6, 0.30, ""},
	{"garlic", 0.7, 1.00, 0.70, 0.15, 0.90, 0.60, [4]float64{20, 35, 110, 45}, 0.3, 0.5, 0.30, "garlic; stages of dry onions"},
	{"peas", 0.5, 1.15, 1.10, 0.15, 1.10, 1.05, [4]float64{35, 25, 30, 20}, 0.6, 1.0, 0.35, ""},
	{"broad beans", 0.5, 1.15, 1.10, 0.15, 1.10, 1.05, [4]float64{90, 45, 40, 0}, 0.5, 0.7, 0.45, ""},
	{"green beans", 0.5, 1.05, 0.90, 0.15, 1.00, 0.80, [4]float64{20, 30, 30, 10}, 0.5, 0.7, 0.45, ""},
	{"strawberries", 0.40, 0.85, 0.75, 0.30, 0.80, 0.70, [4]float64{30, 35, 90, 40}, 0.2, 0.3, 0.20, "strawberries; stages of crucifers"},
	{"herbs", 0.60, 1.15, 1.10, 0.40, 1.10, 1.05, [4]float64{30, 35, 90, 40}, 0.4, 0.8, 0.40, "mint; stages of crucifers"},
	{"tomatoes", 0.6, 1.15, 0.80, 0.15, 1.10, 0.70, [4]float64{35, 45, 70, 30}, 0.7, 1.5, 0.40, ""},
	{"peppers", 0.6, 1.05, 0.90, 0.15, 1.00, 0.80, [4]float64{30, 40, 110, 30}, 0.5, 1.0, 0.30, ""},
	{"eggplants", 0.6, 1.05, 0.90, 0.15, 1.00, 0.80, [4]float64{30, 40, 40, 20}, 0.7, 1.2, 0.45, ""},
	{"cucumbers", 0.6, 1.00, 0.75, 0.15, 0.95, 0.70, [4]float64{25, 35, 50, 20}, 0.7, 1.2, 0.50, ""},
	{"zucchini", 0.5, 0.95, 0.75, 0.15, 0.90, 0.70, [4]float64{25, 35, 25, 15}, 0.6, 1.0, 0.50, ""},
}

// CropNames are the crops that CropOf knows, in the order of the table.
func CropNames() []string {
	names := make([]string, len(crops))
	for i := range crops {
		names[i] = crops[i].Name
	}
	return names
}

// CropOf is the crop of a name; false for one that is not known.
func CropOf(name string) (Crop, bool) {
	for _, c := range crops {
		if c.Name == name {
			return c, true
		}
	}
	return Crop{}, false
}

// Coefficient is Kc so many days after sowing or planting: that of the initial stage, a straight line to mid-season, level, and a straight line to the end, where it
// stays; before the first day that of the initial stage, which is bare soil.
// Source: FAO paper 56, eq. 66.
func (c *Crop) Coefficient(day float64) float64 { return c.course(day, c.Ini, c.Mid, c.End) }

// Basal is Kcb on the same course: what leaves alone give over a soil whose face is dry.
// Source: FAO paper 56, eq. 66, table 17.
func (c *Crop) Basal(day float64) float64 { return c.course(day, c.BasalIni, c.BasalMid, c.BasalEnd) }

func (c *Crop) course(day, ini, mid, end float64) float64 {
	d := &c.Days
	switch full := d[0] + d[1]; {
	case day <= d[0]:
		return ini
	case day < full:
		return ini + (day-d[0])/d[1]*(mid-ini)
	case day <= full+d[2] || d[3] == 0:
		return mid
	default:
		return mid + math.Min(1, (day-full-d[2])/d[3])*(end-mid)
	}
}

// youngRoots is the depth that roots draw from until the plants cover a tenth of their ground [m].
// Source: FAO paper 56, annex 8; from memory.
const youngRoots = 0.15

// RootsM is how deep roots draw so many days after sowing, full of those of the grown crop: from 0.15 m at first in a straight line through initial stage and development.
func (c *Crop) RootsM(day, full float64) float64 {
	young := math.Min(youngRoots, full)
	return young + (full-young)*math.Max(0, math.Min(1, day/(c.Days[0]+c.Days[1])))
}
