package collection

import (
	"context"
	"database/sql"
	_ "embed"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"

	"github.com/zeebo/xxh3"

	"whistlecut/app/database"
	"whistlecut/timeline"
)

// applicationID marks an index in the SQLite header: "WCol".
const applicationID = 0x57436f6c

// schemaVersion is raised with every change of schema.sql.
const schemaVersion = 1

// makeVersion is raised with every change of what an entry says (item.go), so that
// bouts read by an older version are read again.
const makeVersion = 1

//go:embed schema.sql
var schemaSQL string

// made names the rules by which entries are made now. During is bits by the order
// of the situations, so that order is part of it.
var made = sync.OnceValue(func() string {
	return fmt.Sprintf("%d-%08x", makeVersion, uint32(xxh3.HashString(fmt.Sprint(timeline.SituationKinds(), timeline.Kinds()))))
})

// What can be wrong with an index, for errors.Is.
var (
	ErrDamaged = errors.New("the index is damaged")
	ErrNewer   = errors.New("the index was made by a newer version of Whistlecut")
	ErrForeign = errors.New("it is no index")
	errOlder   = errors.New("the index was made by an older version of Whistlecut")
)

// create makes an empty index. It appears under its name only when it is whole;
// one that another program made meanwhile is as good.
func create(path string) error {
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		return err
	}
	temp, err := os.CreateTemp(filepath.Dir(path), ".collection-*.tmp")
	if err != nil {
		return err
	}
	defer os.Remove(temp.Name())
	if err := temp.Close(); err != nil {
		return err
	}
	db, err := sql.Open("sqlite", database.DSN(temp.Name(), "mode=rw&_pragma=journal_mode(DELETE)"))
	if err != nil {
		return err
	}
	defer db.Close()
	if _, err := db.Exec(fmt.Sprintf("PRAGMA application_id = %d; BEGIN; %s; PRAGMA user_version = %d; COMMIT", applicationID, schemaSQL, schemaVersion)); err != nil {
		return err
	}
	if err := db.Close(); err != nil {
		return err
	}
	if err := os.Link(temp.Name(), path); err != nil && !errors.Is(err, os.ErrExist) {
		// A disk without links: a name that is taken must not be replaced all the same.
		if _, there := os.Lstat(path); there == nil {
			return nil
		}
		return os.Rename(temp.Name(), path)
	}
	return nil
}

// checkHeader tells by its first bytes whether a file can be an index, before
// SQLite touches it.
func checkHeader(path string) error {
	f, err := os.Open(path)
	if err != nil {
		return err
	}
	defer f.Close()
	if info, err := f.Stat(); err == nil && info.IsDir() {
		return fmt.Errorf("%w: it is a folder", ErrForeign)
	}
	head := make([]byte, 100)
	n, err := io.ReadFull(f, head)
	switch {
	case err != nil && !errors.Is(err, io.EOF) && !errors.Is(err, io.ErrUnexpectedEOF):
		return err
	case string(head[:min(n, 16)]) == "SQLite format 3\x00" && n == 100:
		if binary.BigEndian.Uint32(head[68:]) != applicationID {
			return fmt.Errorf("%w: it is another program's database", ErrForeign)
		}
	default:
		return fmt.Errorf("%w: it does not begin as one", ErrDamaged)
	}
	return nil
}

// checkSchema tells whether an open database has this version's tables.
func checkSchema(ctx context.Context, db *sql.DB) error {
	var version int
	if err := db.QueryRowContext(ctx, "PRAGMA user_version").Scan(&version); err != nil {
		return err
	}
	switch {
	case version > schemaVersion:
		return fmt.Errorf("%w: its version is %d, this one knows up to %d", ErrNewer, version, schemaVersion)
	case version < schemaVersion && version > 0:
		return errOlder
	}
	got, err := schemaOf(ctx, db)
	if err != nil {
		return err
	}
	want, err := freshSchema()
	if err != nil {
		return err
	}
	if !slices.Equal(got, want) {
		return fmt.Errorf("%w: its tables are not those of an index", ErrDamaged)
	}
	return nil
}

// freshSchema is the schema of a new index.
var freshSchema = sync.OnceValues(func() ([]string, error) {
	db, err := sql.Open("sqlite", "file::memory:")
	if err != nil {
		return nil, err
	}
	defer db.Close()
	db.SetMaxOpenConns(1) // each connection to memory is a database of its own
	if _, err := db.Exec(schemaSQL); err != nil {
		return nil, err
	}
	return schemaOf(context.Background(), db)
})

// schemaOf lists what an index is made of; tables of statistics, which SQLite makes
// by itself, are no part of it.
func schemaOf(ctx context.Context, db *sql.DB) ([]string, error) {
	list, err := database.Schema(ctx, db)
	return slices.DeleteFunc(list, func(s string) bool { return strings.HasPrefix(s, "table sqlite_stat") }), err
}
