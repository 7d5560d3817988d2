// Package record holds long records of weather, daily or hourly, and the winters cut of them.
//
// What the package promises:
//
//   - The format is told by the content. A daily record is days one after another, each calendar day one entry; a day, or a value, that
//     the file lacks is NaN. An hourly record is a weather.Series.
//   - Nothing is invented in silence: what is missing, traces taken as 0, units that were told by size and not by the file stand in
//     Record.Notes.
//   - What cannot be is refused with line and value: a low above its high, more sun than arrives outside the air, a mean that says another unit.
//   - A winter with more than three days missing in a row is left out and named, never bridged.
//
// SI units, °C for temperatures, degrees only in the place.
package record
