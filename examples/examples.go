// Package examples holds small whole plans. They are part of the program, so that a demo needs nothing but itself.
package examples

import _ "embed"

// LarchHollowName is the file name of the plan that the demo computes.
const LarchHollowName = "larch-hollow.yaml"

// LarchHollow is that plan: an invented house at an invented place.
//
//go:embed larch-hollow.yaml
var LarchHollow []byte
