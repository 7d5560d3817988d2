package weather

// deviation is the standard deviation [K] of a day's temperature by its mean [°C]: two polynomials that change over at 0 °C and
// straight lines beyond their range.
//
// Source: Sommer and Kaplan 2017, Geoscientific Model Development 10:3771, as in generator.go.
type deviation struct {
	coldest, warmest float64 // range of the polynomials [°C]
	veryCold, below  []float64
	above, veryWarm  []float64
	leastK, mostK    float64 // the lines are not followed beyond [K]
}

var (
	lowWetSD = deviation{-40, 25,
		[]float64{9.72715668, 0.1010504}, []float64{3.05498827, -0.21158825, 0.01374948, 0.00140538, 3.686e-5, 3.2e-7},
		[]float64{3.21874237, -0.04507634, 0.02094482, -0.00264577, 9.818e-5, -1.13e-6}, []float64{0.55707042, 0.02443123}, 0.3, 12}
	lowDrySD = deviation{-40, 25,
		[]float64{10.89900605, 0.12709893}, []float64{3.56755661, -0.11544588, 0.02824401, 0.00195612, 4.314e-5, 3.2e-7},
		[]float64{3.79411755, 0.03298697, -0.01504554, 0.00190346, -1.1362e-4, 2.13e-6}, []float64{-4.61943457, 0.22605603}, 0.3, 12}
	highWetSD = deviation{-30, 35,
		[]float64{6.67200351, 0.03643908}, []float64{3.86010858, -0.21861197, 0.00388465, 0.00146174, 6.059e-5, 7.4e-7},
		[]float64{3.79193207, -0.03126021, 0.01611473, -0.00120298, 2.912e-5, -2.4e-7}, []float64{5.55292835, -0.09734715}, 0.3, 12}
	highDrySD = deviation{-30, 35,
		[]float64{7.37455165, 0.01535526}, []float64{4.61701866, -0.33872824, -0.0187566, -0.0003185, 3.5e-6, 1.1e-7},
		[]float64{4.74550991, -0.07609816, 0.01893058, -0.00134943, 3.209e-5, -2.5e-7}, []float64{3.25541815, -0.02178605}, 0.3, 12}
)

// at is the deviation [K] at a mean temperature [°C].
func (d deviation) at(meanC float64) float64 {
	c := d.above
	switch {
	case meanC <= d.coldest:
		c = d.veryCold
	case meanC <= 0:
		c = d.below
	case meanC > d.warmest:
		c = d.veryWarm
	}
	return clamp(polynomial(meanC, c...), d.leastK, d.mostK)
}
