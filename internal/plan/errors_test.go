package plan

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// spot is the line and column of the mark ‸ in a text, and the text without it.
func spot(t *testing.T, text string) (clean string, line, column int) {
	t.Helper()
	before, after, ok := strings.Cut(text, "‸")
	if !ok {
		t.Fatal("no mark in the text")
	}
	last := before[strings.LastIndexByte(before, '\n')+1:]
	return before + after, strings.Count(before, "\n") + 1, len([]rune(last)) + 1
}

// faults puts one fault into a good plan: from is replaced by to, and ‸ marks where it has to be found.
var faults = []struct {
	plan, from, to string
	path, wants    string // of the first finding
	hint           string
}{
	// numbers
	{pit, "depth: 4 ft", "depth: 1‸,2 m", "shape.depth", "decimal comma", "write 1.2 with a point"},
	{pit, "depth: 4 ft", "depth: ‸4", "shape.depth", "4 has no unit", "write a number and a unit"},
	{pit, "depth: 4 ft", "depth: 4 ‸fot", "shape.depth", `unknown length unit "fot"`, `did you mean "ft"?`},
	{pit, "depth: 4 ft", "depth: 4 ‸degC", "shape.depth", "degC is a temperature, here a length is wanted", ""},
	{pit, "depth: 4 ft", "depth: ‸20 ft", "shape.depth", "20 ft is out of range, allowed: 0 m to 4 m (0 ft to 13.12 ft)", ""},
	{pit, "depth: 4 ft", "depth: ‸4001 mm", "shape.depth", "allowed: 0 m to 4 m (0 mm to 4000 mm)", ""},
	{pit, "depth: 4 ft", "depth: ‸.nan", "shape.depth", "not a finite number", ""},
	{pit, "depth: 4 ft", "depth: ‸-.inf", "shape.depth", "not a finite number", ""},
	{pit, "depth: 4 ft", "depth: ‸NaN m", "shape.depth", "not a finite number", ""},
	{pit, "depth: 4 ft", "depth: ‸012 ft", "shape.depth", "octal", "leave out the leading 0"},
	{pit, "depth: 4 ft", "depth: 1‸_0 ft", "shape.depth", "underscore", ""},
	{pit, "depth: 4 ft", "depth: 1‸:30", "shape.depth", "", ""},
	{pit, "depth: 4 ft", "depth: ‸yes", "shape.depth", `"yes" is not a length`, ""},
	{pit, "depth: 4 ft", "depth: ‸'4'", "shape.depth", "4 has no unit", ""},
	{pit, "depth: 4 ft", `depth: ‸"1,2 m"`, "shape.depth", "decimal comma", ""},
	{pit, "depth: 4 ft", "depth: 4 ft ‸13 in", "shape.depth", "not less than 1 ft", ""},
	{pit, "drums: 12", "drums: ‸12.5", "store.rows[0].drums", "not a whole number", ""},
	{pit, "drums: 12", "drums: ‸0x0C", "store.rows[0].drums", "not a decimal number", ""},
	{pit, "moisture: 40 %", "moisture: ‸40", "site.soil.moisture", "not a share from 0 to 1", "'40 %'"},
	{pit, "-10 degC", "‸100 degC", "climate.mean_low[1]", "allowed: -60 degC to 40 degC", ""},
	{pit, "suncellar: 1", "suncellar: ‸2", "suncellar", "2 is out of range, allowed: 1 only", ""},
	{box, "fixed 10 degC", "fixed ‸10", "section.edges[2].behind", "10 has no unit", ""},
	{box, "fixed 10 degC", "‸fixed 80 degC", "section.edges[2].behind", "allowed: -50 degC to 60 degC", ""},
	{box, "behind: fixed", "behind: ‸fixd", "section.edges[2].behind", "is not read here", `did you mean "fixed"?`},
	{box, "[6 m, 3.2 m]", "[6 m, ‸3.2]", "section.edges[1].to[1]", "3.2 has no unit", ""},
	{box, "[6 m, 3.2 m]", "‸[6 m]", "section.edges[1].to", "1 values are written, 2 are wanted", ""},
	{box, "[6 m, 3.2 m]", "‸6 m", "section.edges[1].to", "a list of 2 values is wanted here, this is a single value", ""},
	{box, "boards: 64 %", "boards: ‸64", "sun_shares.boards", "not a share", ""},
	// words
	{pit, "kind: pit", "kind: ‸pits", "shape.kind", `"pits" is not known here, allowed: pit, lean-to`, `did you mean "pit"?`},
	{pit, "date: 12-24", "date: ‸02-30", "snow.list[0].date", "02-30 is no day: the month has the days 01 to 28", ""},
	{pit, "date: 12-24", "date: ‸02-29", "snow.list[0].date", "leap years", ""},
	{pit, "date: 2025-01-10", "date: ‸2025-02-29", "snow.list[1].date", "the days 01 to 28", ""},
	{pit, "date: 12-24", "date: ‸24-12", "snow.list[0].date", "no month from 01 to 12", "month stands before the day"},
	{pit, "date: 12-24", "date: ‸Christmas", "snow.list[0].date", `"Christmas" is not a date`, ""},
	{pit, "hours: 17:00-08:00", "hours: ‸17-8", "cover.hours", `"17-8" is not a span of hours`, "18:00-07:00"},
	{pit, "hours: 17:00-08:00", "hours: ‸17:00-24:01", "cover.hours", "is not a span of hours", ""},
	{pit, "hours: 17:00-08:00", "hours: ‸17:00-17:00", "cover.hours", "has no length", "'always'"},
	{pit, "zone: America/Denver", "zone: ‸America/Denvr", "site.time_zone", "is not a time zone", "UTC-7"},
	{pit, "zone: America/Denver", "zone: ‸Local", "site.time_zone", "is not a time zone", ""},
	{pit, "zone: America/Denver", "zone: ‸UTC-13", "site.time_zone", "between UTC-12 and UTC+14", ""},
	{pit, "{name: south,", "{name: ‸'',", "beds[0].name", "nothing is written", ""},
	{pit, "{name: south,", `{name: ‸"a\nb",`, "beds[0].name", "line break", ""},
	// keys
	{pit, "cover:\n  r_value: R-4", "cover:\n  ‸r_valu: R-4", "cover", `unknown key "r_valu"`, `did you mean "r_value"?`},
	{pit, "run: whole", "‸rum: whole", "", `unknown key "rum"`, `did you mean "run"?`},
	{pit, "depth: 4 ft", "depth: 4 ft\n  ‸depth: 5 ft", "shape.depth", "the key stands twice, first at line 47, column 3", ""},
	{pit, "  straw clay: {", "  straw clay: {conductivity: 1 W/mK, density: 1 kg/m3, specific_heat: 1 J/kgK}\n  ‸straw clay: {", "materials.straw clay", "stands twice", ""},
	{pit, "depth: 4 ft", "‸depth:", "shape.depth", "has no value", ""},
	{pit, "depth: 4 ft", "‸depth: ~", "shape.depth", "has no value", ""},
	{pit, "cover:\n  r_value: R-4", "cover:\n  ‸fit: 50 %", "cover.r_value", "is missing", "resistance"},
	{pit, "name: Kale pit", "", "name", "is missing", "called"},
	{pit, "depth: 4 ft", "depth: ‸[4 ft]", "shape.depth", "a single value is wanted here, this is a list", ""},
	{pit, "depth: 4 ft", "depth: ‸{m: 4}", "shape.depth", "a single value is wanted here, this is keys with values", ""},
	{pit, "  - {name: south, from: 3 ft, to: 6 ft}", "  - ‸south", "beds[0]", "keys with values are wanted here, this is a single value", "name, from, to"},
	{pit, "-12 degC, ", "", "climate.mean_low", "11 values are written, 12 are wanted", "January"},
	{box, "heat:\n  - {", "heat:\n    ‸{", "heat", "a list is wanted here, this is keys with values", "dash"},
	{box, "sun_shares: {boards: 64 %, roof: 0.17}", "sun_shares: ‸[64 %]", "sun_shares", "names with values are wanted here, this is a list", ""},
	{box, "run: {span: winter", "run: {span: ‸summer", "run.span", `"summer" is not known here`, ""},
	{pit, "run: whole year", "run: ‸summer", "run.span", `"summer" is not known here`, ""},
	// YAML
	{pit, "depth: 4 ft", "depth: ‸&d 4 ft", "", "anchors", ""},
	{pit, "depth: 4 ft", "depth: ‸*d", "", "anchors and aliases", ""},
	{pit, "depth: 4 ft", "depth: ‸!!str 4 ft", "", "tags", ""},
	{pit, "depth: 4 ft", "depth: 4 ft\n  ‸<<: {a: b}", "", "merge keys", ""},
	{pit, "depth: 4 ft", "depth: 4 ft\n  ‸? a\n  : b", "", "a plain word", ""},
	{pit, "depth: 4 ft", "depth: ‸4 ft: 3", "", "not YAML", ""},
	{pit, "  depth: 4 ft", " ‸\tdepth: 4 ft", "", "a tab", "blanks"},
	{pit, "run: whole", "---\n‸run: whole", "", "a second document", ""},
	{pit, "place: Hollow Farm", "place: Höllow‸\xff Farm", "", "not UTF-8", ""},
	{pit, "place: Hollow Farm", "place: Höllow‸\x07 Farm", "", "control character (U+0007)", ""},
	{pit, "notes: |", "extra: " + strings.Repeat("[", maxOpen) + "‸[\nnotes: |", "", "brackets", ""},
	{pit, "notes: |", "extra: [[[[[[[[[[[[[[[[[[[‸[1]]]]]]]]]]]]]]]]]]]]\nnotes: |", "", "levels", ""},
	// between values
	{pit, "zone: America/Denver", "zone: ‸UTC+7", "site.time_zone", "10.0 h away from the sun of longitude -105.5 deg", "negative"},
	{pit, "1 degC, 3 degC,", "‸-13 degC, 3 degC,", "climate.mean_high[0]", "-13 degC in January is below the mean low (-12 degC)", ""},
	{pit, "[6, 6, 8,", "[6, ‸30, 8,", "climate.wet_days[1]", "30 days in February, allowed: 0 to 29", ""},
	{pit, "[6, 6, 8,", "[6, ‸0, 8,", "climate.wet_days[1]", "no wet day", ""},
	{pit, "shape:\n", "section:\n  length: 3 m\n  start: [0 m, 0 m]\n  edges: []\nshape:\n", "section", "shape and section are both given", ""},
	{pit, "  glazing_slope: 55 deg\n", "", "shape.glazing_slope", "is missing, a pit needs it", ""},
	{pit, "  back_roof: insulated roof\n", "", "shape.back_roof", "is missing, a pit needs it", ""},
	{pit, "kind: pit", "kind: lean-to", "shape.glazing_slope", "a lean-to has no glazing_slope", ""},
	{pit, "glazing_slope: 55 deg", "glazing_slope: 10 deg\n  front_height: 0 m", "shape.back_height", "too high", ""},
	{pit, "glazing: twin wall 16 mm", "glazing: ‸twin wal 16 mm", "shape.glazing", `there is no glazing "twin wal 16 mm"`, `did you mean "twin wall 16 mm"?`},
	{pit, "front_wall: earth wall", "front_wall: ‸earth wal", "shape.front_wall", `there is no build "earth wal"`, `"earth wall"`},
	{pit, "material: concrete", "material: ‸concret", "builds.earth wall.layers[0].material", `no material "concret"`, `"concrete"`},
	{pit, "{r_value: R-1}", "‸{r_value: R-1, material: xps}", "builds.earth wall.layers[2].thickness", "is missing", ""},
	{pit, "{r_value: R-1}", "{thickness: ‸1 in, r_value: R-1}", "builds.earth wall.layers[2].thickness", "without a material", ""},
	{pit, "{r_value: R-1}", "‸{thickness: 1 in}", "builds.earth wall.layers[2]", "neither material nor r_value", ""},
	{pit, "r_value: R-30", "r_value: ‸R-30\n    layers: [{r_value: R-1}]", "builds.insulated roof.r_value", "both given", ""},
	{pit, "gaps: [{thickness: 12 mm}]", "gaps: ‸[]", "glazings.two sheets.gaps", "0 gaps for 2 panes, allowed: 1", ""},
	{pit, "{transmittance: 70 %, u_value: 2.8 W/m2K}", "‸{transmittance: 70 %}", "glazings.old windows.u_value", "is missing", ""},
	{pit, "ends: {build: earth wall}", "ends: ‸{left: {build: earth wall}}", "ends.build", "the right end has no build", ""},
	{pit, "in: left end", "in: ‸left and", "windows[0].in", `there is no face "left and"`, `"left end"`},
	{pit, "in: back roof", "wax: {opens_at: 25 degC, open_full_at: ‸25.5 degC}, in: back roof", "vents[0].wax.open_full_at", "not at least 1 K above opens_at (25 degC)", "full stroke"},
	{pit, "in: back roof", "wax: {opens_at: ‸80 degC}, in: back roof", "vents[0].wax.opens_at", "80 degC", ""},
	{pit, "in: back roof", "wax: 20 degC, hours: ‸always, in: back roof", "vents[0].hours", "beside an opener with wax", "day and night"},
	{pit, "in: back roof", "in: ‸roof", "vents[0].in", `there is no face "roof"`, ""},
	{pit, "{name: north,", "{name: ‸south,", "beds[1].name", `"south" stands twice`, ""},
	{pit, "from: 6 ft, to: 9 ft", "from: ‸5 ft, to: 9 ft", "beds[1].from", "overlaps the bed south (3 ft to 6 ft)", ""},
	{pit, "from: 6 ft, to: 9 ft", "from: 6 ft, to: ‸13 ft", "beds[1].to", "outside the house, 3.658 m wide", ""},
	{pit, "from: 6 ft, to: 9 ft", "from: 6 ft, to: ‸6 ft", "beds[1].to", "not behind the front edge", ""},
	{pit, "{from: 0 ft, to: 2 ft", "{from: ‸2 ft, to: 4 ft", "cold_sink.from", "overlaps the bed south", ""},
	{pit, "at: 10.5 ft", "at: ‸12.5 ft", "store.rows[0].at", "does not fit into the house", ""},
	{pit, "at: 0.5 m", "at: ‸10 cm", "store.rows[1].at", "does not fit into the house", ""},
	{pit, "drums: 12, at", "drums: 12, size: ‸drum 56 gal, at", "store.rows[0].size", `no drum "drum 56 gal"`, `"drum 55 gal"`},
	{pit, "      height: 60 cm\n", "", "store.rows[1].height", "is missing", ""},
	{pit, "drums: 12, at", "drums: ‸12, tiers: 4, bays: 4, at", "store.rows[0].drums", "12 drums are too few for 4 tiers in 4 bays", ""},
	// what happens to the water
	{pit, "beds:\n", "  events: [{kind: ‸leek, bay: back, from: 12-20, rate: 5 L/h}]\nbeds:\n", "store.events[0].kind", `"leek" is not known here, allowed: leak, drain, refill, draw`, `did you mean "leak"?`},
	{pit, "beds:\n", "  events: [{kind: leak, bay: ‸bakc, from: 12-20, rate: 5 L/h}]\nbeds:\n", "store.events[0].bay", `there is no bay or row "bakc"`, `did you mean "back"?`},
	{pit, "beds:\n", "  events: [{kind: leak, bay: ‸'back, bay 2', from: 12-20, rate: 5 L/h}]\nbeds:\n", "store.events[0].bay", `there is no bay or row "back, bay 2"`, ``},
	{pit, "beds:\n", "  events: [{kind: leak, bay: back, from: ‸2024-12-20, rate: 5 L/h}]\nbeds:\n", "store.events[0].from", `has a year`, `month and day alone`},
	{pit, "beds:\n", "  events: [{kind: leak, bay: back, from: 12-20, until: ‸12-20, rate: 5 L/h}]\nbeds:\n", "store.events[0].until", `from and until are one day`, `mended`},
	{pit, "beds:\n", "  events: [‸{kind: leak, bay: back, from: 12-20}]\nbeds:\n", "store.events[0]", `neither rate nor hole is given`, ``},
	{pit, "beds:\n", "  events: [{kind: leak, bay: back, from: 12-20, rate: 5 L/h, hole: ‸5 mm}]\nbeds:\n", "store.events[0].hole", `both given`, ``},
	{pit, "beds:\n", "  events: [{kind: leak, bay: back, from: 12-20, rate: ‸5}]\nbeds:\n", "store.events[0].rate", `5 has no unit`, ``},
	{pit, "beds:\n", "  events: [{kind: leak, bay: back, from: 12-20, hole: ‸30 cm}]\nbeds:\n", "store.events[0].hole", `out of range`, ``},
	{pit, "beds:\n", "  events: [{kind: leak, bay: back, from: 12-20, rate: 5 L/h, share: ‸50 %}]\nbeds:\n", "store.events[0].share", `a leak has no share`, `its keys: bay, from, hour, until, rate, hole, level, to`},
	{pit, "beds:\n", "  events: [‸{kind: drain, bay: back, from: 12-20}]\nbeds:\n", "store.events[0]", `neither share nor level is given`, ``},
	{pit, "beds:\n", "  events: [{kind: drain, bay: back, from: 12-20, hour: ‸24, share: 50 %}]\nbeds:\n", "store.events[0].hour", `24 is out of range, allowed: 0 to 23`, ``},
	{pit, "beds:\n", "  events: [‸{kind: refill, bay: back, from: 12-20, volume: 100 L}]\nbeds:\n", "store.events[0].temperature", `is missing, a refill needs it`, ``},
	{pit, "beds:\n", "  events: [{kind: refill, bay: back, from: 12-20, volume: 100 L, temperature: 6 degC, to: ‸floor}]\nbeds:\n", "store.events[0].to", `a refill has no to`, ``},
	{pit, "beds:\n", "  events: [‸{kind: draw, bay: back, from: 12-20, volume: 100 L}]\nbeds:\n", "store.events[0].bed", `is missing, a draw needs it`, ``},
	{pit, "beds:\n", "  events: [{kind: draw, bay: back, from: 12-20, volume: 100 L, bed: ‸sauth}]\nbeds:\n", "store.events[0].bed", `there is no bed "sauth"`, `did you mean "south"?`},
	{pit, "beds:\n", "  events: [{kind: drain, bay: back, from: 12-20, share: 50 %, to: ‸stream}]\nbeds:\n", "store.events[0].to", `"stream" is not known here, allowed: floor, cold sink, soil, outside`, ``},
	{pit, "per_area: 2 cm2/m2", "per_area: ‸2 cm2/m2\n  air_changes: 1 ach", "leakage.per_area", "beside air_changes or area", ""},
	{pit, "per_area: 2 cm2/m2", "area: ‸200 cm2\n  air_changes: 1 ach", "leakage.area", "both given", ""},
	{pit, "{height: -8 in}", "{in: ‸outside, height: -8 in}", "tubes[0].inlet.in", `"outside" is not known here, allowed: house, outdoors`, ""},
	{pit, "inlet: {height: -8 in}\n    outlet: {", "inlet: {in: outdoors, height: 8 in}\n    outlet: {in: ‸outdoors, ", "tubes[0].outlet.in", "both ends are outdoors, at most one may be", ""},
	{pit, "    outlet: {height: 6 ft}\n", "", "tubes[0].outlet", "is missing", "the other end"},
	{pit, "count: 4\n", "count: 4\n    spacing: ‸11 cm\n", "tubes[0].spacing", "11 cm is too close for tubes 108 mm wide outside, allowed: from 129 mm", ""},
	{pit, "count: 4\n", "count: 4\n    tiers: ‸5\n", "tubes[0].tiers", "5 tiers for 4 tubes", ""},
	{pit, "depth: 45 in", "depth: ‸15 cm", "tubes[0].depth", "15 cm leaves less than 10 cm of earth", ""},
	{pit, "diameter: 4 in", "diameter: ‸4", "tubes[0].diameter", "4 has no unit", ""},
	{pit, "above: 77 degF}", "above: ‸40 degF}", "tubes[0].fan.above", "40 degF is not above below (45 degF)", ""},
	{pit, ", power: 20 W", "", "tubes[0].fan.power", "is missing", ""},
	{pit, "snow:\n", "snow:\n  fall: [1 cm, 1 cm, 0 m, 0 m, 0 m, 0 m, 0 m, 0 m, 0 m, 0 m, 0 m, 1 cm]\n", "snow.list", "dated snowfalls are given beside monthly ones", ""},
	{box, "run: {", "snow: ‸{fall: [1 cm, 1 cm, 0 m, 0 m, 0 m, 0 m, 0 m, 0 m, 0 m, 0 m, 0 m, 1 cm]}\nrun: {", "snow.days", "fall and days are only read together", ""},
	{box, "run: {", "snow: {fall: [1 cm, 1 cm, 0 m, 0 m, 0 m, 0 m, 0 m, 0 m, 0 m, 0 m, 0 m, 1 cm], days: [2, ‸0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 3]}\nrun: {", "snow.days[1]", "1 cm of snow on 0 days in February", ""},
	{box, "to: [0 m, 0.5 m], build", "to: ‸[0.1 m, 0.5 m], build", "section.edges[3].to", "does not lead back to the start [0 m, 0.5 m]", ""},
	{box, "to: [6 m, 3.2 m], build: light}", "to: [6 m, 0.5 m], build: light}", "section.edges[2].to", "no length", ""},
	{box, "build: light, behind: air", "glazing: clear double, behind: ‸soil", "section.edges[0].behind", "cannot have soil behind it", ""},
	{box, "{name: roof", "{name: ‸left end", "section.edges[1].name", "the name of an end wall", ""},
	{box, "{name: roof, to: [6 m, 3.2 m], build: light}", "‸{name: roof, to: [6 m, 3.2 m]}", "section.edges[1]", "neither build nor glazing", ""},
	{box, "roof: 0.17", "rof: ‸0.17", "sun_shares.rof", `there is no face "rof"`, `"roof"`},
	{box, "roof: 0.17", "roof: 0.37", "sun_shares", "add up to 1.01, allowed: up to 1", ""},
	{pit, "ends: {build", "taken_off: [{face: ‸back rof, from: 05-01, until: 09-30}]\nends: {build", "taken_off[0].face", `there is no face "back rof"`, `"back roof"`},
	{pit, "ends: {build", "taken_off: [{face: glazing, instead: ‸twin wal 16 mm, from: 05-01, until: 09-30}]\nends: {build", "taken_off[0].instead", "there is no glazing", "twin wall 16 mm"},
	{pit, "ends: {build", "taken_off: [{face: back roof, from: 05-01, until: 09-30}, {face: ‸back roof, from: 06-01, until: 07-01}]\nends: {build", "taken_off[1].face", "stands twice in taken_off", ""},
	{pit, "ends: {build", "taken_off: [{face: back roof, from: 06-01, until: ‸06-01}]\nends: {build", "taken_off[0].until", "from and until are one day", ""},
	{pit, "cover:\n", "cover:\n  edge_gap: ‸5 mm\n  fit: 50 %\n", "cover.edge_gap", "both given", ""},
	{pit, "site:\n", "site:\n  horizon: [{azimuth: 0 deg, elevation: 3 deg}, {azimuth: ‸360 deg, elevation: 4 deg}]\n", "site.horizon[1].azimuth", "stands twice in site.horizon", ""},
	{pit, "site:\n", "site:\n  horizon: ‸[]\n", "site.horizon", "the list is empty", ""},
	{pit, "site:\n", "site:\n  banks: [{name: b, distance: 1 m, height: 1 m}, {name: ‸b, distance: 2 m, height: 1 m}]\n", "site.banks[1].name", "stands twice", ""},
	{pit, "site:\n", "site:\n  soil_layers: ‸[]\n", "site.soil_layers", "the list is empty", "leave it out where soil is the same"},
	{pit, "site:\n", "site:\n  soil_layers: [‸{texture: sand}]\n", "site.soil_layers[0].to", "is missing", "depth of its lower edge"},
	{pit, "site:\n", "site:\n  soil_layers: [{to: ‸3 cm}]\n", "site.soil_layers[0].to", "3 cm is out of range, allowed: 0.05 m to 15 m", ""},
	{pit, "site:\n", "site:\n  soil_layers: [{to: 40 cm}, {to: ‸30 cm, texture: sand}]\n", "site.soil_layers[1].to", "30 cm is not below the lower edge of the layer above (40 cm)", "from the top down"},
	{pit, "site:\n", "site:\n  soil_layers: [{to: 40 cm}, {to: ‸0.4 m}]\n", "site.soil_layers[1].to", "0.4 m is not below the lower edge of the layer above (40 cm)", ""},
	{pit, "site:\n", "site:\n  soil_layers: [{to: 40 cm}, {to: ‸43 cm}, {to: 2 m}]\n", "site.soil_layers[1].to", "the layer from 40 cm to 43 cm is 0.03 m thick, allowed: 0.05 m or more", ""},
	{pit, "site:\n", "site:\n  soil_layers: [{to: 40 cm, texture: ‸mud}]\n", "site.soil_layers[0].texture", `"mud" is not known here`, ""},
	{pit, "beds:\n", "ground: {footings: [{under: ‸bak wall, material: concrete dense, width: 50 cm, thickness: 30 cm}]}\nbeds:\n", "ground.footings[0].under", `there is no wall or row "bak wall"`, `did you mean "back wall"?`},
	{pit, "beds:\n", "ground: {footings: [{under: back, material: ‸cheese, width: 50 cm, thickness: 30 cm}]}\nbeds:\n", "ground.footings[0].material", `there is no material "cheese"`, ""},
	{pit, "beds:\n", "ground: {footings: [{under: back, material: xps, width: ‸5 cm, thickness: 30 cm}]}\nbeds:\n", "ground.footings[0].width", `5 cm is out of range, allowed: 0.1 m to 3 m`, ""},
	{pit, "beds:\n", "ground: {footings: [‸{under: back, material: xps, width: 50 cm}]}\nbeds:\n", "ground.footings[0].thickness", `is missing`, ""},
	{pit, "beds:\n", "ground: {footings: [{under: back, material: xps, width: 50 cm, thickness: 30 cm}, {under: ‸back, material: xps, width: 60 cm, thickness: 30 cm}]}\nbeds:\n", "ground.footings[1].under", `"back" stands twice in ground.footings`, ""},
	// what is not known
	{pit, "beds:\n", "unknown: {‸soil moisture: off}\nbeds:\n", "unknown", `unknown key "soil moisture"`, `did you mean "soil_moisture"?`},
	{pit, "beds:\n", "unknown: {‸leakages: off}\nbeds:\n", "unknown", `unknown key "leakages"`, `did you mean "leakage"?`},
	{pit, "beds:\n", "unknown: ‸off\nbeds:\n", "unknown", "keys with values are wanted here", "leakage, soil_moisture"},
	{pit, "beds:\n", "unknown: {dirt: ‸of}\nbeds:\n", "unknown.dirt", `"of" is no spread`, "0.5 to 2 times"},
	{pit, "beds:\n", "unknown: {dirt: ‸2 times}\nbeds:\n", "unknown.dirt", `"2 times" is no spread`, "8 in 10"},
	{pit, "beds:\n", "unknown: {dirt: ‸2 to 0.5 times}\nbeds:\n", "unknown.dirt", "the ends of 2 to 0.5 times are not in order", "lower one first"},
	{pit, "beds:\n", "unknown: {dirt: ‸1.5 to 2 times}\nbeds:\n", "unknown.dirt", "does not hold the plan's own value, which is 1 times", "below 1"},
	{pit, "beds:\n", "unknown: {dirt: ‸0 to 2 times}\nbeds:\n", "unknown.dirt", "0 times is out of range, allowed: 0.01 to 100 times", ""},
	{pit, "beds:\n", "unknown: {dirt: 0.5 to ‸1000 times}\nbeds:\n", "unknown.dirt", "1000 times is out of range", ""},
	{pit, "beds:\n", "unknown: {dirt: 0.5 to ‸two times}\nbeds:\n", "unknown.dirt", `"two" is not a ratio`, ""},
	{pit, "beds:\n", "unknown: {dirt: ‸'0,5 to 2 times'}\nbeds:\n", "unknown.dirt", "decimal comma", ""},
	{pit, "beds:\n", "unknown: {dirt: 2 to ‸70 %}\nbeds:\n", "unknown.dirt", "70 % is out of range, allowed: 0 to 0.4", ""},
	{pit, "beds:\n", "unknown: {dirt: ‸7 to 2 %}\nbeds:\n", "unknown.dirt", "the ends of 7 to 2 % are not in order", ""},
	{pit, "beds:\n", "unknown: {dirt: ‸0 to 9 %}\nbeds:\n", "unknown.dirt", "the lower end, 0 %, is not above 0", ""},
	{pit, "beds:\n", "unknown: {dirt: 2 to 9 ‸kg}\nbeds:\n", "unknown.dirt", "kg is a mass, here a share is wanted", ""},
	{pit, "beds:\n", "unknown: {soil_moisture: ‸50 to 70 %}\nbeds:\n", "unknown.soil_moisture", "50 to 70 % does not hold the plan's own value: site.soil.moisture is 40 %", "or change site.soil.moisture"},
	{pit, "beds:\n", "unknown: {soil_conductivity: ‸0.8 to 1.6 W/mK}\nbeds:\n", "unknown.soil_conductivity", "is of site.soil.conductivity, which the plan does not give", "as times"},
	{pit, "beds:\n", "unknown: {leakage: ‸100 to 400 cm2}\nbeds:\n", "unknown.leakage", "is of leakage.area, the plan has leakage.per_area", "in the measure of leakage.per_area"},
	{pit, "beds:\n", "unknown: {leakage: 100 to ‸400}\nbeds:\n", "unknown.leakage", "400 has no unit", "in the measure of leakage.air_changes, leakage.area, leakage.per_area"},
	{pit, "beds:\n", "unknown: {snowfall: ‸5 to 20 cm}\nbeds:\n", "unknown.snowfall", `has no 'times' at its end`, "0.7 to 1.4 times"},
	{pit, "beds:\n", "unknown: {drum_factor: ‸0.7 to 1.4}\nbeds:\n", "unknown.drum_factor", "surfaces.drum_factor, which the plan does not give", "as times"},
	{box, "until: 2025-04-30", "until: ‸04-30", "run.until", "has a year, the other has none", ""},
	{box, "until: 2025-04-30", "until: ‸2024-04-30", "run.until", "is not after 2024-10-01", ""},
}

