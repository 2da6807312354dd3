package collection

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"strings"
	"time"

	"github.com/zeebo/xxh3"

	"whistlecut/app"
	"whistlecut/app/boutfile"
	"whistlecut/timeline"
)

// Add takes in bout files, and those in folders and all folders below them, and
// reads those that changed. A bout that cannot be read is reported and stops no
// other. a tells of progress.
func (x *Index) Add(ctx context.Context, a *app.App, paths ...string) (Report, error) {
	files, faults := boutFiles(paths)
	return x.look(ctx, a, faults, func() ([]string, error) { return files, nil }, false)
}

// Update looks at all bouts of the index again and reads those that changed. When
// ctx is cancelled the bouts read so far stay taken in.
func (x *Index) Update(ctx context.Context, a *app.App) (Report, error) {
	return x.look(ctx, a, nil, func() ([]string, error) { return x.paths(ctx) }, false)
}

// Rebuild reads all bouts of the index again, changed or not. What was indexed of
// those that are away is kept, unless the index itself is damaged.
func (x *Index) Rebuild(ctx context.Context, a *app.App) (Report, error) {
	x.mu.Lock()
	err := x.wholly(ctx)
	if isDamage(err) {
		err = x.renew(err)
	}
	x.mu.Unlock()
	if err != nil {
		return Report{}, worded("rebuild", x.path, err)
	}
	r, err := x.look(ctx, a, nil, func() ([]string, error) { return x.paths(ctx) }, true)
	if err == nil {
		err = x.compact(ctx)
	}
	return r, err
}

// wholly looks through all of the index for damage.
func (x *Index) wholly(ctx context.Context) (err error) {
	defer rescue(&err)
	if x.write == nil {
		return errShut
	}
	if err := quickCheck(ctx, x.write); err != nil {
		return err
	}
	_, err = x.write.ExecContext(ctx, "INSERT INTO text (text) VALUES ('integrity-check')")
	return err
}

// compact gives back the room of what was replaced and orders what words are looked
// up in.
func (x *Index) compact(ctx context.Context) (err error) {
	defer func() { err = worded("tidy", x.path, err) }()
	defer rescue(&err)
	x.mu.RLock()
	defer x.mu.RUnlock()
	if x.write == nil {
		return errShut
	}
	for _, q := range []string{"INSERT INTO text (text) VALUES ('optimize')", "VACUUM", "PRAGMA wal_checkpoint(TRUNCATE)"} {
		if _, err := x.write.ExecContext(ctx, q); err != nil {
			return err
		}
	}
	return nil
}

// look goes through bout files and takes in those that changed, or all of them
// with again. An index found damaged on the way is made anew once.
func (x *Index) look(ctx context.Context, a *app.App, faults []Fault, list func() ([]string, error), again bool) (r Report, err error) {
	defer func() { err = worded("bring up to date", x.path, err) }()
	for try := 0; ; try++ {
		r, err = x.lookOnce(ctx, a, list, again)
		r.Faults = append(faults[:len(faults):len(faults)], r.Faults...)
		if !isDamage(err) || try > 0 {
			return r, err
		}
		x.mu.Lock()
		err = x.renew(err)
		x.mu.Unlock()
		if err != nil {
			return r, err
		}
		// Whatever was asked for, all that the lost index knew is read again.
		asked := list
		list = func() ([]string, error) {
			known, err := x.paths(ctx)
			if err != nil {
				return nil, err
			}
			more, err := asked()
			return append(known, more...), err
		}
	}
}

func (x *Index) lookOnce(ctx context.Context, a *app.App, list func() ([]string, error), again bool) (r Report, err error) {
	x.mu.RLock()
	defer x.mu.RUnlock()
	paths, err := list()
	if err != nil {
		return r, err
	}
	defer x.noteKnown(context.WithoutCancel(ctx))
	step := a.Step("reading bouts")
	for i, p := range paths {
		if err := ctx.Err(); err != nil {
			return r, err
		}
		if err := x.lookAt(ctx, p, again, &r); err != nil {
			return r, err
		}
		step(float64(i+1) / float64(len(paths)))
	}
	return r, nil
}

// lookAt takes one bout in, if it changed. The error is one of the index, not of the bout.
func (x *Index) lookAt(ctx context.Context, path string, again bool, r *Report) error {
	was, err := x.was(ctx, path)
	if err != nil {
		return err
	}
	now, err := stamp(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		r.Away = append(r.Away, path)
		return x.found(ctx, path, Away, "", was)
	case err != nil:
		r.Faults = append(r.Faults, Fault{path, reasonOf(err)})
		return x.found(ctx, path, Unreadable, reasonOf(err), was)
	}
	if !again && was.made == made() && was.stamp == now {
		r.Unchanged++
		return x.found(ctx, path, Here, "", was)
	}
	got, same, err := read(path, was, again)
	if err != nil {
		reason := inWords(err, path)
		r.Faults = append(r.Faults, Fault{path, reason})
		return x.found(ctx, path, Unreadable, reason, was)
	}
	got.stamp = now
	if same {
		r.Unchanged++
		return x.touch(ctx, path, now)
	}
	if err := x.put(ctx, got); err != nil {
		return err
	}
	r.Indexed = append(r.Indexed, path)
	return nil
}

