// Package reels holds the use cases of film sessions: moments are collected
// into a reel, its parts ordered and worded, the reel made into a film with its
// subtitles, session sheet and chapters, and one skater's clips packed for her
// phone. Everything a reel is lies in the bout as records, so that it can be
// undone and merged.
package reels
