// Package answers is how a group's answers to a quiz are asked for and read back: a
// page that works on a phone without a network, a table to fill, and the three forms
// the answers come home in: a JSON file, a table with a column per person, and a text
// code short enough to be sent by messenger or read out.
//
// It knows questions and answers and no verdict; nothing it writes tells what is right.
//
// # The text code
//
// A code is "WCA1" and symbols of Crockford's base 32 (0-9 and A-Z without I, L, O,
// U; I and L are read as 1, O as 0; source: D. Crockford, Base 32, from memory), most
// significant bit first, in groups of four with hyphens between, which are passed over
// in reading. The first two symbols are the number of bytes that follow. The bytes are
// quiz (6), seconds since 2020 UTC (4, big end first), group (0 none, 1 before,
// 2 after, 3 and then length and text), length and text of the name, the highest
// question's number (2), a byte for each question from 1 on, and the CRC-32 (IEEE
// 802.3) of the length (2) and all bytes before it. A question's byte holds the choice
// in its upper two bits (0 none, 1 yes, 2 no, 3 warning) and the letter A to Z as 1 to
// 26 in the others; 63 says that length and text of the code follow. Cited sections
// are not in it. Any change of up to six symbols in a row is noticed.
package answers
