// Package worth answers what each change of a plan is worth: the first plan and every changed plan run through the same winter,
// side by side.
//
// What it promises: a plan beside itself differs by exactly zero; neither the order of the changes nor how many are run at once changes
// any figure; a change that cannot be computed is told by name, with its findings, and the others are computed all the same.
package worth

import (
	"fmt"
	"time"

	"suncellar/internal/house"
	"suncellar/internal/plan"
	"suncellar/internal/thermal"
	"suncellar/internal/weather"
	"suncellar/internal/winter"
)

// Request is what is asked.
type Request struct {
	Plan     *plan.Plan
	Year     *weather.Series // a year of hourly weather as read; nil: one is made from the first plan's normals
	Variants []Variant
	Place    string          // at which the lowest temperatures are compared; "": the watched place of the first plan
	From     *plan.Date      // other first day than the plans'
	Until    *plan.Date      // other last day
	Control  thermal.Control // of the step; the zero value is the program's
	AtOnce   int             // winters run at once; 0: as many as there are cores
}

// Variant is changes that are made together.
type Variant struct {
	Label   string // "": the changes as written
	Changes []plan.Change
}

// Name is the label, or the changes as written.
func (v Variant) Name() string {
	if v.Label != "" {
		return v.Label
	}
	name := ""
	for i, c := range v.Changes {
		if i > 0 {
			name += ", "
		}
		name += c.String()
	}
	return name
}

// Answer is the first plan's winter and what each variant does to it. Figures but for the lowest are compared in the first
// plan's snow case, so that it is the same winter.
type Answer struct {
	First      *winter.Answer
	Place      string
	LimitC     float64 // the first plan's, for all
	Base       Figures
	Night      [2]time.Time // noon to noon round the first plan's lowest
	Rows       []Row        // one a variant, in their order
	Simplified []winter.Simplification
	Cautions   []string
}

// Figures of one plan.
type Figures struct {
	LowestC    float64 // of the place, in the plan's own colder snow case
	LowestAt   time.Time
	NightC     float64 // lowest of the place in the first plan's worst night
	MeanC      float64 // of the place over the hours that count
	HoursBelow int     // of the place below LimitC
	WaterM3    float64 // in the store
	LightMol   float64 // on level ground at the beds, a day [mol/m²]
	SnowCase   string  // in which LowestC stands
}

// Row is one variant beside the first plan.
type Row struct {
	Variant  Variant
	Err      error // a *ChangeError: nothing below is known, but for Findings
	Findings []plan.Finding
	Winter   *winter.Answer // the variant's own winter

	HasPlace bool // false: the variant has no place of that name; of Figures and By then only water and light are known
	HasNight bool // false: the variant does not run through the first plan's worst night
	Figures  Figures
	By       Difference
	Notes    []string // what has to be known to read the figures
}

// Difference is the variant less the first plan.
type Difference struct {
	LowestK    float64 // of the two lowests, whenever they come
	NightK     float64 // on the first plan's worst night
	MeanK      float64
	HoursBelow int
	WaterM3    float64
	LightMol   float64 // a day [mol/m²]
}

// ChangeError is a variant that cannot be computed.
type ChangeError struct {
	Name string // of the variant
	Err  error  // its findings joined, or what went wrong in its run
}

// Error names the change, then tells what is wrong.
func (e *ChangeError) Error() string { return fmt.Sprintf("change %q: %v", e.Name, e.Err) }

// Unwrap gives the findings or the failure.
func (e *ChangeError) Unwrap() error { return e.Err }

// Check reads all variants and tells the first that make no good plan, before anything is run.
func (r Request) Check() []*ChangeError {
	var bad []*ChangeError
	for _, v := range r.Variants {
		if _, findings := r.read(v); plan.Failed(findings) {
			bad = append(bad, &ChangeError{v.Name(), plan.AsError(findings)})
		}
	}
	return bad
}

// read makes a variant's plan and checks it as a file would be.
func (r Request) read(v Variant) (*plan.Plan, []plan.Finding) {
	known := house.Known()
	known.Weather = r.Year != nil
	p, findings := r.Plan.Apply(v.Changes...)
	findings = append(findings, plan.Check(p, known)...)
	if !plan.Failed(findings) {
		_, more := house.Resolve(p)
		findings = append(findings, more...)
	}
	return p, findings
}
