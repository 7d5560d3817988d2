package report

import (
	"encoding/csv"
	"io"
	"strconv"

	"suncellar/internal/winter"
)

// column is one column of the hourly file: its head, which ends in its unit, and its value at an hour.
type column struct {
	head string
	at   func(i int) float64
}

// Hours writes every hour of a winter as HoursOver does.
func Hours(w io.Writer, a *winter.Answer) error {
	return HoursOver(w, a, winter.Span{From: 0, To: a.Result.Hours()})
}

// HoursOver writes hours of a winter as CSV: its end (RFC 3339, the site's offset), all places, the outdoors, light, snow, air and moisture, the
// store, buried tubes, and every flow of heat by name. A flow across the boundary is positive into house and earth; one within ("within: ...") from
// the first named to the second. Numbers keep six significant digits. Errors: a failed write.
func HoursOver(w io.Writer, a *winter.Answer, of winter.Span) error {
	columns := hourColumns(a)
	out := csv.NewWriter(w)
	cells := make([]string, 0, len(columns)+1)
	cells = append(cells, "end of hour")
	for _, c := range columns {
		cells = append(cells, c.head)
	}
	if err := out.Write(cells); err != nil {
		return err
	}
	for i := of.From; i < of.To; i++ {
		cells = append(cells[:0], stamp(local(a, a.Result.Time(i))))
		for _, c := range columns {
			cells = append(cells, strconv.FormatFloat(c.at(i), 'g', 6, 64))
		}
		if err := out.Write(cells); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

func hourColumns(a *winter.Answer) []column {
	r := a.Result
	var list []column
	add := func(head string, values []float64, factor float64) {
		list = append(list, column{head, func(i int) float64 { return values[i] * factor }})
	}
	for k := range r.Traces {
		add(r.Traces[k].Name+" [degC]", r.Traces[k].C, 1)
	}
	add("sun on level ground [W/m2]", r.GlobalWM2, 1)
	add("sun that enters [W]", r.EnteredW, 1)
	add("light at beds [mol/m2]", r.BedMol, 1)
	short := func(head string, values []float32, factor float64) {
		list = append(list, column{head, func(i int) float64 { return float64(values[i]) * factor }})
	}
	for k := range r.Strips {
		short("light on "+r.Strips[k].Name()+" [mol/m2]", r.Strips[k].Mol, 1)
	}
	add("snow on glazing [m]", r.SnowM, 1)
	add("snow on ground [m]", r.GroundSnowM, 1)
	add("outdoor air [1/h]", r.AirChanges, 1)
	add("vapour in the air [kg/kg]", r.Humidity, 1)
	add("drip off glazing [kg]", r.DripKg, 1)
	for _, m := range r.Air.Moist {
		add("humidity of "+m.Layer+" [share]", m.Share, 1)
	}
	add("carbon dioxide [ppm]", r.Air.CO2PPM, 1)
	add("heat of the water above 0 degC [J]", r.ReserveJ, 1)
	add("ice in the store [share]", r.IceShare, 1)
	add("water in the store [m3]", r.WaterM3, 1)
	for k := range r.Tubes {
		tubes := &r.Tubes[k]
		name := "tubes " + tubes.Name + ", "
		add(name+"air from inlet to outlet [m3/s]", tubes.FlowM3S, 1)
		add(name+"heat to the air [W]", tubes.HeatJ, 1.0/3600)
		add(name+"condensed [kg]", tubes.WaterKg, 1)
		add(name+"fan [Wh]", tubes.FanWh, 1)
	}
	for k := range r.Flows {
		name := r.Flows[k].Name
		if !r.Flows[k].Crosses {
			name = "within: " + name
		}
		short(name+" [W]", r.Flows[k].J, 1.0/3600)
	}
	return list
}
