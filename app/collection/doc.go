// Package collection is one searchable index over all bouts of a machine: every
// penalty, star pass, jam, note, mark, example and situation with its bout, its
// skaters and its words. The bouts stay what counts: the index is made of them,
// can be made anew at any time and writes nothing into them. It answers while
// films, or the bout files themselves, are away.
package collection
