package app

import (
	"cmp"
	"slices"

	"whistlecut/timeline"
)

// sortFootage sorts files by camera, then by their order in the camera.
func sortFootage(list []timeline.Footage) {
	slices.SortFunc(list, func(x, y timeline.Footage) int {
		return cmp.Or(cmp.Compare(x.Camera, y.Camera), cmp.Compare(x.Order, y.Order), cmp.Compare(x.ID, y.ID))
	})
}
