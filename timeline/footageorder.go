package timeline

import (
	"cmp"
	"slices"
)

// FootageInOrder lists the bout's files by camera, then in their order within it.
func (f Facts) FootageInOrder() []Footage {
	files := make([]Footage, 0, len(f.Footage))
	for id, x := range f.Footage {
		x.ID = id
		files = append(files, x)
	}
	slices.SortFunc(files, func(x, y Footage) int {
		return cmp.Or(cmp.Compare(x.Camera, y.Camera), cmp.Compare(x.Order, y.Order), cmp.Compare(x.ID, y.ID))
	})
	return files
}
