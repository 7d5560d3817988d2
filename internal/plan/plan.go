// Package plan holds the plan: the document a grower writes about one house, its site and how it is run.
//
// A plan is YAML in which every quantity carries its unit. Read turns the text into plain structs of SI floats
// (temperatures in °C, angles in radians) and, beside them, one table from path to the text as written, its line
// and column, and where the value comes from: given, assumed, fitted or changed. Units are converted here and only here.
// Check looks at the whole document and reports all findings at once; what comes after it never doubts its input. Load
// does both. A Change sets one value otherwise by its path, and is read as if it stood in the file.
//
// The struct tags below are the one table that drives reading, checking, defaults and docs/plan-file.md:
//
//	key      the name in the file
//	kind     what a number measures: a bare number, an unknown unit or another kind is refused
//	range    lowest..highest allowed value in SI (angles in degrees, temperatures in °C), either end may be left out
//	enum     the allowed words, separated by |
//	default  what is assumed when the key is left out, as it would be written in the file
//	source   where the default comes from, shown to the grower beside "assumed"
//	must     "yes" when the key has to be given
//	unless   siblings that make the default pointless: key, or key=value, separated by |; nothing is assumed beside them
//	short    the key a single value is read as, where it stands in place of the keys
//	of       of a spread: the values it is about, separated by |, of which a plan has one at most; its ends are in their measure
//	doc      one line for people
package plan

// Plan is a whole document. Lengths in m, areas in m², temperatures in °C, angles in radians, shares 0..1.
type Plan struct {
	Format    int                 `key:"suncellar" kind:"count" range:"1..1" must:"yes" doc:"version of the plan format"`
	Name      string              `key:"name" must:"yes" doc:"what the house is called"`
	Notes     string              `key:"notes" doc:"anything, for people"`
	Units     string              `key:"units" enum:"SI|US" default:"SI" source:"choice of the program" doc:"how answers are told"`
	Site      Site                `key:"site" must:"yes" doc:"where the house stands"`
	Climate   *Climate            `key:"climate" doc:"monthly normals, from which weather is made when no file is given"`
	Snow      *Snow               `key:"snow" doc:"snowfall: monthly sums and days, or a dated list"`
	Materials map[string]Material `key:"materials" doc:"materials of your own, by name"`
	Glazings  map[string]Glazing  `key:"glazings" doc:"glazings of your own, by name"`
	Builds    map[string]Build    `key:"builds" doc:"layers of walls, floors and roofs, by name, inside first"`
	Shape     *Shape              `key:"shape" doc:"short form of the cross-section (give shape or section)"`
	Section   *Section            `key:"section" doc:"long form of the cross-section: a closed polygon, edge by edge"`
	Ends      Ends                `key:"ends" doc:"the two end walls"`
	Windows   []Window            `key:"windows" doc:"glazed openings in a face or an end wall"`
	Doors     []Door              `key:"doors" doc:"doors in a face or an end wall"`
	Frame     Frame               `key:"frame" doc:"what keeps light out of all glazing: frame, bars, dirt, age"`
	TakenOff  []TakenOff          `key:"taken_off" doc:"faces whose panels are taken off for a part of the year, so that they stand open"`
	Cover     *Cover              `key:"cover" doc:"movable insulation on the glazing"`
	Vents     []Vent              `key:"vents" doc:"openings that can be opened and shut"`
	Inlets    []Inlet             `key:"inlets" doc:"open pipes from outdoors: air through them is a leak"`
	Fans      []Fan               `key:"fans" doc:"fans that bring outdoor air in, with their hours"`
	Tubes     []Tube              `key:"tubes" doc:"buried tubes: air that goes through the ground and takes its warmth along"`
	Leakage   Leakage             `key:"leakage" doc:"air through joints"`
	Heat      []Heat              `key:"heat" doc:"heat given off by things inside"`
	Store     *Store              `key:"store" doc:"the water that holds heat"`
	Water     *Water              `key:"water" doc:"the way of rain into the drums and to the beds; left out: nothing is reckoned of it"`
	Beds      []Bed               `key:"beds" doc:"growing beds"`
	ColdSink  *ColdSink           `key:"cold_sink" doc:"the low trench where cold air pools"`
	Surfaces  Surfaces            `key:"surfaces" doc:"surface coefficients, when they are to be fixed instead of computed"`
	SunShares map[string]float64  `key:"sun_shares" kind:"share" range:"0..1" doc:"share of the sun that enters which is kept by each face, by face name; the rest is lost. Left out: computed"`
	Ground    Ground              `key:"ground" doc:"the earth round the house"`
	Unknown   Unknown             `key:"unknown" doc:"how far values may lie from what is written, since nobody measured them; left out: the program's own spreads"`
	Run       Run                 `key:"run" short:"span" doc:"what is computed"`

	// Origins tells for every path what was written, where, and where the value comes from.
	Origins Origins `key:"-"`

	file string // the document's name
	root *node  // the document, from which a changed plan is read again
}

// Site is where the house stands.
type Site struct {
	Place      string      `key:"place" doc:"name of the place, for people"`
	Latitude   float64     `key:"latitude" kind:"angle" range:"-66..66" must:"yes" doc:"north positive"`
	Longitude  float64     `key:"longitude" kind:"angle" range:"-180..180" must:"yes" doc:"east positive"`
	Elevation  float64     `key:"elevation" kind:"length" range:"-430..5500" must:"yes" doc:"above sea level"`
	TimeZone   TimeZone    `key:"time_zone" must:"yes" doc:"UTC-7, UTC+5:30 or a zone name such as America/Denver; the year runs on its standard time"`
	Facing     *float64    `key:"facing" kind:"angle" range:"0..360" doc:"compass direction the glazing looks, 0 north, 90 east; left out: to the equator"`
	Exposure   string      `key:"exposure" enum:"open|scattered|sheltered" default:"scattered" source:"ASHRAE Fundamentals 2017 ch. 24 terrain classes, from memory" doc:"how the wind reaches the house"`
	Albedo     float64     `key:"albedo" kind:"share" range:"0..0.9" default:"0.2" source:"common practice for grass and bare soil; ISO 52010-1" doc:"share of sun reflected by bare ground"`
	Cover      string      `key:"ground_cover" enum:"bare|short grass|stubble" default:"short grass" source:"own judgement: what surrounds most houses" doc:"what grows or lies on the ground outdoors"`
	Soil       Soil        `key:"soil" doc:"the natural ground; with soil_layers, what lies below the lowest of them, and what beds are filled with"`
	SoilLayers []SoilLayer `key:"soil_layers" doc:"layers of other soil that lie on it, level, listed from grade down"`
	Horizon    []Skyline   `key:"horizon" doc:"hills and trees before the sky: their height by compass direction, joined by straight lines all round; left out: level"`
	Banks      []Bank      `key:"banks" doc:"straight edges near by that shade: a bank, a berm, the edge of a ditch before glazing below grade, a hedge, a neighbour's wall"`
	WaterTable *float64    `key:"water_table" kind:"length" range:"0.3..100" doc:"depth of standing ground water below grade"`
}

