package validation

import (
	"suncellar/internal/plan"
	"suncellar/internal/sun"
)

// The sites of the measured soils and snow: what is known of each place, written and committed before the first run and not changed
// since (see sitesFixed in soil_test.go). Temperatures of the soil were not looked at for it; the site's own soil moisture was,
// for it is an input as the weather is.

// soilSite is a place whose ground was measured.
type soilSite struct {
	name   string
	site   plan.Site
	cover  []coverFrom // what grows or lies on the ground, by date; the first holds from the start of the year
	windMS float64     // assumed where the record has none, at 10 m in open country [m/s]; 0: measured
	facts  string      // where the above is from
}

// coverFrom is a cover of the ground from a date of any year on.
type coverFrom struct {
	month, day int
	cover      string
}

const degree = float64(sun.Angle(0.017453292519943295))

var bondville = soilSite{
	name: "Bondville 1998",
	site: plan.Site{Latitude: 40.01 * degree, Longitude: -88.37 * degree, Elevation: 219, Exposure: "open", Albedo: 0.20,
		Soil: plan.Soil{Texture: "silt loam", Moisture: 0.75}},
	cover: []coverFrom{{1, 1, "stubble"}, {6, 1, "short grass"}, {10, 1, "stubble"}},
	facts: "NOAA flux site in Illinois, no-till maize and soybean; soil survey: silt loam (Flanagan and Drummer series), from memory. Moisture: the probe at 5 cm has 0.35 over the year, those at 20 and 60 cm, " +
		"called suspect, 0.42 and 0.40 m3/m3, of 0.476 of pores: 0.73 to 0.88, taken 0.75. Cover: residue of maize; from June to September the crop, as short grass. Wind at 10 m, elevation: from memory.",
}

var manhattan = soilSite{
	name: "Manhattan 2014 and 2015",
	site: plan.Site{Latitude: 39.10 * degree, Longitude: -96.61 * degree, Elevation: 348, Exposure: "open", Albedo: 0.20,
		Soil: plan.Soil{Texture: "silty clay loam", Moisture: 0.70}},
	cover:  []coverFrom{{1, 1, "short grass"}},
	windMS: 3.5,
	facts: "US Climate Reference Network, Manhattan 6 SSW, Kansas, on the Konza Prairie; soil survey: silty clay loam (Tully, Irwin series), from memory. Moisture: the probes at 10 and 20 cm have 0.29 to 0.34 m3/m3 over the " +
		"two years, of 0.464 of pores: 0.62 to 0.74, taken 0.70. Cover: prairie grass, kept short. Wind is not in the record: 3.5 m/s all the time, about the yearly mean of the airport, from memory.",
}

var boulder = soilSite{
	name: "Boulder 2024",
	site: plan.Site{Latitude: 40.04 * degree, Longitude: -105.54 * degree, Elevation: 2996, Exposure: "sheltered", Albedo: 0.20,
		Soil: plan.Soil{Texture: "sandy loam", Moisture: 0.15}},
	cover:  []coverFrom{{1, 1, "short grass"}},
	windMS: 3.0,
	facts: "US Climate Reference Network, Boulder 14 W, Mountain Research Station, Colorado, a clearing in subalpine wood; stony sandy loam of a moraine, from memory. Moisture: the probes at 5 and 10 cm have 0.043 and 0.074 m3/m3 " +
		"from June to December, of 0.434 of pores: 0.10 to 0.17, taken 0.15. Cover: thin short grass. Wind is not in the record: 3 m/s in open country, the place sheltered. Snow lying is not measured. Elevation from memory.",
}

var fargo = soilSite{
	name: "North Dakota 2014 to 2018",
	site: plan.Site{Latitude: 46.90 * degree, Longitude: -96.81 * degree, Elevation: 274, Exposure: "open", Albedo: 0.20,
		Soil: plan.Soil{Texture: "silty clay", Moisture: 0.85}},
	cover: []coverFrom{{1, 1, "short grass"}},
	facts: "North Dakota Agricultural Weather Network, Fargo; soil survey: silty clay of the old lake (Fargo series), poorly drained, from memory: 0.85 of the pores. Cover: turf. " +
		"Weather: typical year of station 727530, whose years are others. Snow: monthly normals of Fargo, from memory.",
}

// fargoSnow are fresh snow [m] and days with it by month, January first; normals of the airport in round figures, from memory.
var fargoSnow = struct{ fall, days [12]float64 }{
	fall: [12]float64{0.28, 0.18, 0.20, 0.08, 0, 0, 0, 0, 0, 0.02, 0.18, 0.26},
	days: [12]float64{9, 7, 6, 2, 0, 0, 0, 0, 0, 1, 5, 8},
}

var colDePorte = soilSite{
	name: "Col de Porte 2005-06",
	site: plan.Site{Latitude: 45.30 * degree, Longitude: 5.77 * degree, Elevation: 1325, Exposure: "open", Albedo: 0.20,
		Soil: plan.Soil{Texture: "sandy clay loam", Moisture: 0.80}},
	cover: []coverFrom{{1, 1, "short grass"}},
	facts: "Morin et al. 2012, Earth System Science Data 4:13: meadow in the Chartreuse, France; soil 60 % sand, 10 % silt, 30 % clay, from memory; wet, 0.8 of the pores (900 mm of water in the nine months). Wind as measured at 10 m. " +
		"The depth of the soil's thermometer is not stated in the file: 10 cm is taken, from memory.",
}

var alptal = soilSite{
	name: "Alptal 2004-05",
	site: plan.Site{Latitude: 47.05 * degree, Longitude: 8.72 * degree, Elevation: 1216, Exposure: "open", Albedo: 0.20,
		Soil: plan.Soil{Texture: "clay", Moisture: 0.90}},
	cover: []coverFrom{{1, 1, "short grass"}},
	facts: "Open meadow at Erlenhöhe, Switzerland; gley on flysch clay, from memory. The folder has its weather alone.",
}

// What is asked: RMSE over the record, mean error and RMSE of December to February [K], frost depth [m].
const (
	soilRMSE, soilWinterBias, soilWinterRMSE = 1.5, 0.7, 1.0
	soilFrost                                = 0.10
)
