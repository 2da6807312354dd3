package collection

import (
	"context"
	"database/sql"
	"encoding/json"
	"fmt"
	"strings"
	"time"

	"github.com/zeebo/xxh3"

	"whistlecut/timeline"
)

// reading is a bout as it was read, ready to be taken in.
type reading struct {
	path   string
	stamp  string
	edits  int
	digest string
	root   string
	info   timeline.Info
	teams  [2]string
	rules  string // edition
	items  []item
}

func readingOf(path string, f timeline.Facts) reading {
	r := reading{
		path: path, info: f.Info, rules: f.Rules.Edition, items: itemsOf(f),
		teams: [2]string{f.Teams[0].Name, f.Teams[1].Name},
	}
	for i := range r.items {
		if it := &r.items[i]; it.IsExample() {
			it.Still = pictureName(path, f, f.Tags[it.Tag])
		}
	}
	return r
}

// PutFacts takes in a bout by its facts, as Update does with what it reads from
// the file at path, in one change. The next Update looks for the file.
func (x *Index) PutFacts(ctx context.Context, path string, f timeline.Facts) (err error) {
	defer func() { err = worded("add to", x.path, err) }()
	r, err := safely(path, f)
	if err != nil {
		return err
	}
	x.mu.RLock()
	defer x.mu.RUnlock()
	return x.put(ctx, r)
}

// safely makes a reading of facts that may have been made to break it.
func safely(path string, f timeline.Facts) (r reading, err error) {
	defer func() {
		if p := recover(); p != nil {
			err = fmt.Errorf("what it says cannot be made sense of (%v)", p)
		}
	}()
	return readingOf(path, f), nil
}

// boutID follows from the path alone.
func boutID(path string) int64 { return int64(xxh3.HashString(path) >> 1) }

// put takes a bout in, in place of what was known of it, as one change.
func (x *Index) put(ctx context.Context, r reading) error {
	return x.change(ctx, func(tx *sql.Tx) error {
		id := boutID(r.path)
		if err := drop(ctx, tx, id); err != nil {
			return err
		}
		if err := dropMoved(ctx, tx, r); err != nil {
			return err
		}
		examples := 0
		for _, it := range r.items {
			if it.IsExample() {
				examples++
			}
		}
		_, err := tx.ExecContext(ctx, `INSERT INTO bout (id, path, title, day, venue, home, away, edition, state, reason, stamp, edits, digest, root, made, indexed, entries, examples)
			VALUES (?,?,?,?,?,?,?,?,?,'',?,?,?,?,?,?,?,?)`,
			id, r.path, r.info.Title, dayOf(r.info.Date), r.info.Venue, r.teams[0], r.teams[1], r.rules, Here,
			r.stamp, r.edits, r.digest, r.root, made(), time.Now().Unix(), len(r.items), examples)
		if err != nil {
			return err
		}
		return putItems(ctx, tx, id, r)
	})
}

func putItems(ctx context.Context, tx *sql.Tx, bout int64, r reading) error {
	var next int64
	if err := tx.QueryRowContext(ctx, "SELECT coalesce(max(id), 0) FROM entry").Scan(&next); err != nil {
		return err
	}
	insert, err := tx.PrepareContext(ctx, "INSERT INTO entry (id, bout, place, day, "+strings.Join(entryColumns, ", ")+") VALUES (?,?,?,?"+strings.Repeat(",?", len(entryColumns))+")")
	if err != nil {
		return err
	}
	defer insert.Close()
	text, err := tx.PrepareContext(ctx, "INSERT INTO text (rowid, said) VALUES (?, ?)")
	if err != nil {
		return err
	}
	defer text.Close()
	day := dayOf(r.info.Date)
	for i := range r.items {
		it := &r.items[i]
		next++
		args, err := values(&it.Entry)
		if err != nil {
			return err
		}
		if _, err := insert.ExecContext(ctx, append([]any{next, bout, i, day}, args...)...); err != nil {
			return err
		}
		if _, err := text.ExecContext(ctx, next, it.searched()); err != nil {
			return err
		}
	}
	return nil
}

// drop takes a bout out of the index.
func drop(ctx context.Context, tx *sql.Tx, bout int64) error {
	for _, q := range []string{
		"DELETE FROM text WHERE rowid IN (SELECT id FROM entry WHERE bout = ?)",
		"DELETE FROM entry WHERE bout = ?",
		"DELETE FROM bout WHERE id = ?",
	} {
		if _, err := tx.ExecContext(ctx, q, bout); err != nil {
			return err
		}
	}
	return nil
}

