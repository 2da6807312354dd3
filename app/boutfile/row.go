package boutfile

import (
	"bytes"
	"context"
	"crypto/sha256"
	"database/sql"
	"encoding/base64"
	"encoding/binary"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"time"

	"github.com/zeebo/xxh3"

	"whistlecut/app/database"
	"whistlecut/timeline"
)

// row is one edit as the journal holds it.
type row struct {
	n      int64
	edit   timeline.Edit // Value lacks the bytes of blob
	blob   string        // hash; empty: none
	blobAt int64
	sum    int64
}

// newRow makes the row of an edit, and the blob that was taken out of its value.
func newRow(n int64, e timeline.Edit) (r row, blob []byte) {
	r = row{n: n, edit: e}
	if e.Record.Collection == timeline.ColSheet {
		if short, data, at := cutSheet(e.Value); data != nil {
			r.edit.Value, blob, r.blobAt = short, data, int64(at)
			r.blob = hashOf(data)
		}
	}
	r.sum = r.checksum()
	return r, blob
}

// whole is the edit with its blob put back.
func (r row) whole(blob []byte) (timeline.Edit, error) {
	e := r.edit
	if r.blob == "" {
		return e, nil
	}
	if r.blobAt < 0 || r.blobAt > int64(len(e.Value)) {
		return e, fmt.Errorf("edit %s has its sheet at no place", e.ID)
	}
	text := base64.StdEncoding.AppendEncode(nil, blob)
	e.Value = bytes.Join([][]byte{e.Value[:r.blobAt], text, e.Value[r.blobAt:]}, nil)
	return e, nil
}

// cutSheet takes the bytes of a sheet out of its JSON and says where they stood.
// It gives none where the text is not exactly what putting them back would make.
func cutSheet(value []byte) (short, data []byte, at int) {
	d := json.NewDecoder(bytes.NewReader(value))
	if t, err := d.Token(); err != nil || t != json.Delim('{') {
		return nil, nil, 0
	}
	for d.More() {
		name, err := d.Token()
		if err != nil {
			return nil, nil, 0
		}
		var raw json.RawMessage
		if err := d.Decode(&raw); err != nil {
			return nil, nil, 0
		}
		if name != "data" {
			continue
		}
		end := int(d.InputOffset()) - 1 // before the closing quote
		start := end - len(raw) + 2
		if len(raw) < 2 || raw[0] != '"' || start < 0 {
			return nil, nil, 0
		}
		text := value[start:end]
		data, err := base64.StdEncoding.DecodeString(string(text))
		if err != nil || len(data) == 0 || base64.StdEncoding.EncodeToString(data) != string(text) {
			return nil, nil, 0
		}
		return bytes.Join([][]byte{value[:start], value[end:]}, nil), data, start
	}
	return nil, nil, 0
}

func hashOf(data []byte) string {
	h := sha256.Sum256(data)
	return hex.EncodeToString(h[:])
}

// checksum is the XXH3 of all that the row says.
func (r row) checksum() int64 {
	var b []byte
	text := func(s string) {
		b = binary.AppendUvarint(b, uint64(len(s))) // keeps neighbours apart
		b = append(b, s...)
	}
	number := func(v int64) { b = binary.BigEndian.AppendUint64(b, uint64(v)) }
	e := r.edit
	number(r.n)
	number(e.Seq)
	number(e.At.UnixMilli())
	number(r.blobAt)
	for _, s := range []string{
		string(e.ID), e.Author, e.Session, parentsText(e.Parents), string(e.Group), string(e.Undoes), string(e.Redoes),
		e.Label, string(e.Record.Collection), string(e.Record.Key), string(e.Value), r.blob,
	} {
		text(s)
	}
	if e.Value == nil {
		b = append(b, 1) // a deletion differs from an empty text
	}
	return int64(xxh3.Hash(b))
}

func parentsText(ids []timeline.ID) string {
	if len(ids) == 0 {
		return "[]"
	}
	b, _ := json.Marshal(ids) // text always marshals
	return string(b)
}

// rowReader reads the journal of one schema version.
type rowReader struct {
	sums bool
	sql  string
}

func readerOf(version int) rowReader {
	const columns = "SELECT n, id, author, session, seq, parents, grp, undoes, redoes, at_ms, label, collection, key, value, "
	if version < 2 {
		return rowReader{sql: columns + "NULL, 0, 0 FROM edit ORDER BY n"}
	}
	return rowReader{sums: true, sql: columns + "blob, blob_at, sum FROM edit ORDER BY n"}
}

