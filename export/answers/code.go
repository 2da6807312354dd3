package answers

import (
	"encoding/binary"
	"encoding/hex"
	"errors"
	"fmt"
	"hash/crc32"
	"regexp"
	"slices"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"whistlecut/timeline"
)

const (
	codeMark    = "WCA1"
	groupOf     = 4    // symbols between hyphens
	mostBytes   = 1023 // what two symbols can count
	anotherCode = 63   // of a question's byte: the code follows
	fixedBytes  = 6 + 4 + 1 + 1 + 2 + 4
)

// epoch is where the code's time begins.
var epoch = time.Date(2020, 1, 1, 0, 0, 0, 0, time.UTC)

// Code is the sheet as a text code. Sections are left out.
func (s Sheet) Code() (string, error) {
	if err := s.Check(); err != nil {
		return "", fmt.Errorf("cannot make a code of the answers: %w", err)
	}
	data, err := hex.DecodeString(s.Quiz)
	if err != nil {
		return "", err
	}
	data = binary.BigEndian.AppendUint32(data, uint32(max(0, s.Made.Unix()-epoch.Unix())))
	switch s.Group {
	case "":
		data = append(data, 0)
	case Before:
		data = append(data, 1)
	case After:
		data = append(data, 2)
	default:
		data = appendText(append(data, 3), s.Group)
	}
	data = appendText(data, s.Person)
	last := 0
	for n := range s.Given {
		last = max(last, n)
	}
	data = binary.BigEndian.AppendUint16(data, uint16(last))
	for n := 1; n <= last; n++ {
		data = appendAnswer(data, s.Given[n])
	}
	size := len(data) + 4
	if size > mostBytes {
		return "", errors.New("the answers are too long for a code; hand over the file instead")
	}
	data = binary.BigEndian.AppendUint32(data, sum(size, data))
	list := append([]int{size >> 5, size & 31}, toSymbols(data)...)
	var b strings.Builder
	b.WriteString(codeMark)
	for i, v := range list {
		if i%groupOf == 0 {
			b.WriteByte('-')
		}
		b.WriteByte(symbols[v])
	}
	return b.String(), nil
}

// sum is the checksum of a code's length and bytes.
func sum(size int, data []byte) uint32 {
	return crc32.Update(crc32.ChecksumIEEE([]byte{byte(size >> 8), byte(size)}), crc32.IEEETable, data)
}

// appendText adds a text of at most 255 bytes, as Check lets pass, after its length.
func appendText(data []byte, s string) []byte {
	return append(append(data, byte(len(s))), s...)
}

// choices by their number in a code.
var choices = []timeline.Choice{timeline.NoChoice, timeline.ChoiceYes, timeline.ChoiceNo, timeline.ChoiceWarning}

func appendAnswer(data []byte, a timeline.Answer) []byte {
	c := byte(0)
	for i, x := range choices {
		if x == a.Choice {
			c = byte(i) << 6
		}
	}
	switch {
	case a.Code == "":
		return append(data, c)
	case len(a.Code) == 1 && a.Code[0] >= 'A' && a.Code[0] <= 'Z':
		return append(data, c|(a.Code[0]-'A'+1))
	}
	return appendText(append(data, c|anotherCode), a.Code)
}

// mark finds the beginning of a code; the 1 may have been taken for a letter.
var mark = regexp.MustCompile(`(?i)WCA[1IL]`)

// passed are characters between symbols that mean nothing: what people, messengers
// and quoted mails put there.
func passed(r rune) bool {
	return unicode.IsSpace(r) || unicode.Is(unicode.Pd, r) || unicode.Is(unicode.Cf, r) || strings.ContainsRune(".,:;*_`~>|", r)
}

// ReadCode reads one code. Text may stand around it, blanks and line ends within.
func ReadCode(text string) (Sheet, error) {
	list, err := readCodes(text)
	switch {
	case len(list) > 1:
		return Sheet{}, errors.New("there are several codes here; give one, or put them into a text file")
	case err != nil:
		return Sheet{}, err
	case len(list) == 0:
		return Sheet{}, errNoCode
	}
	return list[0], nil
}

var errNoCode = errors.New("there is no code of answers in it; a code begins with " + codeMark)

// readCodes reads all codes of a text. Those that are sound are returned beside the
// error about the others.
func readCodes(text string) ([]Sheet, error) {
	var out []Sheet
	var bad error
	for n := 1; ; n++ {
		at := mark.FindStringIndex(text)
		if at == nil {
			return out, bad
		}
		text = text[at[1]:]
		s, used, err := readCode(text)
		if err != nil {
			bad = errors.Join(bad, fmt.Errorf("code %d: %w", n, err))
		} else {
			out = append(out, s)
		}
		text = text[used:]
	}
}

