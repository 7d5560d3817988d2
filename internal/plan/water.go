package plan

// Water is the way of rain: off the roof by gravity into the drums of the store, and from them to the beds. Every height under it counts from
// grade, as those of the section do. Rain and use move the drums' water, and its heat, in every simulated winter. The usual scheme is `catchments` and one of `manifolds` for each row of drums; `points` and `pipes` give any other.
type Water struct {
	Catchments []Catchment  `key:"catchments" must:"yes" doc:"what rain falls on and runs off; each has a gutter along its lower edge"`
	Gutter     Gutter       `key:"gutter" doc:"gutter along the lower edge of each catchment"`
	FirstFlush *FirstFlush  `key:"first_flush" doc:"lets the first water of a rain run away; left out: all of it is kept"`
	Settling   *Settling    `key:"settling_drum" doc:"a drum outside the store in which dirt sinks before the water goes on; left out: there is none"`
	Inlet      WaterInlet   `key:"inlet" doc:"pipe from gutter or settling drum to the drums"`
	Manifolds  []Manifold   `key:"manifolds" doc:"short form: a pipe along a row with a branch to each of its drums; a row after the first is fed from the end of the one before"`
	Points     []WaterPoint `key:"points" doc:"long form: joints that pipes meet at"`
	Pipes      []WaterPipe  `key:"pipes" doc:"long form: pipes between drums, joints and the named ends"`
	Valves     []Valve      `key:"valves" doc:"valves beside those between bays, and valves that are shut"`
	Overflow   Overflow     `key:"overflow" doc:"where water goes that finds the drums full"`
	DripLines  []DripLine   `key:"drip_lines" doc:"pipes with emitters along a bed"`
	DrawOff    *float64     `key:"draw_off" kind:"length" range:"-5..10" doc:"height of the tap or hose for a watering can; left out: as low as the branches of the lowest drums"`
	Use        *[12]float64 `key:"use_a_day" kind:"volume" range:"0..50" doc:"water used on a day of each month, January first, onto the beds of drip lines that run, else onto all; it leaves the drums of the simulated winter too; left out: none"`
	Keep       []LeastWater `key:"keep" doc:"water that is never used between two dates, since its warmth is wanted"`
	JointOdds  JointOdds    `key:"joint_odds" doc:"how often a joint of water pipes fails"`
	Pump       float64      `key:"pump_efficiency" kind:"share" range:"0.01..0.95" default:"30 %" source:"own judgement: small pumps and their motors, 20 to 45 %" doc:"of a pump that would lift what gravity cannot, motor and pump together"`
}

// Catchment is a surface that rain runs off.
type Catchment struct {
	Name    string   `key:"name" must:"yes" doc:"name"`
	Of      string   `key:"of" doc:"name of a face of the section, such as back roof or glazing: its area, slope and lower edge are taken; or give area"`
	Area    *float64 `key:"area" kind:"area" range:"0.1..2000" doc:"measured along the slope, where it is no face of the house"`
	Slope   float64  `key:"slope" kind:"angle" range:"0..80" unless:"of" default:"0 deg" source:"an area is then as seen from above" doc:"slope of the area from level; rain is counted as falling straight down"`
	Surface string   `key:"surface" enum:"metal|glass|plastic sheet|tile|shingle|boards|planted" default:"metal" source:"the usual roof for rain water" doc:"what it is made of; decides the share that runs off"`
	Runoff  *float64 `key:"runoff" kind:"share" range:"0.05..1" doc:"share of the rain that reaches the gutter; left out: by its surface"`
	Eave    *float64 `key:"eave_height" kind:"length" range:"-3..15" doc:"height of its lower edge; left out: that of the face"`
	Snow    string   `key:"snow" enum:"melts|slides off" default:"melts" source:"own judgement: most roofs; steep smooth ones shed it" doc:"snow on it melts into the gutter, or slides past it and is lost"`
}

