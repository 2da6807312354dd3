// Package database is what the bout file and the collection share about the SQLite
// files they are.
package database

import (
	"context"
	"database/sql"
	"net/url"
	"path/filepath"
	"strings"
)

// DSN names a database for the driver; any letter may stand in the path. query
// holds the driver's options, as "mode=ro&_pragma=query_only(1)".
func DSN(path, query string) string {
	p := filepath.ToSlash(path)
	if abs, err := filepath.Abs(path); err == nil {
		p = filepath.ToSlash(abs)
	}
	if !strings.HasPrefix(p, "/") {
		p = "/" + p // a Windows drive: file:///C:/...
	}
	u := url.URL{Scheme: "file", Path: p, RawQuery: query}
	return u.String()
}

// Querier is a database, or a transaction or a connection of one.
type Querier interface {
	QueryRowContext(ctx context.Context, query string, args ...any) *sql.Row
	QueryContext(ctx context.Context, query string, args ...any) (*sql.Rows, error)
}

// Schema lists what a database is made of, sorted: type, name, table and statement of
// each table and index. Two with the same list have the same schema.
func Schema(ctx context.Context, db Querier) ([]string, error) {
	return Texts(ctx, db, "SELECT type || ' ' || name || ' ' || tbl_name || ' ' || coalesce(sql, '') FROM sqlite_schema ORDER BY 1")
}

// Texts are the texts that a query of one column yields; with an error those that it
// yielded until then.
func Texts(ctx context.Context, db Querier, query string) (out []string, err error) {
	rows, err := db.QueryContext(ctx, query)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	for rows.Next() {
		var s string
		if err := rows.Scan(&s); err != nil {
			return out, err
		}
		out = append(out, s)
	}
	return out, rows.Err()
}
