package greenhouse

// WaterIce is the share of water of the store that is ice at a temperature that a run gives of it [°C], 0 to 1.
func WaterIce(c float64) float64 {
	law := waterLaw(1)
	return law.IceShare(c)
}
