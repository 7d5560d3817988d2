package weather

import (
	"math"
	"strings"
	"testing"
)

// sound fails on a series a reader must not have let through.
func sound(t *testing.T, s Series, err error) {
	if err != nil {
		if err.Error() == "" {
			t.Fatal("an error that says nothing")
		}
		return
	}
	if len(s.Hours) == 0 {
		t.Fatal("no hours and no error")
	}
	for i := range s.Hours {
		if math.IsNaN(s.Hours[i].AirC) {
			t.Fatalf("air of hour %d is not known", i)
		}
		for q := range quantities {
			v := *s.Hours[i].value(q)
			if v < facts[q].low || v > facts[q].high {
				t.Fatalf("%s of hour %d is %g", facts[q].name, i, v)
			}
		}
	}
}

func FuzzTMY3(f *testing.F) {
	whole := inventedTMY3(true)
	f.Add(whole[:4000])
	f.Add(inventedTMY3(false)[:3000])
	f.Add(strings.ReplaceAll(whole[:2000], ",", "\""))
	f.Fuzz(func(t *testing.T, content string) {
		s, err := ReadTMY3(strings.NewReader(content), "f")
		sound(t, s, err)
	})
}

func FuzzPVGIS(f *testing.F) {
	whole := inventedPVGIS(KnownPlace(45, 8, 250), 0.1761)
	f.Add(whole[:4000])
	f.Add(strings.Replace(whole[:3000], "0.1761", "-1", 1))
	f.Fuzz(func(t *testing.T, content string) {
		s, err := ReadPVGIS(strings.NewReader(content), "f", ReadOptions{})
		sound(t, s, err)
	})
}

func FuzzPlain(f *testing.F) {
	f.Add(plainHead + "time,air [degC],humidity [%]\n2024-01-01 01:00,1,90\n2024-01-01 02:00,1,\n")
	f.Add(plainHead + "# stamp: start of hour\nday;hour;air [degF];humidity ratio [g/kg];snow depth [in]\n1;1;1;1;1\n1;2;1;1;1\n")
	f.Add("# time zone: UTC+5:30\ntime\tair [degC]\n2024-12-31T24:00:00\t3\n")
	f.Fuzz(func(t *testing.T, content string) {
		s, err := Read(strings.NewReader(content), "f", ReadOptions{})
		sound(t, s, err)
	})
}

// fuzzArchive feeds Read with texts like those given; with gaps kept too, which leaves hours without air.
func fuzzArchive(f *testing.F, seeds ...string) {
	for _, s := range seeds {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, content string) {
		s, err := Read(strings.NewReader(content), "f", ReadOptions{})
		sound(t, s, err)
		if s, err := Read(strings.NewReader(content), "f", ReadOptions{KeepGaps: true}); err == nil && len(s.Hours) == 0 {
			t.Fatal("no hours and no error")
		}
	})
}

func FuzzNSRDB(f *testing.F) {
	fuzzArchive(f, nsrdbHalfHours, nsrdbHalfHours[:len(nsrdbHalfHours)-75], strings.ReplaceAll(nsrdbHalfHours, ",30,", ",7,"))
}

func FuzzCRN(f *testing.F) { fuzzArchive(f, crnHours, strings.ReplaceAll(crnHours, "2024", "2023")) }

func FuzzPower(f *testing.F) {
	fuzzArchive(f, powerHours, strings.Replace(powerHours, "in UTC", "in LST", 1), strings.Replace(powerHours, "RH2M", "QV2M", 2))
}

func FuzzJSON(f *testing.F) {
	fuzzArchive(f, archiveMetric, `{"inputs": {"location": {"latitude": 45, "longitude": 8, "elevation": 250, "irradiance_time_offset": 0.1}}, "outputs": {"tmy_hourly": [{"time(UTC)": "20180101:0000", "T2m": 2, "RH": 94, "G(h)": 0}]}}`)
}