// Skyline is the height of the horizon in one direction.
type Skyline struct {
	Azimuth   float64 `key:"azimuth" kind:"angle" range:"0..360" must:"yes" doc:"compass direction, 0 north, 90 east"`
	Elevation float64 `key:"elevation" kind:"angle" range:"0..80" must:"yes" doc:"how high the skyline stands there over the level"`
}

// Bank is a straight level edge along one side of the house.
type Bank struct {
	Name     string   `key:"name" must:"yes" doc:"name"`
	Side     string   `key:"side" enum:"front|back|left|right" default:"front" source:"what stands before the glazing shades most" doc:"side of the house along which it runs"`
	Distance float64  `key:"distance" kind:"length" range:"0.05..300" must:"yes" doc:"from the outside of that wall at grade"`
	Height   float64  `key:"height" kind:"length" range:"-3..60" must:"yes" doc:"its top above grade; 0 is the edge of a ditch"`
	Length   *float64 `key:"length" kind:"length" range:"0.5..600" doc:"how long it is, its middle before the middle of the house; left out: endless"`
}

// TimeZone is the zone of the site: its name as written and its standard offset from UTC.
type TimeZone struct {
	Name    string
	OffsetS int // [s] east positive
}

// Soil is natural ground by texture and moisture; its conductivity may be given instead.
type Soil struct {
	Texture      string   `key:"texture" enum:"sand|sandy loam|loam|silt loam|sandy clay loam|clay loam|clay" default:"loam" source:"own judgement" doc:"texture class"`
	Moisture     float64  `key:"moisture" kind:"share" range:"0.05..1" default:"50 %" source:"own judgement; between field capacity and dry" doc:"share of the pores filled with water"`
	Conductivity *float64 `key:"conductivity" kind:"conductivity" range:"0.1..5" doc:"given instead of computed from texture and moisture"`
	HeatCapacity *float64 `key:"heat_capacity" kind:"volumetric_heat" range:"0.8e6..4.5e6" doc:"given instead of computed"`
}

// SoilLayer is a level layer of natural ground, from grade or from the layer above it down to a depth.
type SoilLayer struct {
	To           float64  `key:"to" kind:"length" range:"0.05..15" must:"yes" doc:"depth of its lower edge below grade"`
	Texture      string   `key:"texture" enum:"sand|sandy loam|loam|silt loam|sandy clay loam|clay loam|clay" default:"loam" source:"own judgement" doc:"texture class"`
	Moisture     float64  `key:"moisture" kind:"share" range:"0.05..1" default:"50 %" source:"own judgement; between field capacity and dry" doc:"share of the pores filled with water"`
	Conductivity *float64 `key:"conductivity" kind:"conductivity" range:"0.1..5" doc:"given instead of computed from texture and moisture"`
	HeatCapacity *float64 `key:"heat_capacity" kind:"volumetric_heat" range:"0.8e6..4.5e6" doc:"given instead of computed"`
}

// Soil is what the layer is made of.
func (l SoilLayer) Soil() Soil {
	return Soil{Texture: l.Texture, Moisture: l.Moisture, Conductivity: l.Conductivity, HeatCapacity: l.HeatCapacity}
}

// Climate is twelve monthly normals, January first.
type Climate struct {
	Source        string       `key:"source" doc:"where the normals come from"`
	MeanLow       [12]float64  `key:"mean_low" kind:"temperature" range:"-60..40" must:"yes" doc:"mean daily lowest air temperature"`
	MeanHigh      [12]float64  `key:"mean_high" kind:"temperature" range:"-50..50" must:"yes" doc:"mean daily highest air temperature"`
	Sun           [12]float64  `key:"sun" kind:"daily_irradiation" range:"0..10" must:"yes" doc:"mean global irradiation of level ground, kWh/m2 a day"`
	Precipitation [12]float64  `key:"precipitation" kind:"length" range:"0..2" must:"yes" doc:"rain and melted snow of the month"`
	WetDays       [12]float64  `key:"wet_days" kind:"number" range:"0..31" must:"yes" doc:"days with at least 0.2 mm"`
	Wind          [12]float64  `key:"wind" kind:"speed" range:"0..20" must:"yes" doc:"mean wind at 10 m"`
	DewPoint      *[12]float64 `key:"dew_point" kind:"temperature" range:"-60..30" doc:"mean dew point; left out: from the mean low"`
	YearLowest    *float64     `key:"year_lowest" kind:"temperature" range:"-70..30" doc:"mean lowest air temperature of a year (the hardiness zone's figure); without it made years are too mild in their coldest spells"`
	MonthSpread   *[12]float64 `key:"month_spread" kind:"temperature_difference" range:"0.1..8" doc:"standard deviation between years of the month's mean air, of many years; left out: from published relations, which are wide"`
	LowSpread     *[12]float64 `key:"low_spread" kind:"temperature_difference" range:"0.5..15" doc:"standard deviation of the days' lowest air about the mean of their own month; left out: from published relations"`
	HighSpread    *[12]float64 `key:"high_spread" kind:"temperature_difference" range:"0.5..15" doc:"the same of the days' highest air"`
}

