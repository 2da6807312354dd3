package collection

import (
	"context"
	"os"
	"path/filepath"
	"time"
)

func unix(s int64) time.Time { return time.Unix(s, 0) }

// pictureDir is the folder of stills and previews beside the index.
func (x *Index) pictureDir() string { return x.path + ".pictures" }

// pictures adds the files that show an entry, where there are any.
func (x *Index) pictures(e *Entry) {
	name := e.Still
	e.Still = ""
	if name == "" {
		return
	}
	if p := filepath.Join(x.pictureDir(), name+".jpg"); exists(p) {
		e.Still = p
	}
	if p := filepath.Join(x.pictureDir(), name+".mp4"); exists(p) {
		e.Preview = p
	}
}

func exists(path string) bool {
	info, err := os.Stat(path)
	return err == nil && info.Size() > 0
}

func (x *Index) tidyPictures(ctx context.Context) error { return nil }
