package drawing

import (
	"math"
	"math/rand/v2"
)

// Invented numbers of many winters, for the pictures that tell chance, cold by
// rarity, and bands.

func demoChance() Chance {
	place := func(name string, kind Kind, whole int, months ...int) ChancePlace {
		// A band wide enough to be seen, narrower at the ends: no rule of statistics.
		share := func(of int) FrostShare {
			s := float64(of) / 100
			return FrostShare{of, math.Max(0, s-0.03-0.15*s*(1-s)), math.Min(1, s+0.03+0.15*s*(1-s))}
		}
		out := ChancePlace{Name: name, Kind: kind, Any: share(whole)}
		for _, m := range months {
			out.Month = append(out.Month, share(m))
		}
		return out
	}
	return Chance{
		Title: "Chance of frost", Sentence: "Sunken house as planned, 100 winters made from the normals; frost is any hour below freezing.",
		Months: []string{"October", "November", "December", "January", "February", "March", "April"}, Winters: 100,
		Places: []ChancePlace{
			place("bed 1, leaf tips, glazing side", Leaf, 47, 0, 3, 18, 36, 21, 4, 0),
			place("bed 2, leaf tips", Leaf, 12, 0, 0, 2, 9, 5, 0, 0),
			place("bed soil, 10 cm", Soil, 1, 0, 0, 0, 1, 0, 0, 0),
			place("cold sink, air", Sink, 98, 4, 31, 77, 93, 85, 40, 2),
		},
	}
}

func demoReturn() Return {
	rng := rand.New(rand.NewPCG(3, 5))
	in := Return{
		Title: "How cold bed 1 gets, and how often", Sentence: "Lowest of the winter at bed 1, leaf tips, glazing side; 15 winters of record.", Place: "bed 1, leaf tips, glazing side", Kind: Leaf,
		Points: []ReturnPoint{{2, 0.4, -0.1, 0.9}, {5, -1.3, -2.2, -0.5}, {10, -2.4, -4.1, -1.2}, {20, -3.4, math.NaN(), -1.8}},
	}
	for range 15 {
		in.LowestC = append(in.LowestC, 0.95+1.5*math.Log(rng.ExpFloat64()))
	}
	return in
}

func demoBands() Bands {
	return Bands{
		Title: "How sure the lowest is", Sentence: "Bed 1, leaf tips, glazing side. The two bands answer two questions and are not added.", Place: "bed 1, leaf tips, glazing side",
		Winters:  Band{-2.4, 0.4, 2.1, "8 winters in 10 of 100, house as planned"},
		House:    Band{-0.9, 0.3, 1.2, "8 houses in 10 of 200, the winter in the middle"},
		Both:     &Band{-3.1, 0.2, 2.4, "8 in 10 of 200 houses, each in a winter of its own"},
		SharesOf: "Per cent of the variance of the lowest (its spread, by squares), from 200 houses in winters of their own.",
		Matters:  []BandShare{{"what is not known of the house", 0.27}, {"the winter", 0.68}, {"both together, not to be parted", 0.05}},
		Inputs: []BandShare{
			{"dirt on the glazing", 0.06}, {"leakage of the closed house", 0.58}, {"soil, how it conducts", 0.24}, {"films of air at the drums", 0.09},
			{"snow on the glazing, how long it lies there", 0.003}, {"colour of the back wall", 0},
		},
	}
}
