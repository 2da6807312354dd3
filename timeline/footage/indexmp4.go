package footage

import (
	"errors"
	"math"
	"os"

	"whistlecut/timeline/footage/mp4"
)

// errNoTables: the file has no tables this reader can use; ffprobe will list
// the packets.
var errNoTables = errors.New("no usable tables")

// indexFromTables reads the index from an MP4's own tables. It returns
// errNoTables for fragmented files, exotic edit lists and anything the box
// reader refuses.
func indexFromTables(path string, video Video) (*Index, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, fromSystem("read the frame times of", path, err)
	}
	defer f.Close() // only read
	st, err := f.Stat()
	if err != nil {
		return nil, fromSystem("read the frame times of", path, err)
	}
	file, err := mp4.Read(f, st.Size())
	if err != nil || file.Fragmented {
		return nil, errNoTables
	}
	track := trackOf(file, video)
	if track == nil || track.Samples.Len() == 0 || track.Samples.Unit != 0 || track.Timescale > math.MaxInt32 {
		return nil, errNoTables
	}
	stretches, ok := stretchesOf(file, track)
	if !ok {
		return nil, errNoTables
	}
	x := indexOfTrack(track, stretches)
	if file.Short != nil {
		x.cut = playable(x, track, st.Size())
	}
	return x, nil
}

// trackOf finds the track that ffprobe calls the picture, by its number.
func trackOf(file *mp4.File, video Video) *mp4.Track {
	for _, t := range file.Tracks {
		if t.Handler == "vide" && int(t.ID) == video.ID {
			return t
		}
	}
	if video.ID != 0 {
		return nil
	}
	return file.Video()
}

// stretch is one edit that shows something: media times from..to (to excluded)
// appear at container time at. All in the track's time scale.
type stretch struct {
	from, to, at int64
}

// stretchesOf lays out an edit list (ISO/IEC 14496-12, 8.6.6): edits are shown
// one after the other, empty ones as a pause. ok is false for changed
// speed and for edits without a length.
func stretchesOf(file *mp4.File, t *mp4.Track) (list []stretch, ok bool) {
	if len(t.Edits) == 0 {
		return []stretch{{math.MinInt64, math.MaxInt64, 0}}, true
	}
	if file.Timescale == 0 {
		return nil, false
	}
	at := int64(0)
	for _, e := range t.Edits {
		if e.Duration > math.MaxInt64/uint64(t.Timescale)/2 {
			return nil, false
		}
		length := rescale(int64(e.Duration), int64(t.Timescale), int64(file.Timescale))
		if e.MediaTime < 0 {
			at += length
			continue
		}
		// Versions of ffmpeg differ on edits without a length: leave them to the
		// one that is installed.
		if e.Rate != 0x10000 || e.Duration == 0 {
			return nil, false
		}
		list = append(list, stretch{e.MediaTime, e.MediaTime + length, at})
		at += length
	}
	return list, len(list) > 0
}

// rescale is a*b/c rounded to nearest, halves away from zero, as ffmpeg rounds
// edit durations.
func rescale(a, b, c int64) int64 {
	if a < 0 {
		return -mulDiv(uint64(-a), uint64(b), uint64(c))
	}
	return mulDiv(uint64(a), uint64(b), uint64(c))
}

// indexOfTrack lists the frames that the stretches show. Without an edit list
// the container time is the media time: a film whose first picture comes at a
// composition offset starts there, as it does for ffmpeg.
func indexOfTrack(t *mp4.Track, stretches []stretch) *Index {
	s := &t.Samples
	var frames []frame
	end, earliest := int64(math.MinInt64), int64(math.MaxInt64)
	for _, st := range stretches {
		shift := st.at - st.from
		if st.from == math.MinInt64 {
			shift = st.at
		}
		for i := range s.Len() {
			pts := s.PTS(i)
			if pts < st.from || pts >= st.to {
				continue
			}
			frames = append(frames, frame{pts + shift, int32(i), s.IsKey(i)})
			earliest = min(earliest, pts+shift)
			end = max(end, min(pts+s.Duration(i), st.to)+shift)
		}
	}
	// An edit that begins between two frames: ffmpeg moves the first frame to
	// the edit's start, and so do we, to have its container times.
	if late := earliest - stretches[0].at; len(t.Edits) > 0 && late > 0 && len(frames) > 0 {
		for i := range frames {
			frames[i].pts -= late
		}
		end -= late
	}
	return newIndex(Rational{1, int64(t.Timescale)}, frames, end)
}

// playable counts the frames shown before the first sample past the file's end.
func playable(x *Index, t *mp4.Track, size int64) int {
	for i := range x.pts {
		d := x.decode[i]
		if t.Samples.Offset[d]+int64(t.Samples.Size[d]) > size {
			return i
		}
	}
	return len(x.pts)
}
