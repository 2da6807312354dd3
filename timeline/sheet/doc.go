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
package sheet