// readCode reads the symbols after the mark and says how much text they took.
func readCode(text string) (s Sheet, used int, err error) {
	var list []int
	need := 2
	for i, r := range text {
		used = i
		if passed(r) {
			continue
		}
		v := symbolOf(r)
		if v < 0 {
			return s, used, fmt.Errorf("%q in group %d cannot stand in a code; compare it with the page, or ask for the file", r, len(list)/groupOf+1)
		}
		list = append(list, v)
		used = i + utf8.RuneLen(r)
		if len(list) == 2 {
			size := list[0]<<5 | list[1]
			if size < fixedBytes {
				return s, used, errors.New("group 1 is wrong; compare it with the page, or ask for the file")
			}
			need = 2 + symbolsFor(size)
		}
		if len(list) == need {
			break
		}
	}
	if len(list) < need || need == 2 {
		return s, used, fmt.Errorf("it is cut off: %d characters follow %s, by its first two there should be %d; ask for the whole code or the file", len(list), codeMark, need)
	}
	data, ok := sound(list)
	if !ok {
		return s, used, errors.New("a character is wrong or two are swapped" + guess(list) + "; compare it with the page, or ask for the file")
	}
	s, err = decode(data)
	return s, used, err
}

// sound are the bytes of a code's symbols without the checksum; ok is false when it
// does not fit.
func sound(list []int) (data []byte, ok bool) {
	data, ok = fromSymbols(list[2:])
	if n := len(data) - 4; ok && n >= 0 && len(data) == list[0]<<5|list[1] && sum(len(data), data[:n]) == binary.BigEndian.Uint32(data[n:]) {
		return data[:n], true
	}
	return nil, false
}

// guess says which group is likely wrong: the one where changing one symbol, or
// swapping two neighbours, makes the checksum fit. It is said and never done, since
// answers are read as they were given or not at all.
func guess(list []int) string {
	found := map[int]bool{}
	try := slices.Clone(list)
	for i := 2; i < len(try); i++ {
		was := try[i]
		for v := range len(symbols) {
			try[i] = v
			if _, ok := sound(try); ok && v != was {
				found[i/groupOf] = true
			}
		}
		try[i] = was
		if i+1 < len(try) {
			try[i], try[i+1] = try[i+1], try[i]
			if _, ok := sound(try); ok {
				found[i/groupOf] = true
			}
			try[i], try[i+1] = try[i+1], try[i]
		}
	}
	if len(found) != 1 {
		return ""
	}
	for g := range found {
		var b strings.Builder
		for _, v := range list[g*groupOf : min(len(list), (g+1)*groupOf)] {
			b.WriteByte(symbols[v])
		}
		return fmt.Sprintf(", likely in group %d (%s)", g+1, b.String())
	}
	return ""
}

// decode reads the bytes of a code whose checksum fits.
func decode(data []byte) (Sheet, error) {
	r := reader{data: data}
	s := Sheet{Quiz: hex.EncodeToString(r.take(6)), Given: map[int]timeline.Answer{}}
	if t := r.number(4); t > 0 {
		s.Made = epoch.Add(time.Duration(t) * time.Second)
	}
	switch g := r.number(1); g {
	case 0:
	case 1:
		s.Group = Before
	case 2:
		s.Group = After
	case 3:
		s.Group = r.text()
	default:
		r.bad = true
	}
	s.Person = r.text()
	last := r.number(2)
	for n := 1; n <= last && !r.bad; n++ {
		b := r.number(1)
		a := timeline.Answer{Choice: choices[b>>6]}
		switch k := b & 63; {
		case k == anotherCode:
			a.Code = r.text()
		case k > 26:
			r.bad = true
		case k > 0:
			a.Code = string(rune('A' + k - 1))
		}
		if !a.IsZero() {
			s.Given[n] = a
		}
	}
	if r.bad || len(r.data) > 0 {
		return Sheet{}, errors.New("the code is of a kind this program does not know; get a newer one, or ask for the file")
	}
	return s, s.Check()
}

// reader takes a code's bytes from the front.
type reader struct {
	data []byte
	bad  bool
}

func (r *reader) take(n int) []byte {
	if r.bad || n > len(r.data) {
		r.bad = true
		return nil
	}
	out := r.data[:n]
	r.data = r.data[n:]
	return out
}

func (r *reader) number(bytes int) (n int) {
	for _, b := range r.take(bytes) {
		n = n<<8 | int(b)
	}
	return n
}

func (r *reader) text() string { return string(r.take(r.number(1))) }
