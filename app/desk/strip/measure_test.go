package strip

import "testing"

func TestMeasure(t *testing.T) {
	m, err := Measure(900, 640, NormalHeight, goFonts)
	if err != nil {
		t.Fatal(err)
	}
	if m.Tags < 900 || m.Items < 900 || min(m.Build, m.Whole, m.Part) <= 0 || m.WholeP90 < m.Whole || m.PartP90 < m.Part {
		t.Errorf("%+v", m)
	}
}
