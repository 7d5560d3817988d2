package cli

import (
	"fmt"
	"net"
	"net/url"
	"os"
	"slices"
	"strings"

	goqr "github.com/piglig/go-qr"
)

// hostsOf is where the page can be opened, the likeliest address last, and all names that requests may be made to.
func hostsOf(addr *net.TCPAddr) (open, names []string) {
	names = []string{"localhost", "127.0.0.1", "::1"}
	if !addr.IP.IsUnspecified() {
		own := addr.IP.String()
		if addr.Zone != "" {
			own += "%" + addr.Zone
		}
		return []string{own}, append(names, own)
	}
	all, _ := net.InterfaceAddrs()
	open = usable(all, outward())
	for _, a := range all {
		if ip, ok := a.(*net.IPNet); ok {
			names = append(names, ip.IP.String())
		}
	}
	if name, err := os.Hostname(); err == nil {
		names = append(names, strings.ToLower(name), strings.ToLower(name)+".local")
	}
	return open, names
}

// usable are the addresses under which others can reach this machine: those of IPv4, of IPv6 where there is no other; that by which this machine goes out comes
// last, where a terminal that scrolls shows it. On a machine without a network it is its own.
func usable(all []net.Addr, outward net.IP) []string {
	var four, six []string
	for _, a := range all {
		n, ok := a.(*net.IPNet)
		switch {
		case !ok || !n.IP.IsGlobalUnicast():
		case n.IP.To4() != nil:
			four = append(four, n.IP.String())
		default:
			six = append(six, n.IP.String())
		}
	}
	list := four
	if len(list) == 0 {
		list = six
	}
	if len(list) == 0 {
		return []string{"127.0.0.1"}
	}
	if i := slices.Index(list, outward.String()); i >= 0 {
		list = append(slices.Delete(list, i, i+1), outward.String())
	}
	return list
}

// outward is the address of this machine by which it would go out; nil where there is no way. A socket of datagrams is only pointed somewhere (to an address kept
// for documents, RFC 5737): nothing is sent.
func outward() net.IP {
	c, err := net.Dial("udp4", "192.0.2.1:9")
	if err != nil {
		return nil
	}
	defer c.Close()
	if a, ok := c.LocalAddr().(*net.UDPAddr); ok {
		return a.IP
	}
	return nil
}

// links are the addresses of the page, with the token it asks for and the plan that is opened.
func links(hosts []string, port int, token, plan string) []string {
	var list []string
	for _, h := range hosts {
		u := url.URL{Scheme: "http", Host: net.JoinHostPort(h, fmt.Sprint(port)), Path: "/", Fragment: plan}
		if token != "" {
			u.RawQuery = url.Values{"token": {token}}.Encode()
		}
		list = append(list, u.String())
	}
	return list
}

// tellLinks says where the page is; where others may open it, each link is drawn too, on a terminal that has room for it.
func (a *app) tellLinks(list []string, shared bool) {
	if !shared {
		fmt.Fprintf(a.Out, "The page is at\n  %s\nfor this machine alone. Ctrl-C ends it.\n", list[0])
		return
	}
	fmt.Fprint(a.Out, "The page is open to your network, for whoever has this address:\n")
	drawn := false
	for _, link := range list {
		fmt.Fprintf(a.Out, "  %s\n", link)
		square, columns, err := square(link)
		if err != nil || columns > a.OutColumns {
			continue
		}
		fmt.Fprint(a.Out, square)
		drawn = true
	}
	if drawn {
		fmt.Fprint(a.Out, "A phone in the same network opens it with its camera. ")
	}
	fmt.Fprint(a.Out, "Ctrl-C ends it.\n")
}

// quiet is how many modules round a code stay light: ISO/IEC 18004:2015, 5.3.8 (cited from memory).
const quiet = 4

// Black on white whatever the terminal's own colours are: a code the other way round is not read by every camera.
const (
	blackOnWhite = "\x1b[38;5;16;48;5;231m"
	ownColours   = "\x1b[0m"
)

// square draws a text as a QR code, two modules to a character, and tells how many columns it takes.
func square(text string) (drawn string, columns int, err error) {
	code, err := goqr.EncodeText(text, goqr.Low) // on a screen nothing of it gets lost; a higher level is taken where it needs no more room
	if err != nil {
		return "", 0, fmt.Errorf("drawing the link: %w", err)
	}
	columns = code.Size() + 2*quiet
	var b strings.Builder
	for y := -quiet; y < code.Size()+quiet; y += 2 {
		b.WriteString(blackOnWhite)
		for x := -quiet; x < code.Size()+quiet; x++ {
			b.WriteString(halves[code.Module(x, y)][code.Module(x, y+1)])
		}
		b.WriteString(ownColours + "\n")
	}
	return b.String(), columns, nil
}

// halves are the characters of two modules, one above the other, by whether each is dark.
var halves = map[bool]map[bool]string{
	true:  {true: "█", false: "▀"},
	false: {true: "▄", false: " "},
}