func TestFaults(t *testing.T) {
	for _, row := range faults {
		if strings.Count(row.plan, row.from) != 1 {
			t.Errorf("%q stands %d times in the plan", row.from, strings.Count(row.plan, row.from))
			continue
		}
		text := strings.Replace(row.plan, row.from, row.to, 1)
		line, column := 0, 0
		if strings.Contains(text, "‸") {
			text, line, column = spot(t, text)
		}
		p, findings := Load("plan.yaml", []byte(text), withWeather())
		if p != nil || len(findings) == 0 {
			t.Errorf("%q is accepted", row.to)
			continue
		}
		all := AsError(findings).Error()
		f, ok := findingAt(findings, row.path, row.wants)
		if !ok {
			t.Errorf("%q: no finding of %q with %q among\n%v", row.to, row.path, row.wants, AsError(findings))
			continue
		}
		if line == 0 && f.Line == 0 || line > 0 && (f.Line != line || f.Column != column) {
			t.Errorf("%q: found at %d:%d, want %d:%d: %v", row.to, f.Line, f.Column, line, column, f)
		}
		if _, findings := Load("plan.yaml", []byte(strings.ReplaceAll(text, "\n", "\r\n")), withWeather()); AsError(findings).Error() != all {
			t.Errorf("%q: found otherwise with the line ends of Windows:\n%v", row.to, AsError(findings))
		}
		if !strings.Contains(f.Hint, row.hint) {
			t.Errorf("%q: hint %q, want %q", row.to, f.Hint, row.hint)
		}
	}
}

