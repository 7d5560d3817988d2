package layout

// floor is the height of a package in the house. An import goes from a floor to a lower one.
type floor int

const (
	tools     floor = iota // arithmetic, and files that the program carries with it
	matter                 // moist air, materials, units, the network solver; closed-form answers for tests
	knowledge              // pure physics: numbers in, numbers out; and the display list of pictures
	documents              // what is read, the plan and the weather; and pictures, which see neither
	gathered               // documents made of other documents: many years of weather
	geometry               // the plan as a resolved house
	assembly               // one network of a house, run through weather
	use                    // use cases: a request in, an answer out
	many                   // a use case run many times
	several                // use cases made of other use cases
	telling                // an answer told
	pages                  // the door for browsers
	doors                  // commands
	programs               // main
	outside                // tests of the whole
)

var floorNames = map[floor]string{
	tools: "tools", matter: "matter", knowledge: "knowledge", documents: "documents", gathered: "documents of documents", geometry: "geometry", assembly: "assembly",
	use: "use cases", many: "many runs", several: "use cases of use cases", telling: "telling", pages: "pages", doors: "doors", programs: "programs", outside: "tests of the whole",
}

// room is one package: its floor and what it may import. Paths of ours are given below the module, without "internal/".
type room struct {
	on      floor
	imports string // our packages
	modules string // packages of others outside the standard library, by module
	tests   string // our packages that its tests may import besides
	testing string // modules that its tests may import besides
}

// rooms is the table of allowed imports. A new import is a decision: it is written here first, with the reason in
// docs/architecture.md where it is not plain from the floors.
var rooms = map[string]room{
	"numeric":  {on: tools, testing: "pgregory.net/rapid"},
	"layout":   {on: tools},
	"docs":     {on: tools},
	"examples": {on: tools},
	"folder":   {on: use},
	"ui":       {on: tools},
	"drawn":    {on: outside}, // for the tests of every package that draws random cases

	"exact":         {on: matter, imports: "numeric"},
	"unit":          {on: matter, testing: "pgregory.net/rapid"},
	"air":           {on: matter, testing: "pgregory.net/rapid"},
	"material":      {on: matter, testing: "pgregory.net/rapid"},
	"thermal/modal": {on: tools, modules: "gonum.org/v1/gonum", testing: "pgregory.net/rapid"},
	"thermal/lanes": {on: tools, modules: "golang.org/x/sys", testing: "pgregory.net/rapid"},
	"thermal":       {on: matter, imports: "thermal/lanes thermal/modal", tests: "exact", testing: "gonum.org/v1/gonum pgregory.net/rapid"},

	"sun":       {on: knowledge, testing: "pgregory.net/rapid"},
	"glazing":   {on: knowledge, testing: "pgregory.net/rapid"},
	"airflow":   {on: knowledge, testing: "pgregory.net/rapid"},
	"enclosure": {on: knowledge, testing: "pgregory.net/rapid"},
	"ground":    {on: knowledge, imports: "numeric thermal thermal/modal", tests: "exact", testing: "pgregory.net/rapid"},
	"pipes":     {on: knowledge, tests: "thermal", testing: "pgregory.net/rapid"},
	"draw":      {on: knowledge, testing: "pgregory.net/rapid"},
	"cropwater": {on: knowledge, testing: "pgregory.net/rapid"},

	"plan":    {on: documents, imports: "unit", modules: "github.com/goccy/go-yaml", testing: "github.com/santhosh-tekuri/jsonschema/v6 pgregory.net/rapid"},
	"weather": {on: documents, imports: "air sun", modules: "gonum.org/v1/gonum", testing: "pgregory.net/rapid"},
	"drawing": {on: documents, imports: "draw", testing: "pgregory.net/rapid"},

	"record": {on: gathered, imports: "air sun weather", testing: "pgregory.net/rapid"},

	"catchment": {on: gathered, imports: "weather"},

	"house": {on: geometry, imports: "catchment glazing material pipes plan", testing: "pgregory.net/rapid"},

	"greenhouse": {on: assembly, imports: "air airflow catchment cropwater enclosure glazing ground house material pipes plan sun thermal thermal/modal weather", tests: "exact examples", testing: "pgregory.net/rapid"},

	"starter":    {on: use, imports: "house plan weather", tests: "examples unit", testing: "pgregory.net/rapid"},
	"sunhours":   {on: use, imports: "enclosure greenhouse house sun", tests: "examples plan", testing: "pgregory.net/rapid"},
	"prices":     {on: many, imports: "house plan quantities unit", tests: "examples"},
	"quantities": {on: use, imports: "air glazing greenhouse ground house material unit", tests: "examples plan", testing: "pgregory.net/rapid"},
	"unknown":    {on: use, imports: "greenhouse house plan unit", tests: "examples winter", testing: "pgregory.net/rapid"},
	"thirst":     {on: several, imports: "air cropwater greenhouse plan sun winter", tests: "examples house", testing: "pgregory.net/rapid"},
	"winter":     {on: use, imports: "greenhouse house plan sun thermal unit weather", tests: "examples", testing: "gonum.org/v1/gonum pgregory.net/rapid"},
	"ensemble":   {on: many, imports: "greenhouse plan weather winter", tests: "examples"},
	"chance":     {on: several, imports: "ensemble greenhouse numeric plan record unknown weather winter", modules: "gonum.org/v1/gonum", tests: "examples worth", testing: "pgregory.net/rapid"},
	"water":      {on: several, imports: "carry catchment greenhouse house material pipes plan record weather winter", tests: "examples", testing: "pgregory.net/rapid"},
	"carry":      {on: many, imports: "greenhouse house numeric plan sun thermal unit unknown weather winter", tests: "airflow exact examples material", testing: "pgregory.net/rapid"},
	"drill":      {on: several, imports: "catchment greenhouse house material pipes plan unit weather winter", tests: "examples", testing: "pgregory.net/rapid"},
	"worth":      {on: several, imports: "greenhouse house numeric plan thermal unit unknown weather winter", tests: "examples", testing: "pgregory.net/rapid"},

	"report": {on: telling, imports: "carry chance docs draw drawing drill greenhouse house plan prices quantities sun sunhours thirst unit unknown water weather winter worth", tests: "cropwater examples", testing: "pgregory.net/rapid"},

	"web": {on: pages, imports: "carry chance draw drawing drill folder house plan prices report sunhours unit unknown water winter worth", modules: "github.com/danielgtaylor/huma/v2", tests: "examples"},

	"cli": {
		on:      doors,
		imports: "carry catchment chance draw drawing drill ensemble examples greenhouse house plan prices quantities record report starter sun thirst unit unknown water weather winter worth folder ui web",
		modules: "github.com/piglig/go-qr github.com/spf13/cobra github.com/spf13/pflag github.com/vbauerster/mpb/v8 golang.org/x/term",
		testing: "github.com/rogpeppe/go-internal",
	},

	"cmd/suncellar": {on: programs, imports: "cli", testing: "github.com/rogpeppe/go-internal"},

	"validation": {
		on:      outside,
		imports: "air airflow catchment cropwater draw drawing enclosure glazing greenhouse ground house material numeric pipes plan quantities record report starter sun thermal unit water weather winter carry worth chance ensemble unknown",
		tests:   "exact examples",
		testing: "gonum.org/v1/gonum pgregory.net/rapid",
	},
}
