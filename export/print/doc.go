// Package print puts a bout on paper: a skater's page, the report of a check, a
// bout's numbers with charts, and the agenda of a session with a reel as PDF; the
// numbers' tables as XLSX and CSV, too.
//
// Every writer takes plain values and an io.Writer, writes only once the whole file
// is made, and makes equal bytes for equal input (Options.Made stands for the
// date). Pages are A4, lengths in millimetres. The fonts lie within the file:
// Latin, Greek and Cyrillic can be searched and copied; characters without a glyph
// show as a box. Black and white is enough to read everything: home is dark and
// filled, away light and outlined.
package print
