package thirst

// choices are what the need rests on, told with every answer.
var choices = []Choice{
	{"need of grass in the house", "Penman-Monteith by the hour (FAO paper 56, eq. 3) with the house's own air at bed level, and 150 s/m of resistance in the air over the leaves, which fitted grass in a plastic house best (Fernández and others 2010); leaves 50 s/m by day and 200 by night (ASCE-EWRI 2005, from memory); dew is left out"},
	{"net radiation", "77 % of the sun on the bed, and the longwave that falls on the leaf tips from glazing, walls and drums less that of the leaves at their own temperature; a tenth of it by day and half by night go into the soil"},
	{"crop", "coefficients of FAO paper 56, tables 11 and 12; the share of a bed without leaves as bare, watered soil (own judgement)"},
	{"soil water", "from field capacity on the first day (own judgement); capacity and wilting point of table 19, middle of the range, from memory; the easily drawn share of table 22 for the day's need"},
	{"watering", "on the morning of the day in whose course more than the easily drawn water would be gone, up to field capacity, over the whole bed and without loss on the way; never while the soil at 5 cm is below 0.5 °C (own judgement)"},
	{"frost", "what frost does to roots and leaves is left out: frozen plants drink nothing, so that the need in the coldest days is told too high"},
	{"heat", "the winter is not run again with these waterings: what cold water costs the beds and the store is not in it"},
}

// cautions are told with every answer.
var cautions = []string{
	"Water of a roof carries what lay on it: water the soil, not the leaf, in the morning, and not just before picking (extension services of Rutgers, FS1218, and Illinois). Whether it may touch food that is eaten raw is for your health office to say.",
	"Nobody measured your beds. Before each watering feel the soil a finger deep, and wait while it is moist: in cold, dark weeks wet soil rots roots sooner than dry soil harms them (common practice, no source).",
	"Leaves that stay wet at night get grey mould, and ice when it freezes: do not sprinkle (common practice, no source).",
}
