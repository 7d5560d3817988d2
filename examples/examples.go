// Package examples holds small whole plans. They are part of the program, so that a demo needs nothing but itself.
//
// Every house and every place in them is invented, and each plan says so.
package examples

import _ "embed"

// Example is one plan: its file name and its text.
type Example struct {
	Name string
	Plan []byte
}

// All returns the examples, the demo's first. The texts are the program's own: nobody writes into them.
func All() []Example {
	return []Example{
		{LarchHollowName, LarchHollow},
		{"quail-ridge.yaml", quailRidge},
		{"crow-loft.yaml", crowLoft},
	}
}

// LarchHollowName is the file name of the plan that the demo computes.
const LarchHollowName = "larch-hollow.yaml"

// LarchHollow is that plan: an invented house at an invented place.
//
//go:embed larch-hollow.yaml
var LarchHollow []byte

// quailRidge is a lean-to in US units on a cold coast: night cover, bulk totes, snow.
//
//go:embed quail-ridge.yaml
var quailRidge []byte

// crowLoft is a light box on stilts in the long form: windows, fan, heaters, no soil.
//
//go:embed crow-loft.yaml
var crowLoft []byte

// Prices is an example of a list of prices, all of them invented.
//
//go:embed prices.yaml
var Prices []byte
