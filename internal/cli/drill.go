package cli

import (
	"context"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"suncellar/internal/catchment"
	"suncellar/internal/drill"
	"suncellar/internal/house"
	"suncellar/internal/plan"
	"suncellar/internal/report"
	"suncellar/internal/unit"
	"suncellar/internal/water"
	"suncellar/internal/winter"
)

type drillOptions struct {
	at, on, to, hole, pane, spare, year, record, out string
	hours                                            float64
	seen, days, every                                int
	sets                                             []string
}

// Drills that run no fault: the table of joints, and a bay that stands empty on purpose.
const (
	jointsDrill  = "joints"
	footingDrill = "footing"
)

func (a *app) drill() *cobra.Command {
	var o drillOptions
	cmd := &cobra.Command{
		Use:   "drill PLAN [FAULT]",
		Short: "Try a fault on paper: a leak, a vent stuck open, a broken pane",
		Long: `Run the winter of a plan with a fault in it, and tell what is lost, after how many hours
each place meets its limit, and what to do, in order. Without --on the fault comes so that
it is there in the coldest night.

  leak      a joint of the water pipes fails (--at, as 'drill PLAN' lists them),
            or a bay runs out; told is too what the valves would save, how it is
            mended, and whether to mend it then or to ride it out
  drum      a drum has split by frost and runs out
  inlet     the pipe that brings the rain stands open to the cold
  flap      the flap at its end is frozen ajar
  vent      a vent stays open (--at its name)
  pane      a pane of the glazing is gone (--at a face, --pane how much)
  cover     the cover is left off for a night
  door      a door is left open for a night (--at its name)

Without a fault, or with joints: every joint, which drums run out if it fails, with the
valves as drawn and shut, and where one, two, three valves more are worth most.
With footing: on which days of the winter a bay (--at) could stand empty for some days
while what it stands on is mended.`,
		Example: `  suncellar drill plan.yaml
  suncellar drill plan.yaml leak --at "joint at back drums, drum 3" --on 01-10 --spare "400 L"
  suncellar drill plan.yaml door
  suncellar drill plan.yaml pane --pane "2 m2" --hours 48
  suncellar drill plan.yaml footing --at "back drums, bay 2" --days 3`,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) < 1 || len(args) > 2 {
				return usage("for instance: suncellar drill plan.yaml leak", "a plan and a fault are wanted, %d words are given", len(args))
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			kind := jointsDrill
			if len(args) == 2 {
				kind = args[1]
			}
			return a.runDrill(cmd.Context(), args[0], kind, o)
		},
	}
	f := cmd.Flags()
	f.SortFlags = false
	f.StringVar(&o.at, "at", "", "joint, drum, bay, vent, glazed face or door (the first; of joints the one that costs most)")
	f.StringVar(&o.on, "on", "", "day on which it begins, month and day (so that it is there in the coldest night)")
	f.Float64Var(&o.hours, "hours", 0, "how long it lasts (a night for cover and door, 72 for what has to be mended)")
	f.StringVar(&o.hole, "hole", "", `leak, drum: diameter of the hole ("5 mm")`)
	f.StringVar(&o.to, "to", "", "leak, drum: where the water goes: floor, cold sink, soil, outside (soil)")
	f.IntVar(&o.seen, "seen-after", 1, "leak: days until somebody sees it")
	f.StringVar(&o.spare, "spare", "", `leak: room in other vessels for water that is let out ("0 L")`)
	f.StringVar(&o.pane, "pane", "", `pane: how much of the glazing ("1 m2")`)
	f.IntVar(&o.days, "days", 0, "footing: how long the bay stands empty (4)")
	f.IntVar(&o.every, "every", 7, "footing: a begin is tried on every so many days")
	f.StringVar(&o.year, "year", "", "a year of hourly weather of a kind that docs/weather.md lists")
	f.StringVar(&o.record, "record", "", "leak: a long record, whose rain fills the drums again")
	setFlag(f, &o.sets, "")
	f.StringVar(&o.out, "out", "", "folder for the answer")
	return cmd
}

func (a *app) runDrill(ctx context.Context, path, kind string, o drillOptions) error {
	names := []string{jointsDrill, footingDrill}
	for _, k := range drill.Kinds {
		names = append(names, string(k))
	}
	if !slices.Contains(names, kind) {
		hint := "drills are " + strings.Join(names, ", ")
		if near, ok := unit.Nearest(kind, names); ok {
			hint = fmt.Sprintf("did you mean %q?", near)
		}
		return usage(hint, "there is no drill %q", kind)
	}
	req, err := o.request(drill.Kind(kind))
	if err != nil {
		return err
	}
	p, findings, err := a.readPlan(path, planOptions{sets: o.sets, year: true})
	if err != nil {
		return err
	}
	a.warn(findings)
	w, err := a.drillWinter(ctx, p, o, kind)
	if err != nil {
		return err
	}
	switch kind {
	case jointsDrill:
		return a.tellJoints(p, w, o)
	case footingDrill:
		return a.tellFooting(ctx, p, w, o)
	}
	req.Plan, req.Winter = p, w
	if req.Kind == drill.Leak || req.Kind == drill.DrumFrozen {
		if req.Rain, err = a.rainOf(ctx, p, o.record); err != nil {
			return err
		}
	}
	show := a.progress("computing the winter with the fault")
	answer, err := drill.Run(ctx, req, show.at)
	show.close()
	if err != nil {
		return input(err)
	}
	return a.tellAnswer(o.out, a.teller(p).Drill(answer), nil, func(w io.Writer) error { return report.DrillJSON(w, answer) })
}