// Snow is snowfall: monthly sums and days (placed by seed), or a dated list. Depths are of fresh snow.
type Snow struct {
	Fall    *[12]float64 `key:"fall" kind:"length" range:"0..5" doc:"fresh snow of each month, January first"`
	Days    *[12]float64 `key:"days" kind:"number" range:"0..31" doc:"days with snowfall of each month"`
	List    []Snowfall   `key:"list" doc:"dated snowfalls, instead of monthly ones; the empty list [] says that no snow falls"`
	Seed    int          `key:"seed" kind:"count" range:"0.." default:"1" source:"choice of the program" doc:"which of the possible winters is drawn"`
	Brushed string       `key:"brushed" enum:"never|morning after" default:"never" source:"cold side: nobody brushes" doc:"when snow is brushed off the glazing"`
	Foot    string       `key:"foot" enum:"left|cleared" default:"left" source:"cold side: nobody shovels" doc:"snow that slid or was brushed to the foot of the glazing: left there, where it covers the lowest part, or cleared away at once"`
}

// Never tells that the plan says no snow falls: its list is written and empty. A plan without snow does not know.
func (s *Snow) Never() bool { return s != nil && s.List != nil && len(s.List) == 0 }

// Snowfall is one dated fall of fresh snow.
type Snowfall struct {
	Date  Date    `key:"date" must:"yes" doc:"12-24 or 2024-12-24"`
	Depth float64 `key:"depth" kind:"length" range:"0..3" must:"yes" doc:"depth of fresh snow"`
}

// Material is one substance of a layer.
type Material struct {
	Conductivity float64 `key:"conductivity" kind:"conductivity" range:"0.001..500" must:"yes" doc:"heat conductivity"`
	Density      float64 `key:"density" kind:"density" range:"0..12000" must:"yes" doc:"0 for a layer whose heat is not counted"`
	SpecificHeat float64 `key:"specific_heat" kind:"specific_heat" range:"0..6000" must:"yes" doc:"heat capacity per mass"`
}

// Glazing is a glazing of the user's own: from its panes, or from bare numbers (transmittance and U).
type Glazing struct {
	Panes         []Pane   `key:"panes" doc:"sheets from outside to inside"`
	Gaps          []Gap    `key:"gaps" doc:"one fewer than the panes"`
	Transmittance *float64 `key:"transmittance" kind:"share" range:"0.01..0.99" doc:"solar transmittance at normal incidence, when no panes are given"`
	UValue        *float64 `key:"u_value" kind:"transmittance" range:"0.2..8" doc:"declared U, upright, when no panes are given"`
	Sheets        int      `key:"sheets" kind:"count" range:"1..9" unless:"panes" default:"2" source:"twin wall is the usual sheet" doc:"walls of the sheet, when no panes are given"`
}

// Pane is one sheet of a glazing.
type Pane struct {
	Thickness    float64 `key:"thickness" kind:"length" range:"0.00005..0.05" must:"yes" doc:"thickness"`
	Index        float64 `key:"index" kind:"number" range:"1..2.5" default:"1.526" source:"soda-lime glass, Duffie & Beckman ch. 5" doc:"refractive index"`
	Extinction   float64 `key:"extinction" kind:"extinction" range:"0..2000" must:"yes" doc:"extinction coefficient, 1/m"`
	Conductivity float64 `key:"conductivity" kind:"conductivity" range:"0.05..5" default:"1.0 W/mK" source:"soda-lime glass, ISO 10077" doc:"heat conductivity"`
	Emittance    float64 `key:"emittance" kind:"share" range:"0.02..1" default:"0.84" source:"uncoated glass, ISO 10292" doc:"longwave emittance of both faces"`
	Longwave     float64 `key:"longwave" kind:"share" range:"0..0.95" default:"0 %" source:"glass and thick sheet stop longwave; polyethylene film passes 70 to 80 % dry" doc:"share of longwave that passes the pane when it is dry; counts for a single pane"`
	Density      float64 `key:"density" kind:"density" range:"0..8000" default:"2500 kg/m3" source:"soda-lime glass" doc:"density"`
	SpecificHeat float64 `key:"specific_heat" kind:"specific_heat" range:"0..3000" default:"750 J/kgK" source:"soda-lime glass" doc:"heat capacity per mass"`
}

// Gap is the space between two panes.
type Gap struct {
	Thickness   float64  `key:"thickness" kind:"length" range:"0.001..0.3" must:"yes" doc:"width"`
	Coefficient *float64 `key:"coefficient" kind:"transmittance" range:"0.1..20" doc:"given heat transfer through the gap instead of computed"`
}

// Build is a stack of layers, inside first, or a bare resistance.
type Build struct {
	Layers  []Layer  `key:"layers" doc:"layers, inside first"`
	RValue  *float64 `key:"r_value" kind:"resistance" range:"0.01..30" doc:"a bare resistance instead of layers, surface films not counted"`
	Inside  Finish   `key:"inside" doc:"the face to the room"`
	Outside Finish   `key:"outside" doc:"the face to outdoors"`
}

// Layer is one layer of a build: a material with a thickness, or a bare resistance.
type Layer struct {
	Material  string   `key:"material" doc:"name from the library or from materials:"`
	Thickness float64  `key:"thickness" kind:"length" range:"0.0005..3" doc:"thickness"`
	RValue    *float64 `key:"r_value" kind:"resistance" range:"0.001..50" doc:"resistance of an air gap or of a layer whose heat is not counted"`
}

// Finish is a surface's answer to sun and longwave.
type Finish struct {
	Absorptance float64 `key:"absorptance" kind:"share" range:"0.02..0.98" default:"0.6" source:"common mean of building surfaces" doc:"share of sun absorbed"`
	Emittance   float64 `key:"emittance" kind:"share" range:"0.02..0.98" default:"0.9" source:"most building surfaces, ISO 6946" doc:"longwave emittance"`
}