// Gutter is the gutter of every catchment.
type Gutter struct {
	Form   string   `key:"form" enum:"half round|box" default:"half round" source:"the usual gutter" doc:"its section"`
	Width  float64  `key:"width" kind:"length" range:"0.03..0.5" default:"125 mm" source:"common practice, no source" doc:"across its top; a box is taken half as deep as it is wide, as a half round is"`
	Fall   float64  `key:"fall" kind:"share" range:"0..0.1" default:"0.5 %" source:"5 mm in a metre; common practice, no source" doc:"height lost over its length"`
	Length *float64 `key:"length" kind:"length" range:"0.3..100" doc:"from its far end to the outlet; left out: the house's"`
	Drop   float64  `key:"drop" kind:"length" range:"0..2" default:"60 mm" source:"depth of a gutter of the usual width; own judgement" doc:"bottom of its high end below the eave"`
	Outlet float64  `key:"outlet" kind:"length" range:"0.01..0.3" default:"63 mm" source:"common practice, no source" doc:"inside diameter of its outlet"`
}

// FirstFlush is what is let go of each rain.
type FirstFlush struct {
	Volume  *float64 `key:"volume" kind:"volume" range:"0..5" doc:"of the vessel that takes the first water, all catchments together; or give depth"`
	Depth   float64  `key:"depth" kind:"length" range:"0..0.02" unless:"volume" default:"0.4 mm" source:"10 gal per 1000 ft2, Texas Manual on Rainwater Harvesting, 3rd ed. 2005, ch. 2, from memory" doc:"of rain on the catchments as seen from above"`
	DryDays int      `key:"dry_days" kind:"count" range:"1..60" default:"1" source:"it drips empty within a day; own judgement" doc:"days without rain after which it is empty again"`
}

// Settling is a drum before the store.
type Settling struct {
	Base   float64  `key:"base" kind:"length" range:"-4..10" must:"yes" doc:"height of its bottom"`
	Tall   float64  `key:"tall" kind:"length" range:"0.2..4" default:"0.87 m" source:"drum 55 gal" doc:"from its bottom to its rim"`
	Volume float64  `key:"volume" kind:"volume" range:"0.005..10" default:"208 L" source:"drum 55 gal" doc:"to its rim"`
	Outlet float64  `key:"outlet" kind:"length" range:"-4..14" must:"yes" doc:"height of the outlet to the drums; what lies below it stays for dirt to settle in"`
	Drain  *float64 `key:"drain" kind:"length" range:"-4..14" doc:"height of the tap that its dirt is let out by; left out: 5 cm above its bottom"`
	Stands string   `key:"stands" enum:"outside|inside" default:"outside" source:"cold side" doc:"where it stands, for what freezes"`
}

// WaterInlet is the pipe from gutter or settling drum to the drums.
type WaterInlet struct {
	Mouth     string   `key:"mouth" enum:"open pipe|flap|one-way valve" default:"open pipe" source:"cold side: nothing keeps the cold out" doc:"what is at its end; a flap can freeze"`
	Air       string   `key:"air" doc:"name of the inlet under inlets that reckons the air it lets in"`
	Diameter  float64  `key:"diameter" kind:"length" range:"0.005..0.3" default:"50 mm" source:"common practice, no source" doc:"inside"`
	Length    float64  `key:"length" kind:"length" range:"0.1..200" default:"6 m" source:"own judgement: down the wall and along half a house" doc:"of all its parts"`
	Highest   *float64 `key:"highest" kind:"length" range:"-5..15" doc:"highest place that it leads over after its beginning; left out: it falls all the way"`
	End       *float64 `key:"end" kind:"length" range:"-5..15" doc:"height of its end; left out: over the water of the first drum, where it stands filled, or as high as its own water can come"`
	Material  string   `key:"material" enum:"plastic|steel|galvanised steel|copper|rubber hose" default:"plastic" source:"the usual pipe" doc:"decides its roughness"`
	Roughness *float64 `key:"roughness" kind:"length" range:"0..0.005" doc:"of its wall; left out: by its material"`
	Bends     int      `key:"bends" kind:"count" range:"0..50" default:"3" source:"own judgement" doc:"elbows on its way"`
	ShutFrom  *Date    `key:"shut_from" doc:"first day of the frosts, on which it is shut: rain then goes past the drums until shut_until; left out: it is open all year"`
	ShutUntil *Date    `key:"shut_until" doc:"last day on which it is shut"`
}

