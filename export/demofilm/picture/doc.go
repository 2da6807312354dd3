// Package picture draws a bout as a panning camera on the stand sees it: the
// hall, the track, skaters with readable numbers, officials.
//
// Start with [NewHall], which paints everything that stands still once, as a
// panorama round one camera place. [Cast] follows the scenes of a simulated
// bout frame by frame and keeps what must not jump (strides, falls), [Operator]
// turns the camera like a person does, late and smoothly, and [Painter] draws
// one frame: the panorama bent to the camera's direction, then the figures from
// far to near.
//
// Everything is written by hand into planar YUV 4:2:0, the form the encoder
// takes: converting 1280x720 pictures from RGB would cost more than drawing
// them. Equal scenes give equal frames on one architecture.
//
// Lengths on the floor are feet, with the track's own axes (see package
// simulate); z is the height above the floor. Positions in the picture are
// pixels from its upper left corner. The score is drawn nowhere.
package picture
