package sun

// MolPerJoule is the photons plants use (400 to 700 nm) in global radiation
// [mol/J]: 7.058 mol for each kWh, 1.96 µmol/J.
//
// Under cloud and in diffuse light it is some percent more, under a low sun less;
// 4.57 µmol/J of daylight in that band (McCree 1972, from memory) times a share
// of 0.45 would make 2.06.
// Source: Logan, Sams and Faust, American Meteorological Society meeting, 2016.
const MolPerJoule = 7.058 / 3.6e6

// PhotonFluxMolM2S returns the flux of photons plants use in radiation of the
// sun [mol/m2s].
func PhotonFluxMolM2S(irradianceWM2 float64) float64 { return irradianceWM2 * MolPerJoule }

// PhotonsMolM2 returns the photons plants use in an energy of the sun's
// radiation, a day's for instance [mol/m2].
func PhotonsMolM2(energyJM2 float64) float64 { return energyJM2 * MolPerJoule }
