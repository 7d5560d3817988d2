// Package sun answers where the sun is, what its light puts on a plane, and
// what the sky sends down as heat radiation. It is pure knowledge: numbers in,
// numbers out, nothing remembered.
//
// It promises:
//   - the sun's place to 0.001° between 1900 and 2100 (the unpublished lead of
//     UTC over the earth's true rotation, below 0.9 s, adds up to 0.004° of hour
//     angle), from an instant of time.Time: time zones and half-hour offsets
//     are settled by the instant and cannot be mixed up here;
//   - sunrise, transit and sunset to a few seconds below 65° of latitude;
//   - for means over an hour, the position that stands for the hour, also in
//     the hours of sunrise and sunset (Over);
//   - irradiance on any plane, its parts kept apart (Plane.Irradiance), and
//     never more beam than the sky was said to send.
//
// Directions: azimuth runs clockwise from true north (east 90°), elevation up
// from the level plane, tilt from level (0°) over upright (90°) to facing down
// (180°). East longitude and north latitude are positive. Irradiance is W/m2,
// temperature °C, pressure Pa, height m. Angles are radians in the type Angle.
//
// Functions here take numbers that were checked before; a NaN that arrives is
// a fault of this program and panics.
//
// Symbols, equation numbers and sources: docs/physics/sun.md.
package sun