// Shape is the short form of the section: a pit with a glazed front slope and an opaque back roof, or a lean-to whose
// glazing runs from the front wall to the top of the back wall. Widths are inside; heights and depths count from grade.
type Shape struct {
	Kind          string   `key:"kind" enum:"pit|lean-to" must:"yes" doc:"pit: glazing and back roof meet at a ridge; lean-to: glazing runs to the back wall"`
	Length        float64  `key:"length" kind:"length" range:"1..60" must:"yes" doc:"inside, along the house"`
	Width         float64  `key:"width" kind:"length" range:"1..15" must:"yes" doc:"inside, from front wall to back wall"`
	Depth         float64  `key:"depth" kind:"length" range:"0..4" must:"yes" doc:"floor below grade"`
	FrontHeight   float64  `key:"front_height" kind:"length" range:"0..3" default:"0.3 m" source:"clear of lying snow; own judgement" doc:"front wall above grade, where the glazing starts"`
	BackHeight    float64  `key:"back_height" kind:"length" range:"0..6" must:"yes" doc:"back wall above grade"`
	GlazingSlope  *float64 `key:"glazing_slope" kind:"angle" range:"10..90" doc:"slope of the glazing from level; needed for a pit"`
	BackRoofSlope float64  `key:"back_roof_slope" kind:"angle" range:"0..70" unless:"kind=lean-to" default:"35 deg" source:"own judgement" doc:"slope of the back roof of a pit"`
	Glazing       string   `key:"glazing" must:"yes" doc:"name of a glazing, from the library or from glazings:"`
	FrontWall     string   `key:"front_wall" must:"yes" doc:"build"`
	BackWall      string   `key:"back_wall" must:"yes" doc:"build"`
	BackRoof      string   `key:"back_roof" doc:"build; needed for a pit"`
	Floor         string   `key:"floor" default:"bare earth" source:"no floor given" doc:"build of the floor, or bare earth"`
}

// Section is the long form: a closed polygon, each edge with its build or glazing. x runs from the front (sun side) to the
// back, z upward from grade. The last edge leads back to the start.
type Section struct {
	Length float64    `key:"length" kind:"length" range:"0.3..60" must:"yes" doc:"inside, along the house"`
	Start  [2]float64 `key:"start" kind:"length" range:"-20..40" must:"yes" doc:"first corner [x, z]"`
	Edges  []Edge     `key:"edges" must:"yes" doc:"edges in order round the room"`
}

// Edge is one edge of the section; as a face it has a build, or is glazed.
type Edge struct {
	Name    string     `key:"name" must:"yes" doc:"name of the face"`
	To      [2]float64 `key:"to" kind:"length" range:"-20..40" must:"yes" doc:"corner it leads to [x, z]"`
	Build   string     `key:"build" doc:"build, or bare earth"`
	Glazing string     `key:"glazing" doc:"glazing, when the whole face is glazed"`
	Behind  Behind     `key:"behind" doc:"what is on the other side: air, soil, adiabatic or a fixed temperature; left out: soil below grade, else air"`
}

// Behind is what a face has on its other side.
type Behind struct {
	What   string // "", "air", "soil", "adiabatic", "fixed"
	FixedC float64
}

// Ends are the two end walls; left and right as seen from inside, looking out through the glazing.
type Ends struct {
	Build string   `key:"build" doc:"build of both end walls"`
	Left  *EndWall `key:"left" doc:"another build or condition for the left end"`
	Right *EndWall `key:"right" doc:"another build or condition for the right end"`
}

// EndWall is one end wall where it differs from the other.
type EndWall struct {
	Build  string `key:"build" doc:"build"`
	Behind Behind `key:"behind" doc:"air, soil, adiabatic or a fixed temperature"`
}

// Window is a rectangle of glazing set into a face or an end wall ("left end", "right end").
type Window struct {
	Name    string  `key:"name" must:"yes" doc:"name"`
	In      string  `key:"in" must:"yes" doc:"name of the face, left end or right end"`
	Width   float64 `key:"width" kind:"length" range:"0.05..60" must:"yes" doc:"width"`
	Height  float64 `key:"height" kind:"length" range:"0.05..10" must:"yes" doc:"height along the face"`
	Count   int     `key:"count" kind:"count" range:"1..100" default:"1" source:"one is written" doc:"how many of them"`
	Glazing string  `key:"glazing" must:"yes" doc:"name of a glazing"`
}

// Door is an opaque door; its joints belong to leakage.
type Door struct {
	Name   string  `key:"name" default:"door" source:"name only" doc:"name"`
	In     string  `key:"in" must:"yes" doc:"name of the face, left end or right end"`
	Width  float64 `key:"width" kind:"length" range:"0.3..3" default:"0.8 m" source:"common practice, no source" doc:"width"`
	Height float64 `key:"height" kind:"length" range:"0.5..3" default:"1.9 m" source:"common practice, no source" doc:"height"`
	UValue float64 `key:"u_value" kind:"transmittance" range:"0.2..6" default:"2.0 W/m2K" source:"boarded door with thin insulation, own judgement" doc:"U of the leaf"`
	Gap    float64 `key:"gap" kind:"length" range:"0..0.02" default:"0 mm" source:"its joints are counted within leakage" doc:"open gap all round the leaf, beside what leakage says"`
	Opened int     `key:"opened" kind:"count" range:"0..200" default:"2" source:"in and out once a day; own judgement" doc:"times a day that it is opened"`
	Open   float64 `key:"open_for" kind:"time" range:"0..3600" default:"20 s" source:"own judgement" doc:"how long it stands open each time"`
	Hours  Hours   `key:"hours" default:"09:00-16:00" source:"somebody is there by day; own judgement" doc:"hours in which it is used"`
}

// Frame is what keeps light out of the glazing.
type Frame struct {
	Share  float64 `key:"share" kind:"share" range:"0..0.5" default:"8 %" source:"frame, bars and dirt together leave 0.80 to 0.92 of the light (trade, from memory)" doc:"share of the opening that is frame"`
	UValue float64 `key:"u_value" kind:"transmittance" range:"0.3..10" default:"2.4 W/m2K" source:"softwood bars, ISO 10077-1, from memory" doc:"U of the frame"`
	Bars   float64 `key:"bar_shade" kind:"share" range:"0..0.3" default:"2 %" source:"own judgement" doc:"share of light shaded by purlins and bars behind the glazing"`
	Dirt   float64 `key:"dirt" kind:"share" range:"0..0.4" default:"5 %" source:"washed yearly 2 to 7 % (trade, from memory)" doc:"share of light lost to dirt"`
	Age    float64 `key:"age" kind:"duration" range:"0..1.6e9" default:"0 yr" source:"new" doc:"age of the glazing"`
	Ageing float64 `key:"ageing" kind:"share" range:"0..0.1" default:"0.8 %" source:"multiwall polycarbonate 0.6 to 1 % a year (trade)" doc:"light lost per year of age"`
}