// each calls take for every row in order. Rows that contradict themselves are an error.
func (rr rowReader) each(ctx context.Context, db database.Querier, take func(row) error) error {
	rows, err := db.QueryContext(ctx, rr.sql)
	if err != nil {
		return err
	}
	defer rows.Close()
	for next := int64(1); rows.Next(); next++ {
		r, err := scanRow(rows)
		if err != nil {
			return err
		}
		if r.n != next {
			return fmt.Errorf("row %d of the journal is missing", next)
		}
		if rr.sums && r.sum != r.checksum() {
			return fmt.Errorf("row %d of the journal is not as it was written", r.n)
		}
		if err := take(r); err != nil {
			return err
		}
	}
	return rows.Err()
}

func scanRow(rows *sql.Rows) (row, error) {
	var (
		r           row
		parents     string
		atMS        int64
		value, blob sql.NullString
		e           = &r.edit
	)
	err := rows.Scan(&r.n, &e.ID, &e.Author, &e.Session, &e.Seq, &parents, &e.Group, &e.Undoes, &e.Redoes, &atMS, &e.Label,
		&e.Record.Collection, &e.Record.Key, &value, &blob, &r.blobAt, &r.sum)
	if err != nil {
		return r, err
	}
	e.At = time.UnixMilli(atMS).UTC()
	if value.Valid {
		e.Value = []byte(value.String)
	}
	r.blob = blob.String
	if parents != "[]" {
		if err := json.Unmarshal([]byte(parents), &e.Parents); err != nil {
			return r, fmt.Errorf("row %d of the journal: its parents cannot be read: %w", r.n, err)
		}
	}
	return r, nil
}

// rowWriter adds rows in one transaction.
type rowWriter struct {
	edit, blob *sql.Stmt
}

func newRowWriter(ctx context.Context, tx *sql.Tx) (w rowWriter, err error) {
	w.blob, err = tx.PrepareContext(ctx, "INSERT INTO blob (hash, data) VALUES (?, ?) ON CONFLICT DO NOTHING")
	if err != nil {
		return w, err
	}
	w.edit, err = tx.PrepareContext(ctx, `INSERT INTO edit (n, id, author, session, seq, parents, grp, undoes, redoes, at_ms, label,
		collection, key, value, blob, blob_at, sum) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`)
	if err != nil {
		w.close()
	}
	return w, err
}

func (w rowWriter) close() error {
	var errs []error
	for _, s := range []*sql.Stmt{w.edit, w.blob} {
		if s != nil {
			errs = append(errs, s.Close())
		}
	}
	return errors.Join(errs...)
}

func (w rowWriter) write(ctx context.Context, n int64, e timeline.Edit) error {
	r, data := newRow(n, e)
	if r.blob != "" {
		if _, err := w.blob.ExecContext(ctx, r.blob, data); err != nil {
			return err
		}
	}
	e = r.edit
	_, err := w.edit.ExecContext(ctx, n, string(e.ID), e.Author, e.Session, e.Seq, parentsText(e.Parents), string(e.Group),
		string(e.Undoes), string(e.Redoes), e.At.UnixMilli(), e.Label, string(e.Record.Collection), string(e.Record.Key),
		nullText(e.Value), sql.NullString{String: r.blob, Valid: r.blob != ""}, r.blobAt, r.sum)
	return err
}

func nullText(b []byte) any {
	if b == nil {
		return nil
	}
	return string(b)
}

// fillBlobsAndSums is what the second schema step does beyond its SQL.
func fillBlobsAndSums(ctx context.Context, tx *sql.Tx) error {
	var all []row // first read, then write: one connection cannot do both
	err := readerOf(1).each(ctx, tx, func(r row) error {
		all = append(all, r)
		return nil
	})
	if err != nil {
		return err
	}
	for _, old := range all {
		r, data := newRow(old.n, old.edit)
		if r.blob != "" {
			if _, err := tx.ExecContext(ctx, "INSERT INTO blob (hash, data) VALUES (?, ?) ON CONFLICT DO NOTHING", r.blob, data); err != nil {
				return err
			}
		}
		if _, err := tx.ExecContext(ctx, "UPDATE edit SET value = ?, blob = ?, blob_at = ?, sum = ? WHERE n = ?",
			nullText(r.edit.Value), sql.NullString{String: r.blob, Valid: r.blob != ""}, r.blobAt, r.sum, r.n); err != nil {
			return err
		}
	}
	return nil
}
