// Package sheet is the official paperwork of a bout: it reads a spreadsheet of
// any layout, writes our own plain form, checks a sheet against itself, and
// cross-checks it against a recount.
//
// The way in has three steps. ReadGrid turns a file's bytes (XLSX, ODS,
// delimited text in any usual encoding) into tables of text. Recognise finds
// the tables and columns by the trade's headings in English, Spanish, French
// and German and by what the cells hold, and says how sure it is of each
// column; a person can correct the Mapping and keep it as a Template. Read
// turns tables and mapping into a Sheet.
//
// SelfCheck needs no film: arithmetic, impossible combinations, rows that do
// not pair, unknown numbers, penalties against line-ups. Check aligns the
// sheet's rows with the recount's, even where one is missing, doubled or
// swapped between the teams, and reports findings: place, both values, points
// at stake and the simplest cause. What can't be checked (not tagged, not seen)
// is its own state and never counts as agreement. A finding says that tags and
// sheet differ, never that an official was wrong; the head referee's decision
// is final.
//
// # Our own form
//
// WriteCSV and WriteXLSX write a sheet so that reading it gives the same sheet.
// The first cell says "Whistlecut sheet", the second the version, the third a
// title. Each table stands under its name in square brackets (in XLSX: in a
// worksheet of that name) with one row of headings:
//
//	[Teams]      Team, Name
//	[Rosters]    Team, Number, Name
//	[Score]      Period, Jam, Team, Row, Jammer, Lost, Lead, Call, Inj, NI, Trip 2, Trip 3 ..., Jam total, Game total
//	[Totals]     Period (0 is the game), Team, Points
//	[Penalties]  Period, Jam, Team, Skater, Code
//	[Outs]       Period, Jam, Team, Skater, FO/EXP
//	[Line-ups]   Period, Jam, Team, Row, No pivot, Jammer, Jammer box, Pivot, Pivot box, Blocker 1, Blocker 1 box ...
//	[Clock]      Period, Jam, Duration, Clock at start, Clock at end
//	[Timeouts]   Period, After jam, Team, Type, Clock, Length, Retained
//	[Box]        Period, Jam, Team, Skater, Role, Between jams, In, Stand, Done, Out jam
//	[Kept]       Heading, Text
//
// Tables and columns may be missing and columns stand in any order. Team is
// home, away, or official for an official timeout. Row is empty, SP for a
// star-pass row, SP* for the empty row beside the other team's. A mark is x, its
// denial no, nothing said is empty. Times are m:ss, box marks - + S $ with spaces
// between. "?" before a text marks what could not be read, "?2..6" a number known
// within bounds; a text that begins with "?" or a backslash gets a backslash.
package sheet
