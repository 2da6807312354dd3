// Package strip is the bottom part of the desk: the whole bout as a thin band,
// and under it a zoomed part with jams, trips, box visits, the running margin,
// the whistles heard and the findings.
//
// It has three layers without a window: Axis carries film time to pixels and
// back, Model holds what there is to show, Painter draws it into one picture.
// Strip is the widget round them, and strip.go the only file that knows Fyne.
//
// Strip time is the time along the axis: the camera's files laid end to end,
// with short gaps of fixed length where the camera was off.
package strip
