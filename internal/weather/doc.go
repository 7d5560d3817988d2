// Package weather holds hourly weather: reads it from files, completes what a
// file lacks, and makes it from monthly normals.
//
// What the package promises:
//
//   - One convention of time. Hour i of a Series covers (Start+i h, Start+(i+1) h]
//     in local standard time. Sums and means (sun, sky longwave, cloud, rain, snowfall)
//     are over that hour; states (air, dew point, pressure, wind, snow depth) are those
//     at its end. Every reader says in its comment how the file's stamps are mapped.
//   - A value that is not known is NaN, and after Complete none is left except in the
//     snow and ground-albedo fields, which stay NaN until a snow maker fills them.
//   - Nothing is invented in silence: whatever was missing, filled, derived, flagged or
//     made stands in Series.Notes with its place and length.
//   - A reader reports all it finds wrong (the first twenty are spelt out), each as
//     file:line:column with the value and what is allowed. Files may be gzip.
//   - Makers take a seed and give the same hours for the same seed.
//
// SI units, °C for temperatures, degrees only in Place. The format of the package's own
// files is described in docs/weather.md.
package weather
