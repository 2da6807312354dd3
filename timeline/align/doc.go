// Package align finds the most likely placing of a bout's jams on its film from
// the whistle series heard (package whistle) and what is known of the bout: the
// jams in order, durations, lead, how they ended, penalties, timeouts. It gives
// the series their meaning, and says of every jam how sure its place is.
//
// Start at Place. Candidates offers a sheet's penalties their long blasts;
// InStep puts two cameras of one bout in step.
//
// # The model
//
// The film of one camera is a line of time with holes where the camera was off.
// On it a bout is a chain of segments: jam, break, jam, break ... (a hidden
// semi-Markov model: each segment has a distribution of its length). A jam starts
// at a heard series or unheard, and ends at a heard series or unheard. Every
// series inside a segment has to be explained by the segment: a jam holds a
// pair for the lead jammer, long blasts for penalties, now and then echoes; a
// break holds sets of four and a rolling whistle for timeouts, and both hold
// sounds that were no official's whistle. What a series is taken for costs its
// improbability; the sum over all chains (forward and backward) gives the
// probability of each place of each jam, the best chain gives the placing.
//
// # Assumptions
//
// From the rules (The Rules of Flat Track Roller Derby, 1.1, 1.3, 2.2.2): a jam
// starts on one short blast and is over at the end of a series of four short
// blasts; it lasts at most 2:00, so that the four begin at most 2:00 after the
// start; the next jam starts 30 s after the end unless a timeout lies between;
// timeouts open with four short blasts and end with a rolling whistle; a lead
// jammer is signalled by two short blasts, a penalty by a long one; only the lead
// jammer can end a jam early, apart from officials.
//
// Common practice, no source: how long jams last when they are called off
// (20 to 110 s, about 50 on average), how exactly the 30 s are kept (28 to 34 s),
// how long timeouts take (a team's 60 to 100 s, an official's 20 s to some
// minutes), how often a signal is heard at all, how exactly a jam timer keeps
// durations (about a second, now and then several), how many penalties a jam has.
package align
