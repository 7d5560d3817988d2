package material

import "math"

// Vessel is a container that can hold the store's water, upright as it stands.
type Vessel struct {
	Key  string
	Name string
	// VolumeM3 is what it holds [m3].
	VolumeM3 float64
	// DiameterM is the outside diameter [m] of a round vessel, 0 for a box.
	DiameterM float64
	// LengthM and WidthM are the outside footprint [m] of a box, 0 for a round vessel.
	LengthM, WidthM float64
	HeightM         float64 // outside height [m]
	EmptyKg         float64 // [kg]
	WallM           float64 // wall thickness [m]
	Wall            string  // key of the wall's material
	Source          string
	Confidence      Confidence
}

// FootprintM2 returns the area it stands on [m2].
func (v Vessel) FootprintM2() float64 {
	if v.DiameterM > 0 {
		return math.Pi / 4 * v.DiameterM * v.DiameterM
	}
	return v.LengthM * v.WidthM
}

// SideM2 returns the area of its side [m2], ribs and cage not counted.
func (v Vessel) SideM2() float64 {
	if v.DiameterM > 0 {
		return math.Pi * v.DiameterM * v.HeightM
	}
	return 2 * (v.LengthM + v.WidthM) * v.HeightM
}

const drumSource = "drum makers' size guides; masses and walls from memory"
const toteSource = "intermediate bulk container size guides; outside of the pallet and cage"

// vessels is read only.
var vessels = [...]Vessel{
	{Key: "drum_55gal_plastic", Name: "55 US gal plastic drum", VolumeM3: 0.208, DiameterM: 0.58, HeightM: 0.87, EmptyKg: 9.5, WallM: 0.003, Wall: "hdpe", Source: drumSource, Confidence: Medium},
	{Key: "drum_55gal_steel", Name: "55 US gal steel drum", VolumeM3: 0.208, DiameterM: 0.58, HeightM: 0.87, EmptyKg: 20, WallM: 0.001, Wall: "steel", Source: drumSource, Confidence: Medium},
	{Key: "tote_275gal", Name: "275 US gal bulk container", VolumeM3: 1.041, LengthM: 1.219, WidthM: 1.016, HeightM: 1.168, EmptyKg: 60, WallM: 0.0025, Wall: "hdpe", Source: toteSource, Confidence: High},
	{Key: "tote_330gal", Name: "330 US gal bulk container", VolumeM3: 1.250, LengthM: 1.219, WidthM: 1.016, HeightM: 1.346, EmptyKg: 65, WallM: 0.0025, Wall: "hdpe", Source: toteSource, Confidence: High},
}

// LookupVessel returns the vessel of that key. The error lists the known keys.
func LookupVessel(key string) (Vessel, error) {
	for i := range vessels {
		if vessels[i].Key == key {
			return vessels[i], nil
		}
	}
	return Vessel{}, unknown("vessel", key, VesselNames())
}

// VesselNames returns the keys of all vessels, sorted.
func VesselNames() []string { return keys(vessels[:], func(v Vessel) string { return v.Key }) }
