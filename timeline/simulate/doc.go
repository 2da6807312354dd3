// Package simulate plays a roller derby bout by the rules on the regulation
// track, for demo films and for tests of everything that reads a bout.
//
// Skaters and officials move in small time steps; passes, trips, lead, star
// passes, penalties, box visits, timeouts and reviews follow from where they
// are and what they do. The simulator keeps its own score from that ground
// truth and never asks package timeline to recount: the two can then be held
// against each other.
//
// Play makes a Game from a seed; equal seeds and options make equal games.
// Scene says where everybody is at a moment, Whistles what can be heard, Facts
// what a perfect observer would have tagged, Truth what happened, and Rows what
// perfect officials would have written down.
//
// Lengths are in feet (the rulebook's unit), speeds in feet per second, angles
// in radians counter-clockwise from +x, and times count from the game's start
// (a lead-in before the first jam-start whistle) unless a field says otherwise.
package simulate
