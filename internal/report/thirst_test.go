package report

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"strings"
	"testing"
	"time"

	"suncellar/internal/cropwater"
	"suncellar/internal/greenhouse"
	"suncellar/internal/house"
	"suncellar/internal/plan"
	"suncellar/internal/thirst"
	"suncellar/internal/unit"
	"suncellar/internal/winter"
)

// thirsty is two invented beds over forty days: one is watered twice, once late; the other gets more from the plan than its soil holds.
func thirsty() *thirst.Answer {
	start := time.Date(2002, 1, 11, 0, 0, 0, 0, time.UTC)
	w := &winter.Answer{Prepared: &winter.Prepared{Plan: &plan.Plan{Name: "House"}, House: &house.House{}}, Result: &greenhouse.Result{Start: start, GlobalWM2: make([]float64, 40*24)}}
	crop, _ := cropwater.CropOf("kale")
	soil, _ := cropwater.SoilOf("loam")
	bed := func(name string) thirst.Bed {
		b := thirst.Bed{Name: name, AreaM2: 10, Planted: 0.8, Crop: crop, Soil: soil, RootsM: 0.4, NeedMM: 40, LostMM: 40}
		for d := range 40 {
			b.Days = append(b.Days, thirst.Day{Begin: start.AddDate(0, 0, d), NeedMM: 1, LostMM: 1, LacksMM: float64(d), LightMol: 3, AirC: 10, SoilC: 4, Booked: thirst.Booked{LeavesL: 12, SoilL: 3}})
		}
		return b
	}
	front, back := bed("front bed"), bed("back bed")
	for d, late := range map[int]int{12: 0, 30: 3} {
		front.Days[d].WateredMM = 20
		front.Waterings = append(front.Waterings, thirst.Watering{Begin: front.Days[d].Begin, MM: 20, Litres: 200, SoilC: 5, LateD: late})
	}
	if front.Waterings[0].LateD != 0 {
		front.Waterings[0], front.Waterings[1] = front.Waterings[1], front.Waterings[0]
	}
	front.LostMM = 38
	back.PlannedMM, back.DrainedMM = 60, 8
	back.Days[5].PlannedMM = 60
	return &thirst.Answer{Winter: w, Beds: []thirst.Bed{front, back}, Days: 40, Booked: thirst.Booked{LeavesL: 1000, SoilL: 234}, Cautions: []string{"Mind."}, Choices: []thirst.Choice{{Item: "it", How: "so"}}}
}

func TestThirstIsTold(t *testing.T) {
	a := thirsty()
	text := Teller{System: unit.SI}.Thirst(a)
	flat := strings.Join(strings.Fields(text), " ")
	for _, want := range []string{
		"Water the beds 0 to 2 times in these 40 days beside what the plan draws, each as its soil dries, if it is full on the first day.",
		"Their need is about 800 L, 1.0 mm a day on the mean", "gave off about 1200 L", "let roof and store be able to give 1200 L",
		"First of all: front bed on 23 January, 200 L (20 mm).", "The plan draws 600 L for the beds, which is counted. Of what goes onto back bed 80 L finds no room",
		"Front bed lacks 2.0 mm of its need while its soil is frozen", "10 February front bed 200 L 20 mm 5.0 °C 3 days late: frozen soil",
		"January 21 10.0 3.0 21 210 L 315 L 200 L 20", "in all 40 40 400 L 600 L 600 L 39", "kale (figures of cabbage; roots of Brussels sprouts), grown all the time, crop coefficient 1.05",
	} {
		if !strings.Contains(flat, want) {
			t.Errorf("%q is not in\n%s", want, text)
		}
	}
	for line := range strings.Lines(text) {
		if len([]rune(strings.TrimRight(line, "\n"))) > Width {
			t.Errorf("too wide: %s", line)
		}
	}
	if us := (Teller{System: unit.US}).Thirst(a); !strings.Contains(us, "(0.79 in)") || strings.Contains(us, " L") || strings.Contains(us, " mm") {
		t.Errorf("in US units:\n%s", us)
	}
}

// Every bed as often as the other, and none at all, are told as that.
func TestHowOftenToWater(t *testing.T) {
	a := thirsty()
	a.Beds = a.Beds[:1]
	if got := (Teller{}).howOften(a); got != "Water each bed 2 times in these 40 days, if its soil is full on the first day." {
		t.Error(got)
	}
	a.Beds[0].Waterings = nil
	if got := (Teller{}).howOften(a); got != "No bed asks for water in these 40 days, if its soil is full on the first day." {
		t.Error(got)
	}
}

func TestThirstForPrograms(t *testing.T) {
	a := thirsty()
	var b bytes.Buffer
	if err := ThirstJSON(&b, a); err != nil {
		t.Fatal(err)
	}
	var out thirstJSON
	if err := json.Unmarshal(b.Bytes(), &out); err != nil {
		t.Fatal(err)
	}
	if out.NeedL != 800 || out.DrawnL != 600 || out.WateredL != 400 || out.Beds[0].Waterings[1].LateD != 3 || out.Beds[0].Days[3].Booked.SoilL != 3 || out.Beds[1].Days[5].DrawnMM != 60 || len(out.Beds[0].Days) != 40 {
		t.Errorf("%+v", out)
	}
	b.Reset()
	if err := ThirstCSV(&b, a); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(&b).ReadAll()
	if err != nil || len(rows) != 81 {
		t.Fatalf("%d rows, %v", len(rows), err)
	}
	for i, want := range map[int]string{0: "2002-01-23", 1: "front bed", 12: "200"} {
		if rows[13][i] != want {
			t.Errorf("column %s: %q, want %q", rows[0][i], rows[13][i], want)
		}
	}
}
