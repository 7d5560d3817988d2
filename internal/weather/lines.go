package weather

import (
	"bufio"
	"bytes"
	"compress/gzip"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"
)

// maxBytes is the largest text a reader takes, after unpacking [bytes]. A year of the widest
// hourly format has under 3 MB.
const maxBytes = 50 << 20

// errTooLarge is wrapped by the error of a file above maxBytes.
var errTooLarge = errors.New("larger than 50 MB")

// ErrTooLarge tells whether err is that of a file larger than the readers take.
func ErrTooLarge(err error) bool { return errors.Is(err, errTooLarge) }

// text reads all of r, unpacks it when it is gzip, and gives it as valid text without a byte
// order mark. The name is for errors.
func text(r io.Reader, name string) (string, error) {
	buffered := bufio.NewReader(r)
	var plain io.Reader = buffered
	if magic, _ := buffered.Peek(2); len(magic) == 2 && magic[0] == 0x1f && magic[1] == 0x8b {
		unpacked, err := gzip.NewReader(buffered)
		if err != nil {
			return "", fmt.Errorf("%s: reading gzip: %w", name, err)
		}
		plain = unpacked
	}
	data, err := io.ReadAll(io.LimitReader(plain, maxBytes+1))
	if err != nil {
		return "", fmt.Errorf("%s: reading: %w", name, err)
	}
	if len(data) > maxBytes {
		return "", fmt.Errorf("%s: %w", name, errTooLarge)
	}
	data = bytes.TrimPrefix(data, []byte("\xef\xbb\xbf"))
	if !utf8.Valid(data) {
		return latin1(data), nil
	}
	return string(data), nil
}

// Text reads all of r as the readers of this package do: unpacked when it is gzip, without a byte order mark, at most 50 MB. The
// name is for errors.
func Text(r io.Reader, name string) (string, error) { return text(r, name) }

// latin1 takes each byte as one character: older station lists are written so.
func latin1(data []byte) string {
	var b strings.Builder
	b.Grow(len(data))
	for _, c := range data {
		b.WriteRune(rune(c))
	}
	return b.String()
}

// lines walks over the lines of a text without copying them. Lines end with \n, \r\n or \r.
type lines struct {
	rest   string
	number int // of the line last returned, 1-based
}

// next returns the next line without its end; false after the last.
func (l *lines) next() (string, bool) {
	if l.rest == "" {
		return "", false
	}
	l.number++
	end := strings.IndexAny(l.rest, "\r\n")
	if end < 0 {
		line := l.rest
		l.rest = ""
		return line, true
	}
	line := l.rest[:end]
	skip := end + 1
	if l.rest[end] == '\r' && skip < len(l.rest) && l.rest[skip] == '\n' {
		skip++
	}
	l.rest = l.rest[skip:]
	return line, true
}

// cell is one field of a separated line, trimmed of blanks and quotes.
type cell struct {
	text   string
	column int // 1-based byte of the line where it begins
}

// split cuts a line at its separators into cells, reusing into. A separator within double
// quotes does not cut; quotes end with the line at the latest.
func split(line string, separator byte, into []cell) []cell {
	into = into[:0]
	begin, quoted := 0, false
	for i := 0; i <= len(line); i++ {
		switch {
		case i < len(line) && line[i] == '"':
			quoted = !quoted
		case i == len(line) || (line[i] == separator && !quoted):
			into = append(into, cell{trimmed(line[begin:i]), begin + 1})
			begin = i + 1
		}
	}
	return into
}

func trimmed(s string) string {
	s = strings.TrimSpace(s)
	if len(s) >= 2 && s[0] == '"' && s[len(s)-1] == '"' {
		s = strings.TrimSpace(s[1 : len(s)-1])
	}
	return s
}

// at returns cell i, an empty one when the line is too short.
func at(cells []cell, i int) cell {
	if i < 0 || i >= len(cells) {
		return cell{}
	}
	return cells[i]
}
