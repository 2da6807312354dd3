package boutfile

import (
	"context"
	"database/sql"
	"embed"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"slices"
	"sync"

	"whistlecut/app/database"
)

// applicationID marks a .bout file in the SQLite header: "WCut".
const applicationID = 0x57437574

//go:embed migration/*.sql
var migrationFiles embed.FS

// migrationStep brings the schema from one version to the next: its SQL, then
// what SQL cannot do.
type migrationStep struct {
	sql  string
	then func(context.Context, *sql.Tx) error
}

// migrations holds the steps in order; the first makes version 1.
var migrations = loadMigrations(map[string]func(context.Context, *sql.Tx) error{
	"0002_blobs_and_sums.sql": fillBlobsAndSums,
})

func loadMigrations(then map[string]func(context.Context, *sql.Tx) error) []migrationStep {
	entries, err := fs.ReadDir(migrationFiles, "migration") // sorted by name
	if err != nil {
		panic(err) // the files are part of the program
	}
	var steps []migrationStep
	for _, e := range entries {
		b, err := migrationFiles.ReadFile("migration/" + e.Name())
		if err != nil {
			panic(err)
		}
		steps = append(steps, migrationStep{sql: string(b), then: then[e.Name()]})
	}
	return steps
}

// schemaVersion is the version this program writes.
func schemaVersion() int { return len(migrations) }

// migrate brings a database from its version to the given one. Every step is one
// transaction: after a failure or a kill the file is as it was before the step.
func migrate(ctx context.Context, db *sql.DB, to int) error {
	from, err := pragma(ctx, db, "user_version")
	for v := int(from); err == nil && v < to; v++ {
		err = migrateStep(ctx, db, v)
	}
	return err
}

func migrateStep(ctx context.Context, db *sql.DB, v int) error {
	tx, err := db.BeginTx(ctx, nil)
	if err != nil {
		return err
	}
	defer tx.Rollback()
	step := migrations[v]
	if _, err := tx.ExecContext(ctx, step.sql); err != nil {
		return fmt.Errorf("schema step %d: %w", v+1, err)
	}
	if step.then != nil {
		if err := step.then(ctx, tx); err != nil {
			return fmt.Errorf("schema step %d: %w", v+1, err)
		}
	}
	if _, err := tx.ExecContext(ctx, fmt.Sprintf("PRAGMA user_version = %d", v+1)); err != nil {
		return err
	}
	return tx.Commit()
}

func pragma(ctx context.Context, db database.Querier, name string) (int64, error) {
	var v int64
	err := db.QueryRowContext(ctx, "PRAGMA "+name).Scan(&v)
	return v, err
}

// checkHeader refuses what is no bout file by its first bytes, before SQLite
// touches it. The application ID is in the file from its first moment (Create).
func checkHeader(path string) error {
	f, err := os.Open(path)
	if err != nil {
		return fault("open", path, err)
	}
	defer f.Close()
	if info, err := f.Stat(); err == nil && info.IsDir() {
		return &Fault{Doing: "open", Path: path, What: ErrNotBout, Cause: errors.New("it is a folder")}
	}
	head := make([]byte, 100)
	n, err := io.ReadFull(f, head)
	head = head[:n]
	refuse := func(why string) error {
		return &Fault{Doing: "open", Path: path, What: ErrNotBout, Cause: errors.New(why), Hint: "choose a file that Whistlecut made"}
	}
	switch {
	case err != nil && !errors.Is(err, io.EOF) && !errors.Is(err, io.ErrUnexpectedEOF):
		return fault("open", path, err)
	case n == 0:
		return refuse("it is empty")
	case string(head[:min(n, 16)]) != "SQLite format 3\x00":
		return refuse("its first bytes are another format's")
	case n < 100:
		return damaged(path, "it ends after %d bytes", n)
	case binary.BigEndian.Uint32(head[68:]) != applicationID:
		return refuse("it is another program's database")
	}
	return nil
}

// checkSchema compares tables, indices and the like with what a file of that
// version has: hostile files may carry triggers, damaged ones lack tables.
func checkSchema(ctx context.Context, db database.Querier, version int) error {
	want, err := freshSchema(version)
	if err != nil {
		return err
	}
	got, err := database.Schema(ctx, db)
	if err != nil {
		return err
	}
	if !slices.Equal(got, want) {
		return errors.New("its tables are not those of a bout file")
	}
	return nil
}

var freshSchemas sync.Map // version to []string

// freshSchema is the schema of a new file of that version.
func freshSchema(version int) ([]string, error) {
	if known, ok := freshSchemas.Load(version); ok {
		return known.([]string), nil
	}
	db, err := sql.Open("sqlite", "file::memory:?_txlock=immediate")
	if err != nil {
		return nil, err
	}
	defer db.Close()
	db.SetMaxOpenConns(1) // each connection to memory is a database of its own
	ctx := context.Background()
	if err := migrate(ctx, db, version); err != nil {
		return nil, err
	}
	s, err := database.Schema(ctx, db)
	if err == nil {
		freshSchemas.Store(version, s)
	}
	return s, err
}
