// Package overlay paints what lies over the film: drawings, burned captions, title
// cards and the caption bar under a clip. Each is painted by one function for the
// screen and for the exported film, so that both show the same.
//
// All sizes are parts of the picture's, so that a drawing on a picture twice as
// high is the same drawing, twice as high. Text is shaped: scripts read from right
// to left are ordered and their letters joined. Letters that the embedded fonts
// lack are painted as boxes; [Missing] names them.
package overlay
