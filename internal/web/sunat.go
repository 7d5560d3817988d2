package web

import (
	"net/http"
	"time"

	"github.com/danielgtaylor/huma/v2"

	"suncellar/internal/drawing"
	"suncellar/internal/report"
	"suncellar/internal/sunhours"
)

// SunRequest asks how long the sun is seen from a point of the section on a day.
type SunRequest struct {
	Name  string   `json:"name" maxLength:"120"`
	Text  string   `json:"text" maxLength:"1048576"`
	X     *float64 `json:"x_m,omitempty" minimum:"-1000" maximum:"1000" doc:"across the section, from its origin [m]; left out with z: the middle of the first bed, else of the floor"`
	Z     *float64 `json:"z_m,omitempty" minimum:"-1000" maximum:"1000" doc:"above grade [m]"`
	Month int      `json:"month,omitempty" minimum:"0" maximum:"12" doc:"0: the shortest day"`
	Day   int      `json:"day,omitempty" minimum:"0" maximum:"31"`
	View
}

// SunAnswer is how long the sun is seen.
type SunAnswer struct {
	Sentence string  `json:"sentence" doc:"how long, when and where; or that the point is not in the room"`
	Heard    string  `json:"heard" doc:"what is in it and what is not"`
	X        float64 `json:"x_m" doc:"where the point was taken to be: on the soil of a bed, at the side of a drum"`
	Z        float64 `json:"z_m"`
	Month    int     `json:"month"`
	Day      int     `json:"day"`
	Hours    float64 `json:"hours_h" doc:"in the middle of the house"`
	Picture  Picture `json:"picture" doc:"the day at the point and at each bed; empty where there is none"`
}

// suns serves hours of sun.
func (s *Server) suns(api huma.API) {
	post(api, huma.Operation{OperationID: "sun", Path: "/api/sun", Summary: "How long the sun is seen from a point of the section on a day", Errors: []int{422}}, quick(sunAt))
}

func sunAt(in *SunRequest) (*SunAnswer, error) {
	_, h, t, err := toldOf(in.Name, in.Text, in.View)
	if err != nil {
		return nil, err
	}
	out := &SunAnswer{Month: in.Month, Day: in.Day, Heard: report.SunHeard}
	if in.Month == 0 || in.Day == 0 {
		out.Month, out.Day = report.ShortestDay(h)
	}
	d, err := sunhours.On(h, time.Month(out.Month), out.Day)
	if err != nil {
		return nil, huma.NewError(http.StatusUnprocessableEntity, err.Error())
	}
	place, err := d.Middle()
	if in.X != nil && in.Z != nil {
		place, err = d.Take(*in.X, *in.Z)
	}
	out.X, out.Z = place.X, place.Z
	if err != nil {
		out.Sentence = report.Sentence(err)
		return out, nil
	}
	out.Sentence = t.SunAt(h, d, place)
	sun := t.SunHours(h, d, place)
	out.Hours = sun.Rows[0].Hours()
	list, err := drawing.DrawSunHours(sun, t.Frame())
	if err != nil {
		return nil, err
	}
	picture, err := pictureOf(report.Picture{Name: "sun-hours.svg", List: list})
	if err != nil {
		return nil, err
	}
	out.Picture = *picture
	return out, nil
}
