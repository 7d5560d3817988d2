package lanes

import "golang.org/x/sys/cpu"

// wide is whether four numbers go at a time. Tests turn it off.
var wide = cpu.X86.HasAVX2

// addRows is Add, with to as many fours long.
//
//go:noescape
func addRows(to, a, x *float64, fours, rows, stride int)

// subtractRows is Subtract in the same way.
//
//go:noescape
func subtractRows(to, a, x *float64, fours, rows, stride int)

// addDots is AddDots, with to as many fours long and x as many as across.
//
//go:noescape
func addDots(to, a, x *float64, fours, across, stride int)

// subtractDots is SubtractDots in the same way.
//
//go:noescape
func subtractDots(to, a, x *float64, fours, across, stride int)

// takeOff is takeOffGo.
//
//go:noescape
func takeOff(a *float64, stride, rest int)
