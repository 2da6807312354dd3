package boutfile

import (
	"os"
	"path/filepath"

	"whistlecut/timeline"
)

// Import takes in an exchange file (see timeline.ImportJSON): a history as Merge
// does, facts or tags as one action that Undo takes back. On an error nothing
// was changed.
func (f *File) Import(path string) (Report, error) {
	data, err := os.ReadFile(path)
	if err != nil {
		return Report{}, fault("import", path, err)
	}
	return f.ImportFrom(path, data)
}

// ImportFrom is Import of what was already read; name says where it came from.
func (f *File) ImportFrom(name string, data []byte) (Report, error) {
	in, err := timeline.ImportJSON(data)
	if err != nil {
		return Report{}, &Fault{Doing: "import", Path: name, What: err}
	}
	if in.What == timeline.ExchangeHistory {
		f.mu.Lock()
		defer f.mu.Unlock()
		if err := f.writable("import into"); err != nil {
			return Report{}, err
		}
		return f.takeIn(in.Edits)
	}
	changes := in.Changes()
	_, edits, err := f.Apply("import "+filepath.Base(name), changes...)
	if err != nil {
		return Report{}, fault("import into", f.path, err)
	}
	return Report{Added: len(edits), Known: len(changes) - len(edits), Conflicts: f.log.Conflicts()}, nil
}

// Export writes an exchange file: what is timeline.ExchangeHistory,
// ExchangeFacts or ExchangeTags. A file of that name is replaced once the new
// one is whole.
func (f *File) Export(path, what string) error {
	var data []byte
	var err error
	switch what {
	case timeline.ExchangeFacts:
		data, err = timeline.ExportFacts(f.log.Facts())
	case timeline.ExchangeTags:
		data, err = timeline.ExportTags(f.log.Facts().Tags)
	default:
		data, err = timeline.ExportHistory(f.log)
	}
	if err == nil {
		err = writeWhole(path, func(temp string) error { return os.WriteFile(temp, data, 0o644) }, os.Rename)
	}
	return fault("export to", path, err)
}
