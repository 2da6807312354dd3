// Package numbers makes the statistics of a bout from what timeline.Derive
// found: the page of one skater (Page) and the coach's numbers (Report).
//
// Everything is computed from the tags; nothing is stored. Where a value was not
// seen the number is a timeline.Range, and where it cannot be told at all the
// number says so (Basis NotKnown) instead of standing at nothing.
//
// No official formula sheet was found. The definitions below are those most in
// use among skaters and statisticians; without a source named they are common
// practice, no source. Sections are those of the Rules of Flat Track Roller
// Derby, 2025 edition.
//
//   - A jam fielded is a jam whose line-up names the skater; a skater who is in
//     the box when it starts counts as fielded (2.2). A pivot who gets the star is
//     fielded as pivot and counts in the jams as jammer after a star pass, too.
//   - Points for and against are those of her team and the other in the jams she
//     was fielded in. Points while on the track leave out those made between her
//     penalty's call, where its time is known, or else her sitting down, and her
//     release (4.4: she is off the track in that time).
//   - Plus-minus of a jam is points for minus points against; per jam it is the mean
//     over the jams that both teams' points are known of exactly.
//   - Versus the team's average is her plus-minus per jam minus the team's over all
//     its jams (common practice, no source).
//   - Lead rate is jams with lead over jams started as jammer, overtime left out:
//     it has no lead (1.5.1), and so are jams nobody logged.
//   - A scoring trip is one after the initial trip, in overtime every trip (3.2,
//     1.5.1). Each started one counts, the one closed by the jam's end, too. It
//     belongs to whoever completed it or was on it at the end, so after a star pass
//     the new jammer's (2.2.4).
//   - Points conceded while sitting are the other team's points of jam time from her
//     sitting down to her release. By pass times where passes are logged; else a
//     trip's points count at the trip's end; Basis says by which. Jams she sat
//     through count whole, so they need no times.
//   - Jam time in the box runs in jams only (4.4).
//   - A power jam is a stretch with one jammer penalised and the other able to score
//     (timeline.SitPowerJam); its points are counted by the same times as above and
//     not by whole jams.
//   - A run is points of one side without a point of the other in between.
//   - Fewer than SmallSample jams (or trips, penalties) are marked as a small sample.
package numbers
