package plan

import (
	"strings"
	"testing"
	"unicode/utf8"
)

// FuzzRead holds that any text gives a plan or a finding in the text, and that reading ends. Run it with
// -fuzzminimizetime 10x: making a long text shorter takes longer than finding it.
func FuzzRead(f *testing.F) {
	for _, seed := range []string{pit, box, box + "unknown: {leakage: 0.5 to 2 times, soil_moisture: 40 to 70 %, dirt: off, ageing: 0.5 % to 1 %}\n", "", "- a", "a: [1,5 m, {b", "? a\n: b", "a: &x [*x]\n<<: *x", "a: |\n  x\n b: >-\n", "{a: {a: {a: }}}", "\"\\u0000\": 1", "a:\n\t- b", "--- a\n--- b\n...", "%TAG ! x\n", "a: !!binary x", "a: \"\n", "- - - - a", ": :", "a: 'b'c", "\"F\n\t\t\n\r\n\n\t\t\nd\"\nd"} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		if len(text) > 20_000 {
			t.Skip("longer texts are held to the limits elsewhere")
		}
		p, findings := Load("p", text, withWeather())
		if (p == nil) != Failed(findings) {
			t.Fatalf("plan %v, findings %v", p != nil, findings)
		}
		lines := strings.Split(string(text), "\n")
		for _, x := range findings {
			if x.Message == "" || x.Line < 1 || x.Line > len(lines) || x.Column < 1 {
				t.Fatalf("%+v", x)
			}
			if limit := utf8.RuneCountInString(lines[x.Line-1]) + 1; x.Column > limit {
				t.Errorf("%+v: the line has %d characters", x, limit-1)
			}
			_ = x.Error()
		}
		if p == nil {
			return
		}
		var same []Change
		for v := range p.Origins.All() {
			same = append(same, Change{Path: v.Path, Value: v.Text})
		}
		if q, bad := p.Apply(same...); Failed(bad) || equalButOrigin(p, q) != nil {
			t.Fatalf("set to its own values: %v, %v", bad, equalButOrigin(p, q))
		}
	})
}

// FuzzChange holds that any change gives a plan or a finding.
func FuzzChange(f *testing.F) {
	for _, seed := range []string{"shape.depth=1 m", "beds[0].level=1 ft", "beds=[]", "run={span: winter}", `sun_shares."a=b"=0.5`, "ends.left={}", "climate=none", "section.start[0]=1 m", "builds=none", "unknown.dirt=2 to 9 %", "unknown={leakage: 0.5 to 2 times}"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		c, err := ParseChange(text)
		if err != nil {
			return
		}
		for _, plan := range []string{pit, box} {
			p, findings := Load("p", []byte(plan), withWeather(), c)
			if (p == nil) != Failed(findings) {
				t.Fatalf("plan %v, findings %v", p != nil, findings)
			}
			for _, x := range findings {
				if x.Message == "" || x.File == "" {
					t.Fatalf("%+v", x)
				}
			}
		}
	})
}

func BenchmarkRead(b *testing.B) {
	for b.Loop() {
		Read("p", []byte(pit))
	}
}

func BenchmarkApply(b *testing.B) {
	p, _ := Read("p", []byte(pit))
	for b.Loop() {
		p.Apply(Change{Path: "shape.depth", Value: "1.1 m"})
	}
}
