package timeline

import "testing"

func TestFootageInOrder(t *testing.T) {
	f := Facts{Footage: map[ID]Footage{
		"d": {Camera: "turn", Order: 1},
		"c": {Camera: "stand", Order: 2},
		"b": {Camera: "stand", Order: 1},
		"a": {Camera: "stand", Order: 2},
	}}
	got := ""
	for _, x := range f.FootageInOrder() {
		got += string(x.ID)
	}
	if got != "bacd" {
		t.Errorf("order %q, want by camera, order and name: bacd", got)
	}
}