func findingAt(findings []Finding, path, message string) (Finding, bool) {
	for _, f := range findings {
		if f.Path == path && strings.Contains(f.Message, message) {
			return f, true
		}
	}
	return Finding{}, false
}

// Everything is found in one go, faults of single values and those between values, in the order of the file.
func TestAllFaultsAtOnce(t *testing.T) {
	text := strings.NewReplacer(
		"elevation: 4500 ft", "elevation: 4500",
		"depth: 4 ft", "depth: 1,2 m",
		"kind: pit", "knid: pit",
		"back_roof: insulated roof", "back_roof: insulated rof",
		"{name: north,", "{name: south,",
	).Replace(pit)
	p, findings := Load("plan.yaml", []byte(text), library())
	if p != nil {
		t.Error("the plan is accepted")
	}
	var got []string
	for _, f := range findings {
		got = append(got, strings.SplitN(f.Error(), "\n", 2)[0])
	}
	want := []string{
		"plan.yaml:10:14: site.elevation: 4500 has no unit; known: ft, in, m, cm, mm, km, yd, mi, mil",
		"plan.yaml:44:3: shape: unknown key \"knid\"",
		"plan.yaml:44:3: shape.kind: is missing",
		"plan.yaml:47:11: shape.depth: \"1,2 m\": 1,2 has a decimal comma",
		"plan.yaml:53:14: shape.back_roof: there is no build \"insulated rof\"",
		"plan.yaml:76:12: beds[1].name: the name \"south\" stands twice in beds",
	}
	if strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("found\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	var f Finding
	if err := AsError(findings); !errors.As(err, &f) || f.Path != "site.elevation" {
		t.Errorf("the joined error does not hold the findings: %v", err)
	}
}

func TestSuggest(t *testing.T) {
	many := strings.Split("adobe brick clay earth glass gravel hemp lime loam sand steel straw wood", " ")
	for _, row := range []struct {
		name string
		all  []string
		want string
	}{
		{"stel", many, `did you mean "steel"?`},
		{"a", many, "did you mean one of: adobe, clay, earth, glass, gravel, loam, sand, straw?"},
		{"unobtainium", many, "known: adobe, brick, clay, earth, glass, gravel, hemp, lime, loam, sand, steel, straw and 1 more"},
		{"unobtainium", many[:2], "known: adobe, brick"},
		{"x", nil, "the plan has none"},
	} {
		if got := suggest(row.name, row.all); got != row.want {
			t.Errorf("%q: %q, want %q", row.name, got, row.want)
		}
	}
}

// A polygon is simple or refused: the corners are moved so that edges cross, touch or fold back.
func TestPolygons(t *testing.T) {
	for _, row := range []struct {
		what    string
		corners [][2]string
		wants   string
	}{
		{"triangle", [][2]string{{"0 m", "0 m"}, {"0 m", "2 m"}, {"3 m", "0 m"}}, ""},
		{"L", [][2]string{{"0 m", "0 m"}, {"0 m", "2 m"}, {"1 m", "2 m"}, {"1 m", "1 m"}, {"3 m", "1 m"}, {"3 m", "0 m"}}, ""},
		{"bow tie", [][2]string{{"0 m", "0 m"}, {"2 m", "2 m"}, {"2 m", "0 m"}, {"0 m", "2 m"}}, "meets the edge"},
		{"touching corner", [][2]string{{"0 m", "0 m"}, {"0 m", "2 m"}, {"2 m", "0 m"}, {"4 m", "2 m"}, {"4 m", "0 m"}}, "meets the edge"},
		{"fold", [][2]string{{"0 m", "0 m"}, {"0 m", "2 m"}, {"0 m", "1 m"}, {"2 m", "0 m"}}, "meets the edge"},
		{"flat", [][2]string{{"0 m", "0 m"}, {"1 m", "0 m"}, {"2 m", "0 m"}}, "meets the edge"},
		{"two edges", [][2]string{{"0 m", "0 m"}, {"1 m", "0 m"}}, "2 edges make no room"},
	} {
		var b strings.Builder
		b.WriteString("suncellar: 1\nname: x\nsite: {latitude: 1 deg, longitude: 0 deg, elevation: 0 m, time_zone: UTC}\nbuilds: {w: {r_value: R-9}}\nends: {build: w}\nsection:\n  length: 3 m\n  start: [0 m, 0 m]\n  edges:\n")
		n := len(row.corners)
		for i := range n {
			to := row.corners[(i+1)%n]
			b.WriteString("    - {name: e" + string(rune('a'+i)) + ", to: [" + to[0] + ", " + to[1] + "], build: w}\n")
		}
		_, findings := Load("plan.yaml", []byte(b.String()), withWeather())
		switch {
		case row.wants == "" && len(findings) > 0:
			t.Errorf("%s is refused: %v", row.what, findings[0])
		case row.wants != "" && (len(findings) != 1 || !strings.Contains(findings[0].Message, row.wants)):
			t.Errorf("%s: want one finding with %q, have %v", row.what, row.wants, AsError(findings))
		}
	}
}

func TestWarningIsNoError(t *testing.T) {
	p, findings := Load("plan.yaml", []byte(strings.Replace(pit, "  place:", "  water_table: 1 m\n  place:", 1)), library())
	if p == nil || len(findings) != 1 || findings[0].Severity != Warning || !strings.Contains(findings[0].Error(), ":7:16: warning: site.water_table: 1 m is not below the floor (4 ft)") {
		t.Errorf("plan %v, findings %v", p != nil, findings)
	}
}

func TestNoWeather(t *testing.T) {
	_, findings := Load("box.yaml", []byte(box), library())
	if len(findings) != 1 || findings[0].Path != "climate" {
		t.Errorf("findings %v", findings)
	}
}

func TestNotAPlan(t *testing.T) {
	for _, row := range []struct{ what, text, wants string }{
		{"nothing", "", "x:1:1: the plan is empty"},
		{"a comment", "# hello\n", "x:1:1: the plan is empty"},
		{"a word", "hello", "x:1:1: keys with values are wanted here"},
		{"a list", "- a\n", "x:1:1: keys with values are wanted here"},
		{"too large", strings.Repeat("# a comment\n", 100_000), "x: the file is larger than 1 MB"},
		{"too many keys", strings.Repeat("a: 1 m\n", 30_000), "more than 20000 keys and lines"},
		{"a long line", "name: " + strings.Repeat("x", maxColumn), "x:1:4001: the line is longer"},
		{"UTF-16", "\xff\xfea\x00", "x:1:1: the text is not UTF-8"},
		{"a directive", "%YAML 1.2\n---\nsuncellar: 1\n", "x:1:1: a plan has no directives"},
	} {
		_, findings := Read("x", []byte(row.text))
		if len(findings) == 0 || !strings.Contains(findings[0].Error(), row.wants) {
			t.Errorf("%s: %v, want %q", row.what, AsError(findings), row.wants)
		}
	}
}

func TestReadFile(t *testing.T) {
	folder := t.TempDir()
	name := filepath.Join(folder, "plan.yaml")
	if err := os.WriteFile(name, append([]byte("\xef\xbb\xbf"), pit...), 0o644); err != nil {
		t.Fatal(err)
	}
	if p, findings := ReadFile(name); Failed(findings) || p.Name != "Kale pit" {
		t.Errorf("a file with a byte order mark: %v", findings)
	}
	if _, findings := ReadFile(filepath.Join(folder, "no.yaml")); len(findings) != 1 || !strings.HasSuffix(findings[0].Error(), "no.yaml: cannot be read: no such file or directory") {
		t.Errorf("a missing file: %v", findings)
	}
	if err := os.WriteFile(name, bytes.Repeat([]byte("#\n"), maxBytes), 0o644); err != nil {
		t.Fatal(err)
	}
	if _, findings := ReadFile(name); len(findings) != 1 || !strings.Contains(findings[0].Message, "larger than 1 MB") {
		t.Errorf("a large file: %v", findings)
	}
}