// Manifold is a pipe along a row of drums with a branch to each. A bay begins with a valve.
type Manifold struct {
	Row       string   `key:"row" must:"yes" doc:"name of a row of drums"`
	Height    *float64 `key:"height" kind:"length" range:"-5..10" doc:"of the pipe and its branches; left out: 5 cm above the bottom of the lowest drums"`
	From      string   `key:"from" enum:"left|right" default:"left" source:"names only" doc:"end at which the water comes"`
	Diameter  float64  `key:"diameter" kind:"length" range:"0.004..0.2" default:"25 mm" source:"common practice, no source" doc:"inside"`
	Branch    float64  `key:"branch" kind:"length" range:"0.02..5" default:"0.3 m" source:"own judgement" doc:"length of a branch"`
	Material  string   `key:"material" enum:"plastic|steel|galvanised steel|copper|rubber hose" default:"plastic" source:"the usual pipe" doc:"decides its roughness"`
	Roughness *float64 `key:"roughness" kind:"length" range:"0..0.005" doc:"of its wall; left out: by its material"`
	Couplings string   `key:"couplings" enum:"rigid|flexible" default:"rigid" source:"cold side: a rigid joint cracks where a drum settles" doc:"between branch and drum"`
}

// WaterPoint is a joint of pipes.
type WaterPoint struct {
	Name   string  `key:"name" must:"yes" doc:"name"`
	Height float64 `key:"height" kind:"length" range:"-5..15" must:"yes" doc:"height"`
}

// WaterPipe is one pipe of the long form.
type WaterPipe struct {
	Name       string   `key:"name" must:"yes" doc:"name"`
	From       string   `key:"from" must:"yes" doc:"inlet, a point, or a drum such as 'back drums, drum 3', counted from the left"`
	To         string   `key:"to" must:"yes" doc:"a point or a drum"`
	FromHeight *float64 `key:"from_height" kind:"length" range:"-5..15" doc:"height at which it leaves a drum; left out: 5 cm above its bottom"`
	ToHeight   *float64 `key:"to_height" kind:"length" range:"-5..15" doc:"height at which it meets a drum; left out: 5 cm above its bottom"`
	Diameter   float64  `key:"diameter" kind:"length" range:"0.004..0.3" must:"yes" doc:"inside"`
	Length     float64  `key:"length" kind:"length" range:"0.02..200" must:"yes" doc:"length"`
	Material   string   `key:"material" enum:"plastic|steel|galvanised steel|copper|rubber hose" default:"plastic" source:"the usual pipe" doc:"decides its roughness"`
	Roughness  *float64 `key:"roughness" kind:"length" range:"0..0.005" doc:"of its wall; left out: by its material"`
	Bends      int      `key:"bends" kind:"count" range:"0..50" default:"0" source:"a straight pipe" doc:"elbows on its way"`
	Couplings  string   `key:"couplings" enum:"rigid|flexible" default:"rigid" source:"cold side: a rigid joint cracks where a drum settles" doc:"at its ends"`
}

// Valve is a valve in a pipe.
type Valve struct {
	Name  string `key:"name" must:"yes" doc:"name"`
	On    string `key:"on" must:"yes" doc:"inlet, overflow, the name of a pipe or drip line, or a bay: the valve in the manifold where it begins"`
	State string `key:"state" enum:"open|shut" default:"open" source:"as it is run" doc:"how it stands"`
	Kind  string `key:"kind" enum:"ball|gate|globe" default:"ball" source:"the usual valve" doc:"decides what it resists"`
}