// drillWinter runs the winter of the plan; the table of joints does without where there is no weather for it.
func (a *app) drillWinter(ctx context.Context, p *plan.Plan, o drillOptions, kind string) (*winter.Answer, error) {
	req := winter.Request{Plan: p}
	var err error
	if req.Year, err = a.readYear(o.year, p); err != nil {
		return nil, err
	}
	if kind == jointsDrill && (p.Water == nil || req.Year == nil && p.Climate == nil) {
		return nil, nil
	}
	return a.runWinter(ctx, req, another{})
}

// rainOf is the rain of a record, or of years made from the plan's normals.
func (a *app) rainOf(ctx context.Context, p *plan.Plan, file string) (days []catchment.Day, err error) {
	show := a.progress("making years of rain")
	defer show.close()
	if file == "" {
		days, _, _, err = water.RainDays(ctx, p, nil, 0, show.at)
		return days, input(err)
	}
	r, err := a.openRecord(file, p)
	if err != nil {
		return nil, input(err)
	}
	days, _, _, err = water.RainDays(ctx, p, r, 0, show.at)
	return days, input(err)
}

// request reads the options of a fault.
func (o *drillOptions) request(kind drill.Kind) (drill.Request, error) {
	req := drill.Request{Kind: kind, At: o.at, To: o.to, LastsH: o.hours, NoticedD: o.seen}
	var err error
	if req.On, err = parseDay("--on", o.on); err != nil {
		return req, err
	}
	switch {
	case !(o.hours >= 0 && o.hours <= 8760):
		return req, usage("a night is 16", "--hours is %g, must be 0 to 8760", o.hours)
	case o.seen < 1 || o.seen > 60:
		return req, usage("1 is the next noon", "--seen-after is %d, must be 1 to 60 days", o.seen)
	case o.days < 0 || o.days > 60:
		return req, usage("four are usual", "--days is %d, must be 1 to 60", o.days)
	case o.every < 1 || o.every > 60:
		return req, usage("7 is once a week", "--every is %d, must be 1 to 60 days", o.every)
	}
	for _, q := range []struct {
		flag, text string
		kind       unit.Kind
		low, high  float64
		to         *float64
		allowed    string
	}{
		{"--hole", o.hole, unit.Length, 0.0002, 0.2, &req.HoleM, "0.2 mm to 200 mm"},
		{"--pane", o.pane, unit.Area, 0.01, 100, &req.PaneM2, "0.01 m2 to 100 m2"},
		{"--spare", o.spare, unit.Volume, 0, 200, &req.SpareM3, "0 L to 200 m3"},
	} {
		if q.text == "" {
			continue
		}
		v, err := unit.Parse(q.kind, q.text)
		if err != nil {
			return req, usage("a number with its unit", "%s: %v", q.flag, err)
		}
		if !(v.SI >= q.low && v.SI <= q.high) {
			return req, usage("allowed is "+q.allowed, "%s is %s", q.flag, q.text)
		}
		*q.to = v.SI
	}
	return req, nil
}

// tellJoints tells the table of joints, with the water as warm as it is when the winter's reserve is least; and how to mend one where it is named.
func (a *app) tellJoints(p *plan.Plan, w *winter.Answer, o drillOptions) error {
	h, bad := house.Resolve(p)
	if err := plan.AsError(bad); err != nil {
		return input(err)
	}
	table, err := drill.Joints(h, drill.WaterC(h, w), nil)
	if err != nil {
		return input(err)
	}
	text := a.teller(p).Joints(table)
	var repair *drill.Repair
	if o.at != "" {
		j, err := drill.FindJoint(h.Scheme, o.at)
		if err != nil {
			return input(err)
		}
		if repair, err = drill.RepairOf(h, j, nil); err != nil {
			return input(err)
		}
		text += a.teller(p).Repair(repair)
	}
	return a.tellAnswer(o.out, text, nil, func(w io.Writer) error { return report.JointsJSON(w, table, repair) })
}

func (a *app) tellFooting(ctx context.Context, p *plan.Plan, w *winter.Answer, o drillOptions) error {
	show := a.progress("emptying the bay on days of the winter")
	answer, err := drill.Footing(ctx, drill.FootingRequest{Plan: p, Winter: w, Bay: o.at, Days: o.days, Every: o.every}, show.at)
	show.close()
	if err != nil {
		return input(err)
	}
	return a.tellAnswer(o.out, a.teller(p).Footing(answer), nil, func(w io.Writer) error { return report.FootingJSON(w, answer) })
}
