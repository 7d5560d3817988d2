package unit

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// scanNumber reads the number at the start of text: 12, -3.8, .5, 1e3, 3/4 or
// 5 1/2. It returns how many bytes it took; none, without an error, where no
// number starts. A problem is reported at the byte where it stands.
func scanNumber(text string) (value float64, width int, bad *problem) {
	i := 0
	sign := 1.0
	switch {
	case strings.HasPrefix(text, "-"):
		sign, i = -1, 1
	case strings.HasPrefix(text, "−"):
		sign, i = -1, len("−")
	case strings.HasPrefix(text, "+"):
		i = 1
	}
	whole := digits(text[i:])
	end := i + whole
	if n := digits(tail(text, end, '.')); n > 0 {
		end += 1 + n
	} else if whole > 0 && strings.HasPrefix(text[end:], ".") {
		return 0, 0, &problem{end, fmt.Sprintf("%q ends in a point", text[i:end+1]), "write a digit after the point, or leave it out"}
	}
	if end == i {
		return 0, 0, nil
	}
	if n := power(text[end:]); n > 0 {
		end += n
	}
	if bad := oddNumber(text, i, end, whole); bad != nil {
		return 0, 0, bad
	}
	v, err := strconv.ParseFloat(text[i:end], 64)
	if err != nil || math.IsInf(v, 0) {
		return 0, 0, &problem{i, fmt.Sprintf("%s is too large a number", text[i:end]), "write fewer digits or a larger unit"}
	}
	if v == 0 && strings.ContainsAny(mantissa(text[i:end]), "123456789") {
		return 0, 0, &problem{i, fmt.Sprintf("%s is too small a number", text[i:end]), "write 0 or a smaller unit"}
	}
	if whole > 0 && end == i+whole {
		part, n, bad := fraction(text, i, end, v)
		if bad != nil {
			return 0, 0, bad
		}
		if n > 0 {
			return sign * part, n, nil
		}
	}
	return sign * v, end, nil
}

// oddNumber refuses what other programs read differently.
func oddNumber(text string, start, end, whole int) *problem {
	after := text[end:]
	switch {
	case whole == 1 && text[start] == '0' && len(after) > 1 && strings.ContainsRune("xXoObB", rune(after[0])) && isHex(after[1]):
		return &problem{start, fmt.Sprintf("%q is not a decimal number", text[start:]), "write the number with the digits 0 to 9"}
	case whole > 1 && text[start] == '0':
		return &problem{start, fmt.Sprintf("%s starts with 0, which some programs read as octal", text[start:end]), "leave out the leading 0"}
	case strings.HasPrefix(after, "_"):
		return &problem{end, fmt.Sprintf("%q has an underscore in a number", text[start:]), "write the digits without a break, as 1000"}
	case len(after) > 1 && after[0] == ',' && digits(after[1:]) > 0:
		decimals := after[1 : 1+digits(after[1:])]
		point := text[start:end] + "." + decimals
		if len(decimals) == 3 && end == start+whole {
			return &problem{end, fmt.Sprintf("%s,%s has a comma", text[start:end], decimals),
				fmt.Sprintf("write %s%s for thousands, or %s with a point", text[start:end], decimals, point)}
		}
		return &problem{end, fmt.Sprintf("%s,%s has a decimal comma", text[start:end], decimals), "write " + point + " with a point"}
	}
	return nil
}

// fraction reads 3/4, or the 1/2 of 5 1/2. It takes no bytes where there is none.
func fraction(text string, start, end int, first float64) (value float64, width int, bad *problem) {
	above, from := first, end
	whole := 0.0
	if strings.HasPrefix(text[end:], " ") {
		n := digits(text[end+1:])
		if n == 0 {
			return 0, 0, nil
		}
		whole, from = first, end+1+n
		above, _ = strconv.ParseFloat(text[end+1:from], 64)
	}
	n := digits(tail(text, from, '/'))
	if n == 0 {
		return 0, 0, nil
	}
	stop := from + 1 + n
	below, _ := strconv.ParseFloat(text[from+1:stop], 64)
	if below == 0 || math.IsInf(above, 0) || math.IsInf(below, 0) {
		return 0, 0, &problem{start, fmt.Sprintf("%s is not a number", text[start:stop]), "write a decimal number, as 0.75"}
	}
	return whole + above/below, stop, nil
}

func tail(text string, at int, sign byte) string {
	if at < len(text) && text[at] == sign {
		return text[at+1:]
	}
	return ""
}

func digits(text string) int {
	n := 0
	for n < len(text) && text[n] >= '0' && text[n] <= '9' {
		n++
	}
	return n
}

func power(text string) int {
	if text == "" || text[0] != 'e' && text[0] != 'E' {
		return 0
	}
	i := 1
	if i < len(text) && (text[i] == '-' || text[i] == '+') {
		i++
	}
	if n := digits(text[i:]); n > 0 {
		return i + n
	}
	return 0
}

func mantissa(text string) string {
	if i := strings.IndexAny(text, "eE"); i >= 0 {
		return text[:i]
	}
	return text
}

func isHex(c byte) bool {
	return c >= '0' && c <= '9' || c >= 'a' && c <= 'f' || c >= 'A' && c <= 'F'
}
