//go:build !amd64

package lanes

var wide = false

func addRows(to, a, x *float64, fours, rows, stride int) { panic("lanes: not on this processor") }
func subtractRows(to, a, x *float64, fours, rows, stride int) {
	panic("lanes: not on this processor")
}
func addDots(to, a, x *float64, fours, across, stride int) { panic("lanes: not on this processor") }
func subtractDots(to, a, x *float64, fours, across, stride int) {
	panic("lanes: not on this processor")
}
func takeOff(a *float64, stride, rest int) { panic("lanes: not on this processor") }
