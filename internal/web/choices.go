package web

import (
	"errors"
	"net/http"
	"strings"

	"github.com/danielgtaylor/huma/v2"

	"suncellar/internal/folder"
	"suncellar/internal/house"
	"suncellar/internal/plan"
	"suncellar/internal/prices"
)

// Choices are changes made from a plan one at a time, side by side.

// Choice is one of them, as typed.
type Choice struct {
	Name    string `json:"name,omitempty" maxLength:"120" doc:"left out: the changes as typed"`
	Changes string `json:"changes" maxLength:"20000" doc:"path=value, or several that are made together, parted by ;"`
}

// ChoicesOptions are those of a study of choices.
type ChoicesOptions struct {
	List   []Choice `json:"list,omitempty" maxItems:"24"`
	Prices string   `json:"prices,omitempty" maxLength:"200000" doc:"a list of prices, as docs/prices.md has it; empty: no costs"`
}

// ChoicesRequest asks for what can be told of choices before any winter is computed.
type ChoicesRequest struct {
	Name string `json:"name" maxLength:"120"`
	Text string `json:"text" maxLength:"1048576"`
	View
	ChoicesOptions
}

// ChoicesLook is what is wrong with choices and prices, and what they cost.
type ChoicesLook struct {
	Rows   []ChoiceLook `json:"rows" doc:"in the order asked"`
	Prices PricesLook   `json:"prices"`
}

// ChoiceLook is one choice.
type ChoiceLook struct {
	Changes []Change `json:"changes" doc:"read; none where they cannot be"`
	Error   string   `json:"error,omitempty"`
	Cost    string   `json:"cost,omitempty"`
	Costs   []string `json:"costs" doc:"how the cost comes about, and what has no price"`
}

// PricesLook is a list of prices, read.
type PricesLook struct {
	Findings []Finding `json:"findings"`
	Whole    string    `json:"whole,omitempty" doc:"what the plan as it is costs"`
	Lines    []string  `json:"lines" doc:"of what, and what has no price"`
	Blank    string    `json:"blank" doc:"a list to begin with: everything that the plan has, without prices"`
	Means    string    `json:"means" doc:"what costs hold and what they do not"`
}

// Choices are what a study of them came to.
type Choices struct {
	Rows []ChoiceTold `json:"rows" doc:"in the order asked"`
}

// ChoiceTold is one choice beside the others: what it buys and what it costs, in words and as numbers to rank by.
type ChoiceTold struct {
	Name     string   `json:"name"`
	Error    string   `json:"error,omitempty"`
	Night    string   `json:"night" doc:"warmer on the plan's worst night"`
	Band     string   `json:"band" doc:"of that, in 8 of 10 houses"`
	Lowest   string   `json:"lowest"`
	Below    string   `json:"below" doc:"hours below the limit, more or less"`
	Light    string   `json:"light" doc:"at the beds, a day"`
	Water    string   `json:"water"`
	Cost     string   `json:"cost"`
	PerMoney string   `json:"per_money"`
	Notes    []string `json:"notes"`
	Costs    []string `json:"costs"`
	NightK   *float64 `json:"night_k,omitempty"`
	PerK     *float64 `json:"per_money_k,omitempty" doc:"for a hundred of money; left out where not all is priced, or it gives no warmth"`
	Money    *float64 `json:"money,omitempty" doc:"left out where not all is priced"`
}

// DifferencesRequest asks for what was changed between two texts of a plan.
type DifferencesRequest struct {
	Name   string `json:"name" maxLength:"120"`
	Before string `json:"before" maxLength:"1048576"`
	After  string `json:"after" maxLength:"1048576"`
}

// Differences are the changes that make the second text's plan of the first's.
type Differences struct {
	Changes string `json:"changes" doc:"as a choice has them; empty where nothing differs"`
	Count   int    `json:"count"`
}

