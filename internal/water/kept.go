package water

// KeptZ is how high the water stands when the fed drums hold what is kept of it; where that is more than they hold, as high as it stands full [m].
func (a *Answer) KeptZ(m3 float64) float64 { return a.height(m3) }
