package weather

import (
	"math/rand/v2"

	"gonum.org/v1/gonum/stat/distuv"
)

// rainShape is the shape of the gamma distribution of a wet day's rain: its mean over the scale of 1.268022 means.
// Source: Geng et al. 1986, coefficient of Sommer and Kaplan 2017.
const rainShape = 1 / 1.268022

// rainOf gives the wet days of each month their share of the month's precipitation. A month whose chain gave no wet
// day has its rain on its cloudiest.
func rainOf(days []dayWeather, n Normals, random *rand.Rand) {
	gamma := distuv.Gamma{Alpha: rainShape, Beta: 1, Src: random}
	first := 0
	for m, length := range daysIn {
		month := days[first : first+length]
		first += length
		if n.PrecipMM[m] == 0 {
			continue
		}
		sum, cloudiest := 0.0, 0
		for i := range month {
			if month[i].cloud > month[cloudiest].cloud {
				cloudiest = i
			}
			if month[i].wet {
				month[i].rainMM = gamma.Rand() + 1e-3
				sum += month[i].rainMM
			}
		}
		if sum == 0 {
			month[cloudiest].rainMM, sum = 1, 1
		}
		for i := range month {
			month[i].rainMM *= n.PrecipMM[m] / sum
		}
	}
}
