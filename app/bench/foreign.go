package bench

import (
	"bytes"
	"context"
	"encoding/binary"
	"fmt"
	"io"
	"os"

	"whistlecut/timeline/footage/ffmpeg"
	"whistlecut/timeline/footage/mp4"
)

// Decoders that share no code with ffmpeg, by codec: openh264 as an element of
// GStreamer, whose own demultiplexer reads the file, and libde265's command.
const (
	foreignH264 = "openh264"
	foreignHEVC = "libde265"
)

func foreignName(codec string) string {
	switch codec {
	case "h264":
		return foreignH264
	case "hevc":
		return foreignHEVC
	}
	return ""
}

// foreignMissing says which decoders of another family this machine lacks, and
// what to install.
func foreignMissing(ctx context.Context, r *ffmpeg.Runner) map[string]string {
	missing := map[string]string{}
	if err := r.Tool(ctx, "gst-inspect-1.0", []string{"openh264dec"}, nil, io.Discard); err != nil {
		missing["h264"] = "apt-get install gstreamer1.0-tools gstreamer1.0-plugins-good gstreamer1.0-plugins-bad"
	}
	if dec265() == "" {
		missing["hevc"] = "apt-get install libde265-examples"
	}
	return missing
}

// dec265 is the name of libde265's command on this machine, "" if it is
// missing.
func dec265() string {
	for _, name := range []string{"libde265-dec265", "dec265"} {
		if ffmpeg.HasTool(name) {
			return name
		}
	}
	return ""
}

// foreignNumbers reads the frame numbers of a clip by the other decoder.
func foreignNumbers(ctx context.Context, r *ffmpeg.Runner, path, codec string) ([]int, error) {
	film, err := mp4.Open(path)
	if err != nil {
		return nil, err
	}
	v := film.Video()
	e := v.Entries[0]
	if codec == "hevc" {
		stream, deep, err := byteStream(path, v)
		if err != nil {
			return nil, err
		}
		wide := 1
		if deep {
			wide = 2
		}
		sink := &codeSink{stride: e.Width * wide, size: e.Width * e.Height * 3 / 2 * wide, deep: deep}
		err = r.Tool(ctx, dec265(), []string{"-q", "-o", "/dev/stdout", "-"}, bytes.NewReader(stream), sink)
		return sink.list, err
	}
	stride := (e.Width + 3) &^ 3
	sink := &codeSink{stride: stride, size: stride * e.Height}
	err = r.Tool(ctx, "gst-launch-1.0", []string{
		"-q", "filesrc", "location=" + path, "!", "qtdemux", "!", "h264parse", "!", "openh264dec", "!",
		"videoconvert", "!", "video/x-raw,format=GRAY8", "!", "fdsink", "fd=1", "async=false",
	}, nil, sink)
	return sink.list, err
}

// byteStream writes an HEVC track as a byte stream: each sample description's
// parameter sets where it comes into use, start codes for lengths.
func byteStream(path string, v *mp4.Track) (stream []byte, deep bool, err error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, false, err
	}
	defer f.Close()
	start := []byte{0, 0, 0, 1}
	entry := -1
	for i := range v.Samples.Len() {
		config := v.Entries[v.Samples.EntryOf(i)].Config("hvcC")
		if len(config) < 23 {
			return nil, false, fmt.Errorf("sample %d has no decoder configuration", i)
		}
		deep = config[17]&7 > 0
		if v.Samples.EntryOf(i) != entry {
			entry = v.Samples.EntryOf(i)
			for b := config[23:]; len(b) >= 3; {
				n := int(binary.BigEndian.Uint16(b[1:]))
				b = b[3:]
				for range n {
					size := int(binary.BigEndian.Uint16(b))
					stream = append(append(stream, start...), b[2:2+size]...)
					b = b[2+size:]
				}
			}
		}
		sample := make([]byte, v.Samples.Size[i])
		if _, err := f.ReadAt(sample, v.Samples.Offset[i]); err != nil {
			return nil, false, err
		}
		for b := sample; len(b) >= 4; {
			size := int(binary.BigEndian.Uint32(b))
			if size > len(b)-4 {
				return nil, false, fmt.Errorf("sample %d is broken", i)
			}
			stream = append(append(stream, start...), b[4:4+size]...)
			b = b[4+size:]
		}
	}
	return stream, deep, nil
}
