// Package exact holds closed-form answers of heat conduction, freezing and
// cooling, for tests to hold the solver against. Nothing but tests imports it.
//
// It promises no approximation of its own: each function is the published
// solution, summed or solved to near machine precision. Depths are in m from the
// surface, times in s from the start unless a name says otherwise, temperatures
// in °C.
//
// Sources, by key; the section numbers of CJ and the wording of ISO 13370 are from
// memory, the equations are checked by the tests:
//   - CJ: H. S. Carslaw and J. C. Jaeger, Conduction of Heat in Solids, 2nd ed., 1959.
//   - ISO 10211:2017, Thermal bridges in building construction, annex C.
//   - ISO 13370:2017, Thermal performance of buildings: heat transfer via the ground.
//   - ISO 13786:2017, Thermal performance of building components: dynamic thermal
//     characteristics.
//   - Kusuda, T. and Achenbach, P. R., Earth temperature and thermal diffusivity at
//     selected stations in the United States, ASHRAE Transactions 71 (1965) 61-75.
//   - Delsante, A. E., Stokes, A. N. and Walsh, P. J., Application of Fourier
//     transforms to periodic heat flow into the ground under a building,
//     International Journal of Heat and Mass Transfer 26 (1983) 121-132.
package exact
