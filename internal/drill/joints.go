// Package drill is what a fault costs, tried on paper. Of the joints of the water pipes: which drums run out when one fails, how far, what valves save,
// what has to be shut and drained to mend one, and where more valves are worth most.
//
// Heights are above grade [m], volumes in m³. Wording is the business of package report.
package drill

import (
	"fmt"
	"strings"

	"suncellar/internal/house"
	"suncellar/internal/plan"
	"suncellar/internal/unit"
)

// Joint is a point of the scheme at which water can come out: where pipes meet, or where one meets a vessel. A failed wall of a drum is none. The overflow's is none either: what
// stands below it does not reach it.
type Joint struct {
	Name  string // as somebody finds it: "joint at back drums, drum 3", "branch at back drums, drum 3"
	Path  string // of the plan
	Point int    // of the scheme
	Z     float64
	Rigid bool  // one of its couplings is
	Pipes []int // that end here
	Drips []int // drip lines that begin here
}

// All are the joints of a scheme, in the order of its points. A point where nothing ends is none.
func All(w *house.Water) []Joint {
	var list []Joint
	taken := map[string]int{}
	for p := range w.Points {
		j := Joint{Point: p, Z: w.Points[p].Z}
		for i := range w.Pipes {
			if pipe := &w.Pipes[i]; pipe.From == p || pipe.To == p {
				j.Pipes = append(j.Pipes, i)
				j.Rigid = j.Rigid || pipe.Rigid
			}
		}
		for i := range w.Drips {
			if w.Drips[i].From == p { // nothing is said of its coupling: the side that fails more often
				j.Drips = append(j.Drips, i)
				j.Rigid = true
			}
		}
		inlet := w.InletEnd == p
		j.Rigid = j.Rigid || inlet && w.Inlet.Rigid
		if len(j.Pipes)+len(j.Drips) == 0 && !inlet {
			continue
		}
		j.Name, j.Path = jointName(w, &j), jointPath(w, &j)
		if taken[j.Name]++; taken[j.Name] > 1 {
			j.Name = fmt.Sprintf("%s (%d)", j.Name, taken[j.Name])
		}
		list = append(list, j)
	}
	return list
}

// jointName is the name of a point that is no vessel's; at a vessel it is that of what ends there.
func jointName(w *house.Water, j *Joint) string {
	v := w.Points[j.Point].Vessel
	if v < 0 {
		return w.Points[j.Point].Name
	}
	vessel := w.Vessels[v].Name
	what := plan.InletEnd
	switch {
	case len(j.Pipes) > 0:
		if what = w.Pipes[j.Pipes[0]].Name; what == "branch to "+vessel {
			what = "branch"
		}
	case len(j.Drips) > 0:
		what = w.Drips[j.Drips[0]].Plan.Name
	}
	return what + " at " + vessel
}

func jointPath(w *house.Water, j *Joint) string {
	switch {
	case len(j.Pipes) > 0:
		return w.Pipes[j.Pipes[0]].Path
	case len(j.Drips) > 0:
		return w.Drips[j.Drips[0]].Path
	}
	return w.Inlet.Path
}

// FindJoint is the joint of a name, letter case ignored. The error names the nearest joint, or some of them.
func FindJoint(w *house.Water, name string) (Joint, error) {
	all := All(w)
	var names []string
	for _, j := range all {
		if strings.EqualFold(j.Name, strings.TrimSpace(name)) {
			return j, nil
		}
		names = append(names, j.Name)
	}
	if len(all) == 0 {
		return Joint{}, fmt.Errorf("no joint is called %q: no pipe of the plan's water ends anywhere", name)
	}
	if near, ok := unit.Nearest(name, names); ok {
		return Joint{}, fmt.Errorf("no joint is called %q\nhint: did you mean %q?", name, near)
	}
	return Joint{}, fmt.Errorf("no joint is called %q\nhint: joints are called such as %q; the list of all joints has their names", name, strings.Join(names[:min(3, len(names))], `", "`))
}