// TakenOff is a face that stands open for a part of the year, with the windows and doors in it.
type TakenOff struct {
	Face    string `key:"face" must:"yes" doc:"name of a face or of a window, left end or right end; its parts above grade are taken off"`
	From    Date   `key:"from" must:"yes" doc:"first day on which it is off: of any year, or with the year of that one alone"`
	Until   Date   `key:"until" must:"yes" doc:"last day"`
	Instead string `key:"instead" doc:"name of a glazing that hangs there meanwhile, such as another film; for glazed faces; left out: nothing, and the face stands open"`
}

// Cover is movable insulation over all glazing of the section.
type Cover struct {
	RValue    float64  `key:"r_value" kind:"resistance" range:"0.02..5" must:"yes" doc:"resistance of the cover itself"`
	Side      string   `key:"side" enum:"inside|outside" default:"inside" source:"most covers are drawn inside" doc:"which side of the glazing"`
	Fit       float64  `key:"fit" kind:"share" range:"0.05..1" unless:"edge_gap" default:"70 %" source:"own judgement: leaky edges halve the benefit (trade)" doc:"share of its resistance that air round its edge leaves at 10 K across it (an outer one: and 3 m/s of wind); from it follows how wide the edge gapes, and more flows where it is colder"`
	EdgeGap   *float64 `key:"edge_gap" kind:"length" range:"0..0.3" doc:"how wide its edge gapes all round, measured; in place of fit"`
	Mass      float64  `key:"mass" kind:"areal_mass" range:"0.05..40" default:"1 kg/m2" source:"a padded quilt; own judgement" doc:"mass of the cover"`
	Emittance float64  `key:"emittance" kind:"share" range:"0.03..0.98" default:"0.9" source:"cloth and board; an aluminised face about 0.1" doc:"longwave emittance of the side to the glazing of an inner cover, of the outer side of an outer one"`
	AirBelow  *float64 `key:"air_below" kind:"temperature" range:"-40..30" doc:"drawn when outdoor air is below this at the start of an hour, taken away when it is 2 K above; in the hours and the season only"`
	SunBelow  *float64 `key:"sun_below" kind:"irradiance" range:"1..1000" doc:"drawn when the sun on level ground is below this in an hour, taken away when it is half as much again above; in the hours and the season only"`
	Hours     Hours    `key:"hours" unless:"air_below|sun_below" default:"16:30-08:30" source:"own judgement" doc:"when it is drawn; beside a rule, when the rule may draw it: left out, at all hours"`
	From      Date     `key:"from" default:"10-15" source:"own judgement" doc:"first day of the season it is used: of any year, or with the year of that one alone"`
	Until     Date     `key:"until" default:"04-15" source:"own judgement" doc:"last day"`
}

// Vent is an opening that is opened by hand or by rule.
type Vent struct {
	Name   string   `key:"name" must:"yes" doc:"name"`
	In     string   `key:"in" must:"yes" doc:"name of the face, left end or right end"`
	Area   float64  `key:"area" kind:"area" range:"0.001..50" must:"yes" doc:"free area when open"`
	Height float64  `key:"height" kind:"length" range:"0..10" must:"yes" doc:"height of its middle above the floor"`
	Above  *float64 `key:"open_above" kind:"temperature" range:"0..60" doc:"opened by hand, little by little, when the canopy air is above this"`
	Hours  Hours    `key:"hours" unless:"wax" default:"09:00-16:00" source:"somebody is there by day; own judgement" doc:"hours in which it may be open by hand; an opener knows no hours"`
	Wax    *Wax     `key:"wax" short:"opens_at" doc:"an opener with a cylinder of wax, which works day and night"`
}

// Wax is a vent opener driven by wax that swells.
type Wax struct {
	OpensAt    float64 `key:"opens_at" kind:"temperature" range:"5..40" default:"21 degC" source:"common practice, no source: adjustable from 16 to 24 °C" doc:"canopy air at which it begins to open"`
	FullAt     float64 `key:"open_full_at" kind:"temperature" range:"6..60" default:"28 degC" source:"common practice, no source: full stroke 5 to 8 K above the begin" doc:"canopy air at which it is fully open"`
	Hysteresis float64 `key:"hysteresis" kind:"temperature_difference" range:"0..10" default:"3 K" source:"common practice, no source: 2 to 4 K" doc:"how much colder the air is when it closes to the same opening"`
	Lag        float64 `key:"lag" kind:"time" range:"60..7200" default:"20 min" source:"common practice, no source: 10 to 30 min" doc:"time constant of the wax behind the air"`
}

// Inlet is an open pipe from outdoors.
type Inlet struct {
	Name     string  `key:"name" must:"yes" doc:"name"`
	Diameter float64 `key:"diameter" kind:"length" range:"0.01..1" must:"yes" doc:"inner diameter"`
	Height   float64 `key:"height" kind:"length" range:"-2..10" must:"yes" doc:"height of its mouth in the house above the floor"`
	Closed   float64 `key:"closed" kind:"share" range:"0..1" default:"0 %" source:"cold side: nobody closed it" doc:"share of the mouth that is closed; a flap that is frozen open or seals badly leaves part of it"`
}

// Fan brings outdoor air in by power.
type Fan struct {
	Name  string  `key:"name" must:"yes" doc:"name"`
	Flow  float64 `key:"flow" kind:"flow" range:"0..50" must:"yes" doc:"outdoor air brought in, as air of 20 °C at the site's pressure"`
	Hours Hours   `key:"hours" must:"yes" doc:"when it runs"`
	Power float64 `key:"power" kind:"power" range:"0..5000" default:"0 W" source:"heat of the motor left out" doc:"electric power, all of which heats the house"`
}

