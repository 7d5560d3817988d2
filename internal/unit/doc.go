// Package unit turns quantity text such as "12 ft 6 in", "-9 degF" or "R-19"
// into one float64 and back. It is the only place where a conversion factor
// stands.
//
// It promises:
//   - Parse accepts a number with a unit and nothing less. A bare number is an
//     error that says how to write it, except for shares (0 to 1), ratios and
//     counts, which have no unit.
//   - A level of temperature (-9 degF) and a difference of temperature
//     (5 delta_degF, 5 K) are two kinds, and never stand in for each other.
//   - Every error says which column, what was read, what is known, and a hint.
//   - A parsed value is finite. Hexadecimal, octal-looking, underscored,
//     infinite and overflowing numbers are refused, a decimal comma too.
//   - Like writes a value in the unit its writer used, so that Parse reads it
//     back to within 1e-9 of its size.
//
// Values are kept in SI base units with four exceptions that follow the trade:
// temperature levels in °C, air changes in 1/h, degree-hours in K h and the mean
// of daily irradiation in kWh/(m2 d). The
// suffix of the kind (see Kind.Suffix) says so wherever a value is named.
//
// Factors are the exact definitions in: A. Thompson and B. N. Taylor, Guide for
// the Use of the International System of Units, NIST Special Publication 811,
// 2008, appendix B; the British thermal unit is the International Table one.
// The rounded factors the tests quote from that guide are from memory; each agrees
// with the definition to its last digit.
package unit
