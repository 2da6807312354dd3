package collection

import (
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"os"
	"slices"

	"whistlecut/app/database"
	"whistlecut/timeline/footage/ffmpeg"
)

// The paths of the bouts lie in a small file beside the index, too, so that an
// index that was lost or damaged can be made anew from them.
func (x *Index) knownFile() string { return x.path + ".bouts.json" }

// noteKnown writes the paths down. That it fails is no reason to fail: the index has them.
func (x *Index) noteKnown(ctx context.Context) {
	paths, err := x.paths(ctx)
	if err != nil {
		return
	}
	if slices.Equal(paths, x.readKnown()) {
		return
	}
	data, err := json.MarshalIndent(paths, "", " ")
	if err != nil {
		return
	}
	_ = ffmpeg.Whole(x.knownFile(), func(temp string) error { return os.WriteFile(temp, append(data, '\n'), 0o600) })
}

func (x *Index) readKnown() []string {
	data, err := os.ReadFile(x.knownFile())
	if err != nil {
		return nil
	}
	var paths []string
	if json.Unmarshal(data, &paths) != nil {
		return nil
	}
	return paths
}

// paths lists the bouts of the index, in order.
func (x *Index) paths(ctx context.Context) ([]string, error) {
	return queryPaths(ctx, x.write)
}

func queryPaths(ctx context.Context, db *sql.DB) (out []string, err error) {
	defer rescue(&err)
	if db == nil {
		return nil, errShut
	}
	return database.Texts(ctx, db, "SELECT path FROM bout ORDER BY path")
}

// salvage lists the bouts of a damaged index: those noted beside it, and those
// that can still be read out of it.
func (x *Index) salvage() []string {
	paths := x.readKnown()
	if db, err := sql.Open("sqlite", database.DSN(x.path, "mode=ro")); err == nil {
		more, _ := queryPaths(context.Background(), db) // as far as it goes
		paths = append(paths, more...)
		_ = db.Close()
	}
	slices.Sort(paths)
	return slices.Compact(paths)
}

// know puts bouts into the index that are not in it yet, to be read by the next update.
func (x *Index) know(ctx context.Context, paths []string) (err error) {
	if len(paths) == 0 {
		return nil
	}
	return x.change(ctx, func(tx *sql.Tx) error {
		for _, p := range paths {
			if err := knowOne(ctx, tx, p); err != nil {
				return err
			}
		}
		return nil
	})
}

func knowOne(ctx context.Context, tx *sql.Tx, path string) error {
	_, err := tx.ExecContext(ctx, "INSERT INTO bout (id, path, state) VALUES (?, ?, ?) ON CONFLICT DO NOTHING", boutID(path), path, Away)
	return err
}

// change makes one change of the index, wholly or not at all.
func (x *Index) change(ctx context.Context, do func(*sql.Tx) error) (err error) {
	defer rescue(&err)
	if x.write == nil {
		return errShut
	}
	tx, err := x.write.BeginTx(ctx, nil)
	if err != nil {
		return err
	}
	if err := do(tx); err != nil {
		return errors.Join(err, rolledBack(tx))
	}
	return tx.Commit()
}

// rolledBack takes a change back. After a cancel the database has done it already.
func rolledBack(tx *sql.Tx) error {
	if err := tx.Rollback(); err != nil && !errors.Is(err, sql.ErrTxDone) {
		return err
	}
	return nil
}