// Tube is a row of equal buried tubes side by side, along the house, with an opening at either end.
type Tube struct {
	Name      string   `key:"name" must:"yes" doc:"name"`
	Count     int      `key:"count" kind:"count" range:"1..200" must:"yes" doc:"how many, all tiers"`
	Diameter  float64  `key:"diameter" kind:"length" range:"0.03..1" must:"yes" doc:"inside"`
	Length    float64  `key:"length" kind:"length" range:"1..100" must:"yes" doc:"of one; longer than the house, it lies to and fro"`
	Depth     float64  `key:"depth" kind:"length" range:"0.15..5" must:"yes" doc:"of the axis of the upper tier: below the floor, or below grade for tubes outside"`
	Under     string   `key:"under" enum:"floor|outside in front|outside behind" default:"floor" source:"most lie under the house; own judgement" doc:"what they lie under"`
	At        *float64 `key:"at" kind:"length" range:"0..15" doc:"middle of the row: from the inside of the front wall, or for tubes outside from the wall's outer face; left out: the middle of the floor, or the whole row half a metre clear of the wall"`
	Spacing   float64  `key:"spacing" kind:"length" range:"0.05..5" default:"0.5 m" source:"0.5 to 1 m, at least five diameters (trade, from memory)" doc:"between the axes of neighbours, and of tiers"`
	Tiers     int      `key:"tiers" kind:"count" range:"1..6" default:"1" source:"one row" doc:"rows one below the other"`
	Roughness float64  `key:"roughness" kind:"length" range:"0..0.01" default:"0.1 mm" source:"plastic pipe with its joints; new drawn tubing 0.0015 mm (White, Fluid Mechanics, from memory), corrugated drain pipe about 2 mm; own judgement" doc:"of the wall inside"`
	Wall      float64  `key:"wall" kind:"length" range:"0.0005..0.1" default:"3 mm" source:"plastic sewer pipe of 110 mm, common practice, no source" doc:"thickness of its wall"`
	WallK     float64  `key:"wall_conductivity" kind:"conductivity" range:"0.05..60" default:"0.2 W/mK" source:"PVC 0.17, polyethylene 0.5 (ISO 10456, from memory); steel 50, concrete 1.5" doc:"heat conductivity of its wall"`
	Fittings  float64  `key:"fittings" kind:"number" range:"0.5..100" default:"3" source:"entry 0.5, two bends 0.75 each, exit 1 (White, Fluid Mechanics, from memory)" doc:"sum of the loss coefficients of ends, bends and screens"`
	Inlet     Opening  `key:"inlet" must:"yes" doc:"one end; air may go either way"`
	Outlet    Opening  `key:"outlet" must:"yes" doc:"the other end"`
	Open      Hours    `key:"open" default:"00:00-24:00" source:"always open" doc:"hours in which the ends are open"`
	Drain     string   `key:"drain" enum:"yes|no" default:"yes" source:"laid to fall 2 to 3 % to a drain (trade)" doc:"whether water that condenses runs off"`
	Fan       *TubeFan `key:"fan" doc:"a fan in the tubes; left out: draft alone moves their air"`
}

// Opening is one end of buried tubes.
type Opening struct {
	In     string  `key:"in" enum:"house|outdoors" default:"house" source:"a closed loop lets no cold in" doc:"the air it opens to; at most one end outdoors"`
	Height float64 `key:"height" kind:"length" range:"-3..10" must:"yes" doc:"above the floor, outdoors above grade"`
}

// TubeFan is the fan of a row of buried tubes.
type TubeFan struct {
	Flow     float64  `key:"flow" kind:"flow" range:"0.001..20" must:"yes" doc:"through all tubes together, as air of 20 °C at the site's pressure; with a pressure given, what it moves freely"`
	Pressure *float64 `key:"pressure" kind:"pressure" range:"0.5..3000" doc:"against shut ends; the flow is then found on a straight line between the two. Left out: the flow is kept, whatever resists"`
	Power    float64  `key:"power" kind:"power" range:"0..5000" must:"yes" doc:"electric, while it runs; all of it heats the air"`
	Blows    string   `key:"blows" enum:"inlet to outlet|outlet to inlet" default:"inlet to outlet" source:"names only" doc:"which way"`
	Hours    Hours    `key:"hours" default:"00:00-24:00" source:"the rule decides" doc:"hours in which it may run"`
	Below    *float64 `key:"below" kind:"temperature" range:"-30..40" doc:"it runs while the canopy air is below this at the start of an hour"`
	Above    *float64 `key:"above" kind:"temperature" range:"-30..60" doc:"it runs while the canopy air is above this at the start of an hour; with both, in either case; with neither, all its hours"`
}

// Leakage is air through joints: a fixed air change, or an effective leakage area driven by wind and stack.
type Leakage struct {
	AirChanges *float64 `key:"air_changes" kind:"air_changes" range:"0..60" doc:"fixed air change of the whole volume (1/h), as air of 20 °C at the site's pressure"`
	Area       *float64 `key:"area" kind:"area" range:"0..2" doc:"effective leakage area at 4 Pa"`
	PerArea    float64  `key:"per_area" kind:"ratio" range:"0..0.01" unless:"air_changes|area" default:"3 cm2/m2" source:"own judgement, between a sealed and a boarded house; the weakest input of all" doc:"effective leakage area per m2 of envelope above grade, when neither is given"`
}

// Heat is heat given off by something inside.
type Heat struct {
	Name    string  `key:"name" must:"yes" doc:"name"`
	Power   float64 `key:"power" kind:"power" range:"0..100000" must:"yes" doc:"heat given off"`
	Radiant float64 `key:"radiant" kind:"share" range:"0..1" default:"0 %" source:"all to the air" doc:"share given off as radiation"`
	Hours   Hours   `key:"hours" default:"00:00-24:00" source:"always on" doc:"when"`
}

// Store is the water that holds heat: rows of drums.
type Store struct {
	Rows   []Row        `key:"rows" must:"yes" doc:"rows of drums"`
	Events []StoreEvent `key:"events" doc:"water that leaves or comes on a date: leak, drain, refill, draw"`
}