// choices are what is told of them at once.
func (s *Server) choices(api huma.API) {
	post(api, huma.Operation{OperationID: "choices", Path: "/api/choices", Summary: "What is wrong with choices and prices, and what they cost", Errors: []int{422}}, quick(lookAtChoices))
	post(api, huma.Operation{OperationID: "differences", Path: "/api/differences", Summary: "What was changed between two texts of a plan", Errors: []int{422}},
		quick(func(in *DifferencesRequest) (*Differences, error) {
			changes, err := plan.Differences(in.Name, []byte(in.Before), []byte(in.After))
			if err != nil {
				return nil, huma.NewError(http.StatusUnprocessableEntity, err.Error())
			}
			var list []string
			for _, c := range changes {
				if strings.Contains(c.Value, ";") {
					return nil, huma.NewError(http.StatusUnprocessableEntity, c.Path+" holds a ';', which parts the changes of a choice")
				}
				list = append(list, c.String())
			}
			return &Differences{strings.Join(list, "; "), len(list)}, nil
		}))
}

// parsed reads the changes of a choice.
func (c Choice) parsed() ([]plan.Change, error) {
	var list []plan.Change
	var bad []error
	for part := range strings.SplitSeq(c.Changes, ";") {
		if part = strings.TrimSpace(part); part == "" {
			continue
		}
		change, err := plan.ParseChange(part)
		bad = append(bad, err)
		list = append(list, change)
	}
	if len(list) == 0 {
		bad = append(bad, errors.New("nothing is changed; write path=value, such as shape.depth=1.2 m"))
	}
	return list, errors.Join(bad...)
}

func lookAtChoices(in *ChoicesRequest) (*ChoicesLook, error) {
	p, h, t, err := toldOf(in.Name, in.Text, in.View)
	if err != nil {
		return nil, err
	}
	out := &ChoicesLook{Rows: []ChoiceLook{}, Prices: PricesLook{Findings: []Finding{}, Lines: []string{}, Blank: prices.Blank(h), Means: t.CostMeans()}}
	list, costs := pricesOf(in.Prices, p, &out.Prices)
	if costs {
		whole, lines := t.ChoiceCost(list, list.Of(h))
		out.Prices.Whole, out.Prices.Lines = whole, append([]string{}, lines...)
	}
	for _, c := range in.List {
		row := ChoiceLook{Changes: []Change{}, Costs: []string{}}
		other, changes, err := c.built(p)
		for _, one := range changes {
			row.Changes = append(row.Changes, Change{one.Path, one.Value})
		}
		switch {
		case err != nil:
			row.Error = err.Error()
		case costs:
			cost, lines := t.ChoiceCost(list, list.Between(h, other, changes))
			row.Cost, row.Costs = cost, append([]string{}, lines...)
		}
		out.Rows = append(out.Rows, row)
	}
	return out, nil
}

// pricesOf reads a list and tells what is wrong with it; false where there is none to reckon by.
func pricesOf(text string, p *plan.Plan, out *PricesLook) (*prices.List, bool) {
	if strings.TrimSpace(text) == "" {
		return nil, false
	}
	list, findings := prices.Read(folder.Prices, []byte(text))
	for _, f := range append(findings, list.Check(p)...) {
		out.Findings = append(out.Findings, Finding{f.Path, f.Line, f.Column, f.Message, f.Hint, f.Severity == plan.Warning})
	}
	return list, !plan.Failed(findings)
}

// built is the house with a choice made.
func (c Choice) built(p *plan.Plan) (*house.House, []plan.Change, error) {
	changes, err := c.parsed()
	if err != nil {
		return nil, nil, err
	}
	changed, findings := p.Apply(changes...)
	findings = append(findings, plan.Check(changed, house.Known())...)
	if plan.Failed(findings) {
		return nil, changes, plain(findings)
	}
	h, more := house.Resolve(changed)
	if plan.Failed(more) {
		return nil, changes, plain(more)
	}
	return h, changes, nil
}

// plain are errors without file and line: what was typed is one line.
func plain(findings []plan.Finding) error {
	var list []error
	for _, f := range findings {
		if f.Severity != plan.Error {
			continue
		}
		s := f.Message
		if f.Path != "" {
			s = f.Path + ": " + s
		}
		if f.Hint != "" {
			s += " (" + f.Hint + ")"
		}
		list = append(list, errors.New(s))
	}
	return errors.Join(list...)
}
