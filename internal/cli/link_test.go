package cli

import (
	"bytes"
	"image"
	"image/color"
	"net"
	"slices"
	"strings"
	"testing"

	goqr "github.com/piglig/go-qr"
)

const link = "http://192.168.178.123:8460/?token=ABCDEFGHIJKLMNOPQRSTUVWXYZ#larch-hollow.yaml"

// modules reads what a terminal shows: true where it is dark.
func modules(t *testing.T, drawn string) [][]bool {
	t.Helper()
	var rows [][]bool
	for line := range strings.Lines(drawn) {
		line = strings.TrimSuffix(strings.TrimPrefix(strings.TrimSuffix(line, "\n"), blackOnWhite), ownColours)
		var upper, lower []bool
		for _, c := range line {
			if !strings.ContainsRune(" ▀▄█", c) {
				t.Fatalf("%q is drawn", c)
			}
			upper, lower = append(upper, c == '▀' || c == '█'), append(lower, c == '▄' || c == '█')
		}
		rows = append(rows, upper, lower)
	}
	return rows
}

// What is drawn is read again as a camera's program does, and has the three corners and the light rim it looks for.
func TestLinkIsReadAgain(t *testing.T) {
	drawn, columns, err := square(link)
	if err != nil {
		t.Fatal(err)
	}
	rows := modules(t, drawn)
	side := columns - 2*quiet
	const finder = "1111111 1000001 1011101 1011101 1011101 1000001 1111111" // ISO/IEC 18004:2015, 5.3.3 (from memory)
	for _, at := range [][2]int{{quiet, quiet}, {quiet + side - 7, quiet}, {quiet, quiet + side - 7}} {
		var seen []string
		for y := range 7 {
			var line strings.Builder
			for x := range 7 {
				line.WriteByte("01"[map[bool]int{true: 1}[rows[at[1]+y][at[0]+x]]])
			}
			seen = append(seen, line.String())
		}
		if got := strings.Join(seen, " "); got != finder {
			t.Errorf("corner at %v is %s", at, got)
		}
	}
	const scale = 4
	img := image.NewGray(image.Rect(0, 0, scale*columns, scale*len(rows)))
	for y := range img.Rect.Dy() {
		for x := range img.Rect.Dx() {
			dark := rows[y/scale][x/scale]
			if rim := x/scale < quiet || y/scale < quiet || x/scale >= quiet+side || y/scale >= quiet+side; rim && dark {
				t.Fatalf("the rim is dark at %d, %d", x/scale, y/scale)
			}
			img.SetGray(x, y, color.Gray{Y: map[bool]uint8{false: 255}[dark]})
		}
	}
	if got, err := goqr.Decode(img); err != nil || got != link {
		t.Errorf("read again: %q, %v", got, err)
	}
}

func TestUsableAddresses(t *testing.T) {
	at := func(list ...string) (all []net.Addr) {
		for _, s := range list {
			ip, n, err := net.ParseCIDR(s)
			if err != nil {
				t.Fatal(err)
			}
			all = append(all, &net.IPNet{IP: ip, Mask: n.Mask})
		}
		return all
	}
	for _, c := range []struct {
		what    string
		all     []net.Addr
		outward string
		want    []string
	}{
		{"the one it goes out by is last", at("127.0.0.1/8", "192.168.1.7/24", "172.17.0.1/16", "fd00::7/64", "169.254.3.4/16"), "192.168.1.7", []string{"172.17.0.1", "192.168.1.7"}},
		{"no way out", at("127.0.0.1/8", "10.0.0.2/8"), "", []string{"10.0.0.2"}},
		{"IPv6 alone", at("::1/128", "fe80::1/64", "2001:db8::7/64"), "", []string{"2001:db8::7"}},
		{"no network", at("127.0.0.1/8"), "", []string{"127.0.0.1"}},
	} {
		if got := usable(c.all, net.ParseIP(c.outward)); !slices.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", c.what, got, c.want)
		}
	}
}

func TestLinksAreTold(t *testing.T) {
	list := links([]string{"10.0.0.2", "2001:db8::7"}, 8460, "T", "north pit.yaml")
	if want := []string{"http://10.0.0.2:8460/?token=T#north%20pit.yaml", "http://[2001:db8::7]:8460/?token=T#north%20pit.yaml"}; !slices.Equal(list, want) {
		t.Errorf("links are %v", list)
	}
	_, columns, err := square(list[1])
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		what    string
		columns int
		shared  bool
		drawn   int
	}{
		{"a file", 0, true, 0},
		{"a narrow terminal", columns - 1, true, 0},
		{"a terminal", columns, true, 2},
		{"for this machine alone", 80, false, 0},
	} {
		var o bytes.Buffer
		(&app{Surroundings: Surroundings{Out: &o, OutColumns: c.columns}}).tellLinks(list, c.shared)
		rim := blackOnWhite + strings.Repeat(" ", columns) + ownColours // the light rim above a code has two such lines, that below two and a half
		if n := strings.Count(o.String(), rim); !strings.Contains(o.String(), list[0]) || n < 4*min(c.drawn, 1) || n > 5*c.drawn {
			t.Errorf("%s: %d lines of light rim: %q", c.what, n, o.String())
		}
	}
}
