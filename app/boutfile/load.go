package boutfile

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"os"
	"time"

	"whistlecut/app/database"
	"whistlecut/timeline"
)

// readInto reads and checks the whole journal into a log, without changing the
// file: the connection is read-only, so that not even a write-ahead log that
// does not belong to the file is merged into it before the content was found
// good. locked says that no writer can be at work.
func readInto(log *timeline.Log, path string, locked bool) (version int, rows int64, err error) {
	for range 5 {
		var before os.FileInfo
		if before, err = os.Stat(path); err != nil {
			return 0, 0, err
		}
		query := "mode=ro"
		whole := !hasWAL(path)
		if whole {
			// One file at rest: read it as such, so that no companion file is made and
			// a folder that cannot be written does not matter.
			query += "&immutable=1"
		}
		var edits []timeline.Edit
		version, edits, err = readJournal(path, query)
		if whole && !locked && moved(path, before) {
			// A writer came in between.
			time.Sleep(20 * time.Millisecond)
			continue
		}
		if err != nil {
			return 0, 0, err
		}
		if _, err = log.Add(edits...); err != nil {
			return 0, 0, damaged(path, "%w", err)
		}
		return version, int64(len(edits)), nil
	}
	if err == nil {
		err = &Fault{Doing: "open", Path: path, What: ErrInUse, Hint: "it is being written again and again; try once more"}
	}
	return 0, 0, err
}

func hasWAL(path string) bool {
	info, err := os.Stat(path + "-wal")
	return err == nil && info.Size() > 0
}

func moved(path string, before os.FileInfo) bool {
	now, err := os.Stat(path)
	return err != nil || hasWAL(path) || now.Size() != before.Size() || !now.ModTime().Equal(before.ModTime())
}

func readJournal(path, query string) (version int, edits []timeline.Edit, err error) {
	db, err := sql.Open("sqlite", database.DSN(path, query+"&_defensive=1&_dqs=0&_pragma=busy_timeout(5000)&_pragma=trusted_schema(0)&_pragma=cell_size_check(1)"))
	if err != nil {
		return 0, nil, err
	}
	defer db.Close()
	db.SetMaxOpenConns(1)
	ctx := context.Background()
	tx, err := db.BeginTx(ctx, &sql.TxOptions{ReadOnly: true}) // one snapshot for all that follows
	if err != nil {
		return 0, nil, err
	}
	defer tx.Rollback()
	v, err := pragma(ctx, tx, "user_version")
	if err != nil {
		return 0, nil, err
	}
	version = int(v)
	switch {
	case v > int64(schemaVersion()):
		return 0, nil, &Fault{
			Doing: "open", Path: path, What: ErrNewer, Cause: fmt.Errorf("its schema is %d, this version knows up to %d", v, schemaVersion()),
			Hint: "open it with that version, or ask for an export as JSON",
		}
	case v < 1:
		return 0, nil, damaged(path, "its schema is %d", v)
	}
	if err := checkSchema(ctx, tx, version); err != nil {
		return 0, nil, unlessDB(path, err)
	}
	if err := quickCheck(ctx, tx); err != nil {
		return 0, nil, unlessDB(path, err)
	}
	blobs, err := readBlobs(ctx, tx, version)
	if err != nil {
		return 0, nil, unlessDB(path, err)
	}
	err = readerOf(version).each(ctx, tx, func(r row) error {
		blob, ok := blobs[r.blob]
		if r.blob != "" && !ok {
			return fmt.Errorf("row %d of the journal: the bytes of its sheet are missing", r.n)
		}
		e, err := r.whole(blob)
		edits = append(edits, e)
		return err
	})
	return version, edits, unlessDB(path, err)
}

// quickCheck has SQLite look through the pages of the file.
func quickCheck(ctx context.Context, db database.Querier) error {
	var said string
	if err := db.QueryRowContext(ctx, "PRAGMA quick_check(1)").Scan(&said); err != nil {
		return err
	}
	if said != "ok" {
		return errors.New(said)
	}
	return nil
}

func readBlobs(ctx context.Context, db database.Querier, version int) (map[string][]byte, error) {
	if version < 2 {
		return nil, nil
	}
	rows, err := db.QueryContext(ctx, "SELECT hash, data FROM blob")
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	blobs := map[string][]byte{}
	for rows.Next() {
		var hash string
		var data []byte
		if err := rows.Scan(&hash, &data); err != nil {
			return nil, err
		}
		if hashOf(data) != hash {
			return nil, errors.New("the bytes of a sheet are not as they were written")
		}
		blobs[hash] = data
	}
	return blobs, rows.Err()
}

// unlessDB calls content that contradicts itself damage; what the database or
// the system said is worded by fault.
func unlessDB(path string, err error) error {
	if err == nil {
		return nil
	}
	if f, ok := fault("open", path, err).(*Fault); ok && f.What == err {
		return damaged(path, "%w", err)
	}
	return err
}