// StoreEvent is water that leaves a bay or comes to it on a date. Which keys belong to which kind is held by the checks.
type StoreEvent struct {
	Kind   string   `key:"kind" enum:"leak|drain|refill|draw" must:"yes" doc:"leak: out of a drum or a joint; drain: let out on purpose; refill: filled up; draw: taken to water a bed"`
	Bay    string   `key:"bay" must:"yes" doc:"one bay by its name, as in 'back drums, bay 2', or a row, which means each of its bays"`
	From   Date     `key:"from" must:"yes" doc:"day on which it begins, month and day; it happens once, in the last year of the run"`
	Hour   int      `key:"hour" kind:"count" range:"0..23" default:"12" source:"noon; own judgement" doc:"hour of the clock at which it begins, standard time"`
	Until  *Date    `key:"until" doc:"leak: day on which it is mended, at the same hour; draw: last day, when it is done every day from the first"`
	Rate   *float64 `key:"rate" kind:"water_flow" range:"0.00000000001..0.1" doc:"leak: water lost; drain and refill: how fast, left out: within the hour"`
	Hole   *float64 `key:"hole" kind:"length" range:"0.0002..0.2" doc:"leak: diameter of a round hole instead of a rate; its flow follows the height of the water above level"`
	Level  *float64 `key:"level" kind:"length" range:"0..12" doc:"height of the water above the bottom of the drums at which a leak or drain ends (the height of hole or tap; left out: empty), or that a refill reaches"`
	Share  *float64 `key:"share" kind:"share" range:"0..1" doc:"drain: share of the water that is there when it begins"`
	Volume *float64 `key:"volume" kind:"volume" range:"0..200" doc:"refill: water that is filled in; draw: water of each time"`
	WaterC *float64 `key:"temperature" kind:"temperature" range:"0..60" doc:"refill: of the water that comes"`
	To     string   `key:"to" enum:"floor|cold sink|soil|outside" unless:"kind=refill|kind=draw" default:"outside" source:"cold side: the water takes all its heat with it" doc:"leak and drain: where the water goes; soil is that under the footing"`
	Bed    string   `key:"bed" doc:"draw: name of the bed that is watered"`
}

// Row is one row of equal drums along the house.
type Row struct {
	Name     string   `key:"name" must:"yes" doc:"name"`
	Drums    int      `key:"drums" kind:"count" range:"0..500" must:"yes" doc:"how many, all tiers"`
	Size     string   `key:"size" unless:"diameter|height" default:"drum 55 gal" source:"the usual drum" doc:"drum 55 gal, steel drum 55 gal, tote 275 gal, tote 330 gal; or give diameter and height"`
	Diameter *float64 `key:"diameter" kind:"length" range:"0.05..3" doc:"outside diameter of a drum of your own"`
	Height   *float64 `key:"height" kind:"length" range:"0.05..3" doc:"height of a drum of your own"`
	Colour   string   `key:"colour" enum:"black|dark blue|blue|green|grey|white|clear" default:"black" source:"trade: dark drums" doc:"of the drums"`
	Fill     float64  `key:"fill" kind:"share" range:"0..1" default:"95 %" source:"head space against freezing, 5 to 15 % (trade)" doc:"share filled with water"`
	At       float64  `key:"at" kind:"length" range:"0..15" must:"yes" doc:"middle of the row, from the inside of the front wall"`
	Base     float64  `key:"base" kind:"length" range:"0..3" default:"0 m" source:"stands on the floor" doc:"height of what it stands on, above the floor"`
	Tiers    int      `key:"tiers" kind:"count" range:"1..4" default:"1" source:"one layer" doc:"drums stacked on one another"`
	Bays     int      `key:"bays" kind:"count" range:"1..50" default:"1" source:"no valves" doc:"parts of the row parted by valves"`
	Start    *float64 `key:"start" kind:"temperature" range:"0..60" doc:"water temperature at the start of the run; left out: that of the ground beside it"`
}

// Bed is a growing bed.
type Bed struct {
	Name    string  `key:"name" must:"yes" doc:"name"`
	From    float64 `key:"from" kind:"length" range:"0..15" must:"yes" doc:"front edge, from the inside of the front wall"`
	To      float64 `key:"to" kind:"length" range:"0..15" must:"yes" doc:"back edge"`
	Level   float64 `key:"level" kind:"length" range:"-1..2" default:"0.2 m" source:"own judgement" doc:"soil surface above the floor"`
	Leaf    float64 `key:"leaf_height" kind:"length" range:"0.02..3" default:"0.25 m" source:"salad and kale; own judgement" doc:"height of the leaf tips above the soil"`
	Planted float64 `key:"planted" kind:"share" range:"0..1" default:"80 %" source:"own judgement" doc:"share of the bed covered by leaves"`
	Leaves  float64 `key:"leaf_area" kind:"number" range:"0..8" default:"2" source:"salad and kale in winter, 1 to 3; own judgement" doc:"leaf area over the area that is covered by leaves, one side"`
	Crop    string  `key:"crop" enum:"small vegetables|salad greens|lettuce|spinach|chard|kale|cabbage|broccoli|cauliflower|celery|carrots|radishes|beets|turnips|parsnips|potatoes|onions|green onions|garlic|peas|broad beans|green beans|strawberries|herbs|tomatoes|peppers|eggplants|cucumbers|zucchini" default:"small vegetables" source:"the group of FAO paper 56 that most winter crops are in" doc:"what grows in it, for the water it needs; heat and light do not ask"`

	Sown  *Date    `key:"sown" doc:"day on which it is sown or planted, for the stages of its need: the last such day before the winter ends, or with a year; left out: grown all the time"`
	Roots *float64 `key:"roots" kind:"length" range:"0.05..2" doc:"how deep its grown roots draw water; left out: the shallow end of the crop's range in FAO paper 56, table 22"`
}

// ColdSink is a trench in the floor.
type ColdSink struct {
	From  float64 `key:"from" kind:"length" range:"0..15" must:"yes" doc:"front edge, from the inside of the front wall"`
	To    float64 `key:"to" kind:"length" range:"0..15" must:"yes" doc:"back edge"`
	Depth float64 `key:"depth" kind:"length" range:"0.05..2" must:"yes" doc:"below the floor"`
}

