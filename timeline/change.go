package timeline

import (
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"encoding/json"
)

// SetTag stores a tag under its ID.
func SetTag(t Tag) Change { return setChange(ColTag, t.ID, t) }

// DeleteTag deletes a tag.
func DeleteTag(id ID) Change { return dropChange(ColTag, id) }

// SetFootage stores one footage file under its ID.
func SetFootage(f Footage) Change { return setChange(ColFootage, f.ID, f) }

// DeleteFootage takes a footage file out of the bout; the file itself stays.
func DeleteFootage(id ID) Change { return dropChange(ColFootage, id) }

// SetMark stores an alignment mark under its ID.
func SetMark(m SyncMark) Change { return setChange(ColMark, m.ID, m) }

// DeleteMark deletes an alignment mark.
func DeleteMark(id ID) Change { return dropChange(ColMark, id) }

// SetResolution stores what was decided about a finding, under the finding's key.
func SetResolution(r Resolution) Change { return setChange(ColResolution, r.ID, r) }

// DeleteResolution opens a finding again.
func DeleteResolution(id ID) Change { return dropChange(ColResolution, id) }

// SetReel stores a reel under its ID.
func SetReel(r Reel) Change { return setChange(ColReel, r.ID, r) }

// DeleteReel deletes a reel; its parts are deleted one by one beside it.
func DeleteReel(id ID) Change { return dropChange(ColReel, id) }

// SetPart stores a part of a reel under its ID.
func SetPart(p Part) Change { return setChange(ColPart, p.ID, p) }

// DeletePart takes a part out of its reel.
func DeletePart(id ID) Change { return dropChange(ColPart, id) }

// SetOpinion stores another trainer's verdict on an example under its ID.
func SetOpinion(o Opinion) Change { return setChange(ColOpinion, o.ID, o) }

// DeleteOpinion deletes it.
func DeleteOpinion(id ID) Change { return dropChange(ColOpinion, id) }

// SetTeam stores one side's team. It panics for NoSide.
func SetTeam(s Side, t Team) Change {
	s.Index()
	return setChange(ColTeam, ID(s.String()), t)
}

// SetInfo stores the bout's title, date and venue.
func SetInfo(i Info) Change { return setChange(ColInfo, singleKey, i) }

// SetRules stores the rule set the bout was played by.
func SetRules(r RuleSet) Change { return setChange(ColRules, singleKey, r) }

// SetSheet stores the official sheet.
func SetSheet(s StoredSheet) Change { return setChange(ColSheet, singleKey, s) }

// DeleteSheet takes the official sheet out of the bout.
func DeleteSheet() Change { return dropChange(ColSheet, singleKey) }

func setChange(c Collection, key ID, v any) Change {
	b, err := json.Marshal(v)
	if err != nil {
		// A number that is not finite, or raw JSON that is none: kept as a value
		// that does not decode, so that Apply refuses it with a sentence.
		b, _ = json.Marshal("cannot be stored: " + err.Error())
	}
	return Change{Record: Record{Collection: c, Key: key}, Value: b}
}

func dropChange(c Collection, key ID) Change {
	return Change{Record: Record{Collection: c, Key: key}}
}

// ImportID makes the ID of an imported record from what identifies it in its
// source (for a sheet's jam: the word "jam", period and number), so that two
// people who import the same thing make one record, not two.
func ImportID(parts ...string) ID {
	h := sha256.New()
	for _, p := range parts {
		h.Write(binary.AppendUvarint(nil, uint64(len(p)))) // keeps "a","bc" and "ab","c" apart
		h.Write([]byte(p))
	}
	return ID("i" + hex.EncodeToString(h.Sum(nil)[:12]))
}