// dropMoved takes out a bout of which this one is the same file under its new name:
// it began with the same edit and its own file is gone.
func dropMoved(ctx context.Context, tx *sql.Tx, r reading) error {
	if r.root == "" {
		return nil
	}
	rows, err := tx.QueryContext(ctx, "SELECT id FROM bout WHERE root = ? AND state = ?", r.root, Away)
	if err != nil {
		return err
	}
	defer rows.Close()
	var moved []int64
	for rows.Next() {
		var id int64
		if err := rows.Scan(&id); err != nil {
			return err
		}
		moved = append(moved, id)
	}
	if err := rows.Err(); err != nil {
		return err
	}
	for _, id := range moved {
		if err := drop(ctx, tx, id); err != nil {
			return err
		}
	}
	return nil
}

// dayOf is a bout's date where it is one.
func dayOf(date string) string {
	if _, err := time.Parse(time.DateOnly, date); err != nil {
		return ""
	}
	return date
}

// entryColumns are the columns of an entry from key on, in the order of values and scan.
var entryColumns = []string{
	"key", "kind", "situation", "during", "period", "jam", "timed", "t_from", "t_to", "side", "number", "name", "team",
	"code", "code_name", "rules", "note", "words", "edition", "ask", "asked", "called", "called_as", "verdict", "verdicts",
	"impact", "difficulty", "differing", "source", "opinions", "examples", "sensitive", "footage", "film", "f_start", "f_end", "still",
}

func values(e *Entry) ([]any, error) {
	asked, called, verdicts, verdict := "", "", "", timeline.NoChoice
	if len(e.Asked) > 0 {
		b, err := json.Marshal(e.Asked)
		if err != nil {
			return nil, err
		}
		asked = string(b)
	}
	if !e.Called.IsZero() {
		b, err := json.Marshal(e.Called)
		if err != nil {
			return nil, err
		}
		called = string(b)
	}
	if len(e.Verdicts) > 0 {
		b, err := json.Marshal(e.Verdicts)
		if err != nil {
			return nil, err
		}
		verdicts, verdict = string(b), e.Verdicts[0].Choice
	}
	return []any{
		e.Key, e.Kind, e.Situation, bitsOf(e.During), e.Period, e.Jam, e.Timed, int64(e.From), int64(e.To), int(e.Side), string(e.Number), e.Name, e.Team,
		e.Code, e.CodeName, strings.Join(e.Rules, " "), e.Note, e.Words, e.Edition, e.Ask, asked, e.Called.Choice, called, verdict, verdicts,
		e.Impact, e.Difficulty, e.Differing, string(e.Source), e.Opinions, e.Examples, e.Sensitive, string(e.Footage), e.Film, int64(e.Start), int64(e.End), e.Still,
	}, nil
}

// scan reads one row of entryColumns, after the columns that more takes.
func scan(rows *sql.Rows, e *Entry, more ...any) error {
	var during int
	var rules, asked, called, verdict, calledAs, verdicts string
	err := rows.Scan(append(
		more,
		&e.Key, &e.Kind, &e.Situation, &during, &e.Period, &e.Jam, &e.Timed, &e.From, &e.To, &e.Side, &e.Number, &e.Name, &e.Team,
		&e.Code, &e.CodeName, &rules, &e.Note, &e.Words, &e.Edition, &e.Ask, &asked, &called, &calledAs, &verdict, &verdicts,
		&e.Impact, &e.Difficulty, &e.Differing, &e.Source, &e.Opinions, &e.Examples, &e.Sensitive, &e.Footage, &e.Film, &e.Start, &e.End, &e.Still,
	)...)
	if err != nil {
		return err
	}
	e.During = situationsOf(during)
	if rules != "" {
		e.Rules = strings.Split(rules, " ")
	}
	if e.Situation == "" {
		e.Tag = timeline.ID(e.Key)
	}
	if asked != "" {
		if err := json.Unmarshal([]byte(asked), &e.Asked); err != nil {
			return fmt.Errorf("%w: what is asked is no text", ErrDamaged)
		}
	}
	if calledAs != "" {
		if err := json.Unmarshal([]byte(calledAs), &e.Called); err != nil {
			return fmt.Errorf("%w: what was called is no answer", ErrDamaged)
		}
	}
	if verdicts != "" {
		if err := json.Unmarshal([]byte(verdicts), &e.Verdicts); err != nil {
			return fmt.Errorf("%w: the verdicts are no answers", ErrDamaged)
		}
	}
	return nil
}
