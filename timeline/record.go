package timeline

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"reflect"
	"slices"
	"strings"
	"time"
	"unicode/utf8"
)

// singleKey is the key of collections that hold one record.
const singleKey ID = "it"

// decodeRecord checks that a record may exist and that its value (nil: none) is
// one of its collection, and returns the value decoded. Unknown collections hold
// any JSON (json.RawMessage).
func decodeRecord(r Record, value []byte) (any, error) {
	if err := checkRecord(r); err != nil {
		return nil, err
	}
	if value == nil {
		return nil, nil
	}
	v, err := decodeValue(r, value)
	if err != nil {
		return nil, fmt.Errorf("%s %s: %w", r.Collection, r.Key, err)
	}
	return v, nil
}

func checkRecord(r Record) error {
	switch {
	case r.Collection == "" || strings.Contains(string(r.Collection), "/") || !utf8.ValidString(string(r.Collection)):
		return fmt.Errorf("%q is no collection name", r.Collection)
	case r.Key == "" || !utf8.ValidString(string(r.Key)):
		return fmt.Errorf("%s: %q is no record key", r.Collection, r.Key)
	}
	switch r.Collection {
	case ColInfo, ColRules, ColSheet:
		if r.Key != singleKey {
			return fmt.Errorf("%s: the key is %q, want %q", r.Collection, r.Key, singleKey)
		}
	case ColTeam:
		if teamKeySide(r.Key) == NoSide {
			return fmt.Errorf("team: the key is %q, want home or away", r.Key)
		}
	}
	return nil
}

func teamKeySide(key ID) Side {
	switch key {
	case "home":
		return Home
	case "away":
		return Away
	}
	return NoSide
}

func decodeValue(r Record, value []byte) (any, error) {
	switch r.Collection {
	case ColInfo:
		return decodeAs[Info](value)
	case ColRules:
		return decodeAs[RuleSet](value)
	case ColTeam:
		return decodeAs[Team](value)
	case ColSheet:
		return decodeAs[StoredSheet](value)
	case ColFootage:
		v, err := decodeAs[Footage](value)
		return v, cmpErr(err, r, v.ID)
	case ColMark:
		v, err := decodeAs[SyncMark](value)
		return v, cmpErr(err, r, v.ID)
	case ColTag:
		v, err := decodeAs[Tag](value)
		if err = cmpErr(err, r, v.ID); err == nil {
			err = checkPayload(v)
		}
		return v, err
	case ColResolution:
		v, err := decodeAs[Resolution](value)
		return v, cmpErr(err, r, v.ID)
	case ColReel:
		v, err := decodeAs[Reel](value)
		return v, cmpErr(err, r, v.ID)
	case ColPart:
		v, err := decodeAs[Part](value)
		return v, cmpErr(err, r, v.ID)
	case ColOpinion:
		v, err := decodeAs[Opinion](value)
		return v, cmpErr(err, r, v.ID)
	case ColRemark:
		v, err := decodeAs[Remark](value)
		return v, cmpErr(err, r, v.ID)
	}
	return json.RawMessage(value), nil
}

func decodeAs[T any](value []byte) (T, error) {
	var v T
	err := decodeAt("", value, &v)
	return v, err
}

func cmpErr(err error, r Record, id ID) error {
	if err == nil && id != r.Key {
		err = fmt.Errorf("id: %q differs from the record's key", id)
	}
	return err
}

// normalValue returns a value in the one form it is kept in: compact JSON as
// json.Marshal writes it. A null is no value.
func normalValue(value []byte) (json.RawMessage, error) {
	if value == nil || string(bytes.TrimSpace(value)) == "null" {
		return nil, nil
	}
	if !utf8.Valid(value) {
		return nil, errors.New("the value is not valid UTF-8")
	}
	out, err := json.Marshal(json.RawMessage(value))
	if err != nil {
		return nil, fmt.Errorf("the value is not valid JSON: %w", err)
	}
	return out, nil
}

// normalTime is the precision that every store keeps: whole milliseconds, UTC.
func normalTime(t time.Time) time.Time {
	return time.UnixMilli(t.UnixMilli()).UTC()
}

// newNode checks an edit that comes from outside and brings it to its normal form.
func newNode(e Edit) (*logNode, error) {
	fail := func(format string, args ...any) (*logNode, error) {
		return nil, fmt.Errorf("edit %q: %w", e.ID, fmt.Errorf(format, args...))
	}
	if e.ID == "" {
		return fail("it has no id")
	}
	if e.Seq < 1 || e.Seq > maxEditSeq {
		return fail("seq %d is out of range", e.Seq)
	}
	if e.Group == "" {
		return fail("it has no group")
	}
	for _, s := range []string{string(e.ID), e.Author, e.Session, string(e.Group), string(e.Undoes), string(e.Redoes), e.Label} {
		if !utf8.ValidString(s) {
			return fail("%q is not valid UTF-8", s)
		}
	}
	for _, p := range e.Parents {
		if p == "" || p == e.ID || !utf8.ValidString(string(p)) {
			return fail("%q is no parent", p)
		}
	}
	if len(e.Parents) == 0 {
		e.Parents = nil
	} else {
		e.Parents = slices.Clone(e.Parents)
	}
	e.At = normalTime(e.At)
	value, err := normalValue(e.Value)
	if err != nil {
		return fail("%w", err)
	}
	e.Value = value
	decoded, err := decodeRecord(e.Record, value)
	if err != nil {
		return fail("%w", err)
	}
	return &logNode{Edit: e, decoded: decoded}, nil
}

// sameEdit compares two edits in normal form.
func sameEdit(a, b Edit) bool {
	return a.ID == b.ID && a.Author == b.Author && a.Session == b.Session && a.Seq == b.Seq &&
		slices.Equal(a.Parents, b.Parents) && a.Group == b.Group && a.Undoes == b.Undoes && a.Redoes == b.Redoes &&
		a.At.Equal(b.At) && a.Label == b.Label && a.Record == b.Record && sameJSON(a.Value, b.Value)
}

// sameJSON compares two values whatever the order of their fields; nil is only
// like nil.
func sameJSON(a, b []byte) bool {
	if bytes.Equal(a, b) {
		return (a == nil) == (b == nil)
	}
	if a == nil || b == nil {
		return false
	}
	x, errX := looseJSON(a)
	y, errY := looseJSON(b)
	return errX == nil && errY == nil && reflect.DeepEqual(x, y)
}

func looseJSON(b []byte) (any, error) {
	d := json.NewDecoder(bytes.NewReader(b))
	d.UseNumber() // nanoseconds must not be rounded
	var v any
	err := d.Decode(&v)
	return v, err
}
