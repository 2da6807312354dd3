package collection

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"sync"
	"time"

	"whistlecut/app/database"

	_ "modernc.org/sqlite" // the driver
)

// Index is an open index. Its methods are safe for concurrent use, also beside
// another program that has the same index open.
type Index struct {
	path string

	mu      sync.RWMutex // held for writing while the database is exchanged
	write   *sql.DB      // one connection
	read    *sql.DB
	notices []string
}

// Open opens the index at path, and makes it where there is none. One that is
// damaged or of an older version is set aside, a new one is made that knows the
// same bouts, and Notices says so; the next Update reads them again.
func Open(path string) (x *Index, err error) {
	defer func() { err = worded("open", path, err) }()
	x = &Index{path: path}
	if err := x.connect(); err != nil {
		if !isDamage(err) && !errors.Is(err, errOlder) {
			return nil, err
		}
		if err := x.renew(err); err != nil {
			return nil, err
		}
	}
	return x, nil
}

// connect opens the database and checks it; on an error nothing stays open.
func (x *Index) connect() (err error) {
	defer rescue(&err)
	err = checkHeader(x.path)
	if errors.Is(err, fs.ErrNotExist) {
		if err = create(x.path); err == nil {
			err = checkHeader(x.path)
		}
	}
	if err != nil {
		return err
	}
	const common = "&_defensive=1&_dqs=0&_pragma=busy_timeout(10000)&_pragma=trusted_schema(0)&_pragma=cell_size_check(1)&_pragma=cache_size(-16000)"
	// NORMAL: a kill loses nothing; after a power cut the last bouts are read again.
	w, err := sql.Open("sqlite", database.DSN(x.path, "mode=rw&_txlock=immediate&_pragma=journal_mode(WAL)&_pragma=synchronous(NORMAL)"+common))
	if err != nil {
		return err
	}
	w.SetMaxOpenConns(1)
	r, err := sql.Open("sqlite", database.DSN(x.path, "mode=rw&_pragma=query_only(1)&_pragma=temp_store(2)"+common))
	if err == nil {
		r.SetMaxOpenConns(4)
		err = check(w)
	}
	if err != nil {
		w.Close()
		if r != nil {
			r.Close()
		}
		return err
	}
	x.write, x.read = w, r
	return nil
}

// quickCheckBelow is the size up to which every opening looks through all pages,
// which takes about a tenth of a second of a processor for so many bytes. Beyond it
// damage is found when it is met.
const quickCheckBelow = 8 << 20

func check(db *sql.DB) error {
	ctx := context.Background()
	if err := checkSchema(ctx, db); err != nil {
		return err
	}
	var pages, size int64
	if err := db.QueryRowContext(ctx, "PRAGMA page_count").Scan(&pages); err != nil {
		return err
	}
	if err := db.QueryRowContext(ctx, "PRAGMA page_size").Scan(&size); err != nil {
		return err
	}
	if pages*size > quickCheckBelow {
		return nil
	}
	return quickCheck(ctx, db)
}

func quickCheck(ctx context.Context, db *sql.DB) error {
	var said string
	if err := db.QueryRowContext(ctx, "PRAGMA quick_check(1)").Scan(&said); err != nil {
		return err
	}
	if said != "ok" {
		return fmt.Errorf("%w: %s", ErrDamaged, said)
	}
	return nil
}

// renew sets the index aside and makes a new one that knows the same bouts.
func (x *Index) renew(why error) error {
	known := x.salvage()
	x.disconnect()
	before, err := os.Stat(x.path)
	if err == nil {
		aside := fmt.Sprintf("%s.aside-%s", x.path, time.Now().Format("20060102-150405"))
		// Another program may have renewed it meanwhile: only what was found bad goes.
		if now, err := os.Stat(x.path); err == nil && os.SameFile(before, now) {
			moveBeside(x.path, aside)
			if err := os.Rename(x.path, aside); err != nil {
				return err
			}
			what := "was damaged"
			if errors.Is(why, errOlder) {
				what = "was of an older version"
			}
			x.notices = append(x.notices, fmt.Sprintf("the collection %s %s; it was set aside as %s and is made anew from the bouts: what it knew of bouts that are away comes back with them", x.path, what, aside))
		}
	}
	if err := x.connect(); err != nil {
		return err
	}
	return x.know(context.Background(), known)
}

// moveBeside moves the companions of a database that is set aside. They go first:
// a log that was left without its database would be taken for the new one's.
func moveBeside(path, aside string) {
	if err := os.Rename(path+"-wal", aside+"-wal"); err != nil {
		_ = os.Remove(path + "-wal") // it does not belong to the new one
	}
	_ = os.Remove(path + "-shm") // SQLite makes it again
}

func (x *Index) disconnect() {
	for _, db := range []*sql.DB{x.write, x.read} {
		if db != nil {
			_ = db.Close() // of a damaged index, or nothing is left to be written
		}
	}
	x.write, x.read = nil, nil
}

// Close closes the index.
func (x *Index) Close() error {
	x.mu.Lock()
	defer x.mu.Unlock()
	if x.write == nil {
		return nil
	}
	err := errors.Join(x.read.Close(), x.write.Close())
	x.write, x.read = nil, nil
	return worded("close", x.path, err)
}

// Path is the index's file.
func (x *Index) Path() string { return x.path }

// Notices are sentences about what happened to the index since it was opened, for a
// person.
func (x *Index) Notices() []string {
	x.mu.RLock()
	defer x.mu.RUnlock()
	return append([]string(nil), x.notices...)
}

var errShut = errors.New("it is closed")

// rescue turns a panic of the database library, or of the reading of a bout made
// to break it, into an error.
func rescue(err *error) {
	if r := recover(); r != nil {
		*err = fmt.Errorf("%w: reading it failed inside: %v", ErrDamaged, r)
	}
}
