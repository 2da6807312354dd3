package footage

import (
	"fmt"
	"math"
	"math/bits"
	"strconv"
	"strings"
	"time"
)

// Rational is an exact fraction, such as a frame rate (frames a second) or a
// time base (seconds a tick). The zero value means unknown.
type Rational struct {
	Num, Den int64
}

// Known says whether the fraction is set and positive.
func (r Rational) Known() bool { return r.Num > 0 && r.Den > 0 }

// Float returns the fraction as a number, 0 when unknown.
func (r Rational) Float() float64 {
	if r.Den == 0 {
		return 0
	}
	return float64(r.Num) / float64(r.Den)
}

// String returns "30000/1001", or "30" for whole numbers.
func (r Rational) String() string {
	if r.Den == 1 {
		return strconv.FormatInt(r.Num, 10)
	}
	return fmt.Sprintf("%d/%d", r.Num, r.Den)
}

// Duration returns ticks of this time base as time, rounded to the nearest
// nanosecond, halves away from zero. Times beyond the range of time.Duration
// (292 years) stay at its ends.
func (r Rational) Duration(ticks int64) time.Duration {
	if r.Den <= 0 || r.Num <= 0 {
		return 0
	}
	if ticks < 0 {
		return -time.Duration(mulDiv(uint64(-ticks), uint64(r.Num)*uint64(time.Second), uint64(r.Den)))
	}
	return time.Duration(mulDiv(uint64(ticks), uint64(r.Num)*uint64(time.Second), uint64(r.Den)))
}

// mulDiv is a*b/c rounded to nearest, without overflow between, at most
// math.MaxInt64.
func mulDiv(a, b, c uint64) int64 {
	hi, lo := bits.Mul64(a, b)
	lo, carry := bits.Add64(lo, c/2, 0)
	hi += carry
	if hi >= c {
		return math.MaxInt64
	}
	q, _ := bits.Div64(hi, lo, c)
	if q > math.MaxInt64 {
		return math.MaxInt64
	}
	return int64(q)
}

// parseRational reads "30000/1001", "30" or, as ffprobe writes for unknown,
// "0/0". Anything else is unknown.
func parseRational(s string) Rational {
	num, den, found := strings.Cut(strings.TrimSpace(s), "/")
	if !found {
		num, den, found = strings.Cut(s, ":")
	}
	if !found {
		den = "1"
	}
	n, errN := strconv.ParseInt(num, 10, 32)
	d, errD := strconv.ParseInt(den, 10, 32)
	if errN != nil || errD != nil || n <= 0 || d <= 0 {
		return Rational{}
	}
	return Rational{n, d}
}

// parseSeconds reads decimal seconds exactly to the nanosecond; ok is false for
// "N/A", nonsense and times beyond a century.
func parseSeconds(s string) (d time.Duration, ok bool) {
	f, err := strconv.ParseFloat(strings.TrimSpace(s), 64)
	if err != nil || math.IsNaN(f) || math.Abs(f) > 100*365*24*3600 {
		return 0, false
	}
	// Microseconds are all that ffprobe writes; they survive a float64.
	return time.Duration(math.Round(f*1e6)) * time.Microsecond, true
}