// Surfaces are combined (convection and longwave) surface coefficients, when they are to be fixed. All left out: computed.
type Surfaces struct {
	Inside         *float64 `key:"inside" kind:"transmittance" range:"0.1..100" doc:"inside, between each face and the air"`
	Outside        *float64 `key:"outside" kind:"transmittance" range:"0.1..200" doc:"outside, opaque faces"`
	OutsideGlazing *float64 `key:"outside_glazing" kind:"transmittance" range:"0.1..200" doc:"outside, glazing"`
	InsideFactor   *float64 `key:"inside_factor" kind:"number" range:"0.2..5" doc:"times the computed film of air on faces inside, drums apart; left out: 1"`
	DrumFactor     *float64 `key:"drum_factor" kind:"number" range:"0.2..5" doc:"times the computed film of air on the sides of drums; left out: 1"`
}

// Ground is the earth round the house as it is computed.
type Ground struct {
	Built    Date      `key:"built" default:"09-01" source:"first winter, built in late summer" doc:"day the house is set into undisturbed ground"`
	Age      int       `key:"age" kind:"count" range:"0..8" default:"0" source:"first winter: the ground is coldest then" doc:"whole years that the house has stood before this winter, warming its ground"`
	Boards   []Board   `key:"boards" doc:"insulation boards in the ground"`
	Footings []Footing `key:"footings" doc:"strips of concrete or stone under a wall or a row of drums: what they conduct is reckoned, whether they carry is not"`
	Cell     float64   `key:"finest_cell" kind:"length" range:"0.02..0.3" default:"0.04 m" source:"choice of the program" doc:"finest cell of the mesh"`
	Reach    float64   `key:"reach" kind:"length" range:"3..30" default:"8 m" source:"ISO 10211 cut-off planes: 2.5 widths" doc:"ground computed beyond the walls, and below the floor"`
	DeepC    *float64  `key:"deep_temperature" kind:"temperature" range:"-10..30" doc:"given temperature of the deep ground; left out: from the year's surface"`
}

// Board is a sheet of insulation in the ground: upright at a wall's outside or lying out from it.
type Board struct {
	At        string  `key:"at" enum:"front|back" must:"yes" doc:"at the front or the back wall"`
	Lay       string  `key:"lay" enum:"upright|lying" default:"upright" source:"most boards stand" doc:"upright down the outside of the wall, or lying out from it"`
	Material  string  `key:"material" default:"xps" source:"usual in the ground" doc:"material"`
	Thickness float64 `key:"thickness" kind:"length" range:"0.01..0.5" must:"yes" doc:"thickness"`
	Reach     float64 `key:"reach" kind:"length" range:"0.1..5" must:"yes" doc:"how deep it goes below grade, or how far out it lies"`
	Depth     float64 `key:"depth" kind:"length" range:"0..3" default:"0.3 m" source:"spade depth" doc:"depth of a lying board"`
}

// Footing is a strip in the ground, as long as the house, that a wall or a row of drums stands on.
type Footing struct {
	Under     string  `key:"under" must:"yes" doc:"front wall, back wall, or the name of a row of drums"`
	Material  string  `key:"material" must:"yes" doc:"material, such as concrete dense"`
	Width     float64 `key:"width" kind:"length" range:"0.1..3" must:"yes" doc:"across the house, its middle under the middle of the wall or the row; under a wall at least as wide as that"`
	Thickness float64 `key:"thickness" kind:"length" range:"0.05..2" must:"yes" doc:"down from the foot of the wall; under drums from below the layers of the floor"`
}

// Unknown is how far each value that nobody measured may lie from what the plan says. A key left out has the spread that the program
// knows (package unknown).
type Unknown struct {
	Leakage      *Spread `key:"leakage" of:"leakage.air_changes|leakage.area|leakage.per_area" doc:"air through joints"`
	Moisture     *Spread `key:"soil_moisture" of:"site.soil.moisture" doc:"moisture of the soil; its layers move with it"`
	Conductivity *Spread `key:"soil_conductivity" of:"site.soil.conductivity" doc:"conductivity of the soil at its moisture; its layers move with it"`
	Dirt         *Spread `key:"dirt" of:"frame.dirt" doc:"dirt on the glazing"`
	Ageing       *Spread `key:"ageing" of:"frame.ageing" doc:"light the glazing loses in each year of its age"`
	DrumFactor   *Spread `key:"drum_factor" of:"surfaces.drum_factor" doc:"film of air on the sides of drums"`
	InsideFactor *Spread `key:"inside_factor" of:"surfaces.inside_factor" doc:"film of air on faces inside, drums apart"`
	CoverFit     *Spread `key:"cover_fit" of:"cover.fit" doc:"fit of the cover"`
	Snowfall     *Spread `key:"snowfall" doc:"depth of every snowfall of the plan; as times only"`
}

// Spread is how far a value may lie from what the plan says: 8 in 10 houses lie between Low and High, one below and one above.
type Spread struct {
	Text      string // as written
	Off       bool   // the value is known
	Path      string // the value whose measure Low and High are in; "": they are times the plan's own value
	Low, High float64
}

// Run is what is computed. In the file `run: winter` and `run: whole year` are short for `run: {span: ...}`.
type Run struct {
	Span   string  `key:"span" enum:"winter|whole year" default:"winter" source:"choice of the program" doc:"winter runs from to until; whole year runs 1 January to 31 December"`
	From   Date    `key:"from" default:"10-01" source:"choice of the program" doc:"first day of a winter"`
	Until  Date    `key:"until" default:"04-30" source:"choice of the program" doc:"last day of a winter"`
	Limit  float64 `key:"limit" kind:"temperature" range:"-20..20" default:"0 degC" source:"freezing" doc:"the limit that is watched"`
	Place  string  `key:"place" doc:"the place whose lowest is watched first; left out: the coldest leaf tips, or the coldest air where there are no beds"`
	Seed   int     `key:"seed" kind:"count" range:"0.." default:"1" source:"choice of the program" doc:"seed of made weather"`
	WarmUp int     `key:"warm_up_days" kind:"count" range:"0..400" default:"20" source:"own judgement" doc:"days run before the first day that counts, when the house was built before"`
}

// Date is a day of any year (Year 0) or of one year.
type Date struct{ Year, Month, Day int }

// Hours is a daily span of clock time [h], standard time; From may be later than Until (over midnight). 0..24 means always.
type Hours struct{ From, Until float64 }