// known is what the index knows of a bout file.
type known struct {
	there  bool
	state  State
	reason string
	stamp  string
	edits  int
	digest string
	made   string
}

func (x *Index) was(ctx context.Context, path string) (k known, err error) {
	defer rescue(&err)
	if x.write == nil {
		return k, errShut
	}
	err = x.write.QueryRowContext(ctx, "SELECT state, reason, stamp, edits, digest, made FROM bout WHERE id = ?", boutID(path)).
		Scan(&k.state, &k.reason, &k.stamp, &k.edits, &k.digest, &k.made)
	if errors.Is(err, sql.ErrNoRows) {
		return k, nil
	}
	k.there = err == nil
	return k, err
}

// read reads a bout file without changing it. same: it holds the edits that were
// taken in already, so there is nothing to take in; a file changes also when a
// writer only opens and closes it.
func read(path string, was known, again bool) (r reading, same bool, err error) {
	f, err := boutfile.Open(path, boutfile.Options{ReadOnly: true})
	if err != nil {
		return r, false, err
	}
	defer f.Close()
	edits := f.Log().Edits()
	digest, root := digestOf(edits)
	if !again && was.made == made() && was.edits == len(edits) && was.digest == digest {
		return r, true, nil
	}
	if r, err = safely(path, f.Log().Facts()); err != nil {
		return r, false, err
	}
	r.edits, r.digest, r.root = len(edits), digest, root
	return r, false, nil
}

func digestOf(edits []timeline.Edit) (digest, root string) {
	h := xxh3.New()
	for _, e := range edits {
		_, _ = h.WriteString(string(e.ID)) // never fails
		_, _ = h.WriteString("\n")
	}
	if len(edits) > 0 {
		root = string(edits[0].ID)
	}
	return fmt.Sprintf("%016x", h.Sum64()), root
}

// found notes how a bout file was found; what was indexed of it stays.
func (x *Index) found(ctx context.Context, path string, s State, reason string, was known) error {
	if was.there && was.state == s && was.reason == reason {
		return nil
	}
	return x.change(ctx, func(tx *sql.Tx) error {
		if err := knowOne(ctx, tx, path); err != nil {
			return err
		}
		_, err := tx.ExecContext(ctx, "UPDATE bout SET state = ?, reason = ? WHERE id = ?", s, reason, boutID(path))
		return err
	})
}

// touch notes that a file was written without a change of the bout.
func (x *Index) touch(ctx context.Context, path, stamp string) error {
	return x.change(ctx, func(tx *sql.Tx) error {
		_, err := tx.ExecContext(ctx, "UPDATE bout SET state = ?, reason = '', stamp = ? WHERE id = ?", Here, stamp, boutID(path))
		return err
	})
}

// inWords is why a bout could not be read, without its path, which stands beside it.
func inWords(err error, path string) string {
	text := err.Error()
	for _, p := range []string{path, filepath.Clean(path)} {
		text = strings.TrimPrefix(text, "cannot open "+p+": ")
	}
	return text
}

// Forget drops bouts and their pictures from the index: the files named, and those
// below folders named. The bouts themselves stay as they are. It returns the paths
// of those it knew.
func (x *Index) Forget(ctx context.Context, paths ...string) (gone []string, err error) {
	defer func() { err = worded("take bouts out of", x.path, err) }()
	x.mu.RLock()
	defer x.mu.RUnlock()
	all, err := x.paths(ctx)
	if err != nil {
		return nil, err
	}
	defer x.noteKnown(context.WithoutCancel(ctx))
	for _, p := range paths {
		p = resolve(p)
		for _, b := range all {
			if b != p && !strings.HasPrefix(b, strings.TrimSuffix(p, string(filepath.Separator))+string(filepath.Separator)) {
				continue
			}
			if err := x.change(ctx, func(tx *sql.Tx) error { return drop(ctx, tx, boutID(b)) }); err != nil {
				return gone, err
			}
			gone = append(gone, b)
		}
	}
	return gone, x.tidyPictures(ctx)
}

// Bouts lists the bouts of the index, the newest first.
func (x *Index) Bouts(ctx context.Context) (out []Bout, err error) {
	defer func() { err = worded("list", x.path, err) }()
	defer rescue(&err)
	x.mu.RLock()
	defer x.mu.RUnlock()
	if x.read == nil {
		return nil, errShut
	}
	rows, err := x.read.QueryContext(ctx, `SELECT path, title, day, venue, home, away, edition, state, reason, indexed, edits, entries, examples,
		coalesce((SELECT min(o.path) FROM bout o WHERE o.root = b.root AND b.root <> '' AND o.path < b.path), '')
		FROM bout b ORDER BY day DESC, path`)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	for rows.Next() {
		var b Bout
		var at int64
		if err := rows.Scan(&b.Path, &b.Title, &b.Date, &b.Venue, &b.Teams[0], &b.Teams[1], &b.Edition, &b.State, &b.Reason, &at,
			&b.Edits, &b.Entries, &b.Examples, &b.CopyOf); err != nil {
			return nil, err
		}
		if at > 0 {
			b.Indexed = time.Unix(at, 0)
		}
		out = append(out, b)
	}
	return out, rows.Err()
}
