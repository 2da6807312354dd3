package boutfile

import (
	"context"

	"whistlecut/timeline"
)

// Apply makes one group of edits of the changes (see timeline.Log.Apply) and
// returns when they are on the disk. On an error nothing was changed, neither in
// the file nor in the log.
func (f *File) Apply(label string, changes ...timeline.Change) (group timeline.ID, edits []timeline.Edit, err error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	if err := f.writable("add to"); err != nil {
		return "", nil, err
	}
	edits, err = f.log.Prepare(label, changes...)
	if err != nil || len(edits) == 0 {
		return "", nil, err
	}
	if err := f.confirm(edits); err != nil {
		return "", nil, err
	}
	return edits[0].Group, edits, nil
}

// Undo takes back the author's last action (see timeline.Log.Undo) and returns
// when that is on the disk.
func (f *File) Undo() (timeline.Step, error) { return f.step(f.log.PrepareUndo) }

// Redo takes back the author's last Undo (see timeline.Log.Redo).
func (f *File) Redo() (timeline.Step, error) { return f.step(f.log.PrepareRedo) }

func (f *File) step(prepare func() (timeline.Step, error)) (timeline.Step, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	if err := f.writable("add to"); err != nil {
		return timeline.Step{}, err
	}
	s, err := prepare()
	if err == nil && len(s.Edits) > 0 {
		err = f.confirm(s.Edits)
	}
	if err != nil {
		return timeline.Step{}, err
	}
	return s, nil
}

// add takes in edits made elsewhere and returns those that were not here yet.
func (f *File) add(edits []timeline.Edit) ([]timeline.Edit, error) {
	fresh, err := f.log.Fresh(edits...)
	if err != nil || len(fresh) == 0 {
		return nil, err
	}
	return fresh, f.confirm(fresh)
}

// confirm writes edits down, all or none, and then adds them to the log.
func (f *File) confirm(edits []timeline.Edit) (err error) {
	defer rescue("add to", f.path, &err)
	if err := f.write(edits); err != nil {
		return fault("add to", f.path, err)
	}
	f.rows += int64(len(edits))
	_, err = f.log.Add(edits...)
	return err
}

func (f *File) write(edits []timeline.Edit) error {
	ctx := context.Background() // half-way there is nothing to cancel: it is one commit
	tx, err := f.db.BeginTx(ctx, nil)
	if err != nil {
		return err
	}
	defer tx.Rollback()
	w, err := newRowWriter(ctx, tx)
	if err != nil {
		return err
	}
	defer w.close()
	for i, e := range edits {
		if err := w.write(ctx, f.rows+int64(i)+1, e); err != nil {
			return err
		}
	}
	return tx.Commit()
}

func (f *File) writable(doing string) error {
	switch {
	case f.shut:
		return &Fault{Doing: doing, Path: f.path, What: ErrClosed}
	case f.db == nil:
		return &Fault{Doing: doing, Path: f.path, What: ErrReadOnly, Hint: "open it for writing"}
	}
	return nil
}
