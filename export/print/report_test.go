package print

import (
	"bytes"
	"fmt"
	"strings"
	"testing"
)

func TestReport(t *testing.T) {
	in := Report{
		Title: "Agreement: Ñandú", Under: "quiz 0a1b2c3d4e5f", Cautions: []string{"Training opinions."},
		Parts: []ReportPart{
			{Heading: "before", Text: []string{"alpha 0.412", strings.Repeat("a long sentence about it ", 20)}},
			{Heading: "Questions", Head: []string{"no.", "accepted", "right"}, Right: map[int]bool{0: true, 2: true}},
		},
	}
	for n := range 80 {
		in.Parts[1].Rows = append(in.Parts[1].Rows, []string{fmt.Sprint(n + 1), strings.Repeat("penalty B or a warning ", 1+n%9), fmt.Sprintf("%d of 9", n%10)})
	}
	data, text := printed(t, "report", func(b *bytes.Buffer) error { return WriteReport(b, in, Options{Made: fixed}) })
	again, _ := printed(t, "report", func(b *bytes.Buffer) error { return WriteReport(b, in, Options{Made: fixed}) })
	if !bytes.Equal(data, again) {
		t.Error("the same report gave other bytes")
	}
	holds(t, text, "Agreement: Ñandú", "Training opinions.", "alpha 0.412", "80", "7 of 9")
	if n := strings.Count(text, "accepted"); text != "" && n < 2 {
		t.Errorf("the head of the table stands on %d pages", n)
	}
}