// Overflow is where water goes that finds the drums full.
type Overflow struct {
	From     string   `key:"from" doc:"the drum it leaves; left out: the last one that the water reaches"`
	Height   *float64 `key:"height" kind:"length" range:"-5..10" doc:"of its lower edge there; left out: where the row stands filled as its fill says"`
	Diameter float64  `key:"diameter" kind:"length" range:"0.005..0.3" default:"50 mm" source:"as wide as the inlet; own judgement" doc:"inside"`
	Length   float64  `key:"length" kind:"length" range:"0.05..200" default:"5 m" source:"own judgement" doc:"length"`
	To       string   `key:"to" enum:"outside|cold sink|floor" default:"outside" source:"water in the house wets ground and air" doc:"where it ends"`
	End      *float64 `key:"end" kind:"length" range:"-10..10" doc:"height of its end; left out: grade outside, the floor or the bottom of the cold sink inside"`
}

// DripLine is a pipe with emitters along a bed.
type DripLine struct {
	Name     string   `key:"name" must:"yes" doc:"name"`
	Bed      string   `key:"bed" must:"yes" doc:"name of the bed that it waters"`
	From     string   `key:"from" doc:"the point or drum it leaves; left out: where the manifold ends"`
	Height   *float64 `key:"height" kind:"length" range:"-5..10" doc:"of the emitters; left out: the soil of the bed"`
	Supply   float64  `key:"supply" kind:"length" range:"0.1..100" default:"3 m" source:"own judgement: across the house" doc:"pipe without emitters before it"`
	Length   *float64 `key:"length" kind:"length" range:"0.1..200" doc:"with emitters; left out: the house's"`
	Diameter float64  `key:"diameter" kind:"length" range:"0.003..0.1" default:"13.6 mm" source:"tube of 16 mm outside, common practice, no source" doc:"inside, supply and line"`
	Spacing  float64  `key:"spacing" kind:"length" range:"0.05..5" default:"30 cm" source:"common practice, no source" doc:"from emitter to emitter"`
	Lines    int      `key:"lines" kind:"count" range:"1..20" default:"1" source:"one is written" doc:"how many side by side, each from its own supply"`
	Emitter  Emitter  `key:"emitter" doc:"one emitter"`
}

// Emitter is one dripper: flow = rated flow (head / rated head)^exponent.
type Emitter struct {
	Flow      float64 `key:"flow" kind:"water_flow" range:"0.0000000277..0.0001" default:"2 L/h" source:"common practice, no source" doc:"at its rated head"`
	Head      float64 `key:"head" kind:"length" range:"0.1..100" default:"10 m" source:"emitters are rated at 1 bar; common practice, no source" doc:"of water at which it is rated"`
	Exponent  float64 `key:"exponent" kind:"number" range:"0..1" default:"0.5" source:"turbulent emitters and plain holes, Keller and Karmeli 1974, from memory" doc:"0 keeps its flow at any head, 0.5 is a hole, 1 is laminar"`
	Variation float64 `key:"variation" kind:"share" range:"0..0.5" default:"7 %" source:"own judgement, between good and middling drippers" doc:"standard deviation of the flow of new ones over its mean"`
	LeastHead float64 `key:"least_head" kind:"length" range:"0..20" default:"5 cm" source:"own judgement: below it drops no longer come evenly" doc:"head below which it is counted as dry"`
}

// LeastWater is water that is kept between two days.
type LeastWater struct {
	Volume float64 `key:"volume" kind:"volume" range:"0..200" must:"yes" doc:"never used below this, all drums together"`
	From   Date    `key:"from" must:"yes" doc:"first day, month and day"`
	Until  Date    `key:"until" must:"yes" doc:"last day"`
}

// JointOdds are the odds that a joint fails in one winter, by what its couplings are: a joint is a point where pipes meet, or where one meets a drum.
type JointOdds struct {
	Rigid    float64 `key:"rigid" kind:"share" range:"0..1" default:"2 %" source:"assumed: nobody counts them; own judgement" doc:"of a joint with a rigid coupling, in one winter"`
	Flexible float64 `key:"flexible" kind:"share" range:"0..1" default:"0.5 %" source:"assumed: nobody counts them; own judgement" doc:"of a joint all of whose couplings are flexible, in one winter"`
}
