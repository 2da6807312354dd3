package footage

import (
	"encoding/json"
	"errors"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"
)

// ffprobe's JSON, as far as it is used. Numbers come as numbers or as strings,
// by version and field.
type probeJSON struct {
	Streams []streamJSON `json:"streams"`
	Format  struct {
		FormatName string `json:"format_name"`
		StartTime  text   `json:"start_time"`
		Duration   text   `json:"duration"`
		Size       text   `json:"size"`
		BitRate    text   `json:"bit_rate"`
		Tags       tags   `json:"tags"`
	} `json:"format"`
}

type streamJSON struct {
	Index         text            `json:"index"`
	ID            text            `json:"id"`
	CodecType     string          `json:"codec_type"`
	CodecName     string          `json:"codec_name"`
	CodecTag      string          `json:"codec_tag_string"`
	Profile       text            `json:"profile"`
	Level         text            `json:"level"`
	Width         text            `json:"width"`
	Height        text            `json:"height"`
	SampleAspect  string          `json:"sample_aspect_ratio"`
	PixFmt        string          `json:"pix_fmt"`
	RawBits       text            `json:"bits_per_raw_sample"`
	Transfer      string          `json:"color_transfer"`
	Space         string          `json:"color_space"`
	FieldOrder    string          `json:"field_order"`
	RealRate      string          `json:"r_frame_rate"`
	AvgRate       string          `json:"avg_frame_rate"`
	TimeBase      string          `json:"time_base"`
	StartTime     text            `json:"start_time"`
	Duration      text            `json:"duration"`
	NbFrames      text            `json:"nb_frames"`
	SampleRate    text            `json:"sample_rate"`
	Channels      text            `json:"channels"`
	ChannelLayout string          `json:"channel_layout"`
	Disposition   map[string]text `json:"disposition"`
	Tags          tags            `json:"tags"`
	SideData      []sideDataJSON  `json:"side_data_list"`
}

type sideDataJSON struct {
	Type     string `json:"side_data_type"`
	Rotation text   `json:"rotation"`
}

// text takes a JSON string, number or anything else as text; what is neither is
// empty, so that one strange field does not make a film unreadable.
type text string

func (t *text) UnmarshalJSON(b []byte) error {
	var s string
	if len(b) > 0 && b[0] == '"' && json.Unmarshal(b, &s) == nil {
		*t = text(s)
		return nil
	}
	if len(b) > 0 && (b[0] == '-' || b[0] >= '0' && b[0] <= '9') {
		*t = text(b)
	}
	return nil
}

func (t text) int() int {
	n, err := strconv.ParseInt(string(t), 0, 32)
	if err != nil || n < 0 {
		return 0
	}
	return int(n)
}

func (t text) int64() int64 {
	n, err := strconv.ParseInt(string(t), 10, 64)
	if err != nil || n < 0 {
		return 0
	}
	return n
}

func (t text) duration() time.Duration {
	d, _ := parseSeconds(string(t))
	return d
}

func (t text) length() time.Duration { return max(0, t.duration()) }

// tags are a container's names and values; names are compared in any case.
type tags map[string]text

func (t tags) get(name string) string {
	if v, ok := t[name]; ok {
		return string(v)
	}
	for k, v := range t {
		if strings.EqualFold(k, name) {
			return string(v)
		}
	}
	return ""
}

// ParseProbe reads the answer of ffprobe -show_format -show_streams -of json.
// It fails with ErrNotFilm on text that is no such answer and with ErrNoPicture
// when no stream is a moving picture. Unknown and odd fields are left at their
// zero values.
func ParseProbe(data []byte) (Info, error) {
	var p probeJSON
	var odd *json.UnmarshalTypeError // a field of an unexpected type: the rest was read
	if err := json.Unmarshal(data, &p); err != nil && !errors.As(err, &odd) {
		return Info{}, &Error{Doing: doingProbe, Path: "film", Class: ErrNotFilm, Detail: "ffprobe's answer is not understood", Hint: "use ffmpeg 5.1 or newer", Err: err}
	}
	info := Info{
		Container: p.Format.FormatName,
		Start:     p.Format.StartTime.duration(),
		Duration:  p.Format.Duration.length(),
		Size:      p.Format.Size.int64(),
		BitRate:   p.Format.BitRate.int64(),
		Created:   parseCreated(p.Format.Tags.get("creation_time")),
		Timecode:  p.Format.Tags.get("timecode"),
	}
	found := false
	for _, s := range p.Streams {
		if info.Timecode == "" {
			info.Timecode = s.Tags.get("timecode")
		}
		switch {
		case s.movingPicture() && !found:
			info.Video, found = s.video(), true
		case s.CodecType == "audio":
			info.Audio = append(info.Audio, s.audio())
		default:
			info.Others = append(info.Others, s.other())
		}
	}
	if !found {
		detail := "it holds no picture"
		if info.HasSound() {
			detail = "it holds sound and no picture"
		}
		return info, &Error{Doing: doingProbe, Path: "film", Class: ErrNoPicture, Detail: detail, Hint: "give the camera's own file"}
	}
	return info, nil
}

func (s streamJSON) movingPicture() bool {
	return s.CodecType == "video" && s.Disposition["attached_pic"] != "1" && s.Disposition["timed_thumbnails"] != "1" &&
		s.Width.int() > 0 && s.Height.int() > 0
}

func (s streamJSON) video() Video {
	v := Video{
		Index: s.Index.int(), ID: s.ID.int(),
		Codec: s.CodecName, Tag: plainTag(s.CodecTag), Profile: profile(s.Profile), Level: s.Level.int(),
		StoredWidth: s.Width.int(), StoredHeight: s.Height.int(),
		PixelAspect: parseRational(s.SampleAspect),
		Rotation:    s.rotation(),
		PixelFormat: s.PixFmt,
		BitDepth:    bitDepth(s.PixFmt, s.RawBits.int()),
		HDR:         s.Transfer == "smpte2084" || s.Transfer == "arib-std-b67",
		Matrix:      known(s.Space),
		Interlaced:  slices.Contains([]string{"tt", "bb", "tb", "bt"}, s.FieldOrder),
		Rate:        parseRational(s.RealRate), AverageRate: parseRational(s.AvgRate),
		Base:  parseRational(s.TimeBase),
		Start: s.StartTime.duration(), Duration: s.Duration.length(), Frames: s.NbFrames.int(),
	}
	if v.PixelAspect.Num == v.PixelAspect.Den {
		v.PixelAspect = Rational{}
	}
	if v.Rate.Known() && v.AverageRate.Known() {
		ratio := v.AverageRate.Float() / v.Rate.Float()
		v.Variable = math.Abs(ratio-1) > 0.002 && !(v.Interlaced && math.Abs(ratio-0.5) < 0.002)
	}
	v.Width, v.Height = v.StoredWidth, v.StoredHeight
	if v.PixelAspect.Known() {
		if w := math.Round(float64(v.StoredWidth) * v.PixelAspect.Float()); w >= 1 && w <= 1<<16 {
			v.Width = int(w)
		}
	}
	if v.Rotation == 90 || v.Rotation == 270 {
		v.Width, v.Height = v.Height, v.Width
	}
	return v
}

// known is a name of ffprobe's, "" where it says that there is none.
func known(name string) string {
	if name == "unknown" || name == "unspecified" {
		return ""
	}
	return name
}

// rotation returns the clockwise turn. The display matrix is given as a
// counter-clockwise angle, the older tag clockwise.
func (s streamJSON) rotation() int {
	for _, d := range s.SideData {
		if d.Type != "Display Matrix" || d.Rotation == "" {
			continue
		}
		if a, err := strconv.ParseFloat(string(d.Rotation), 64); err == nil && math.Abs(a) <= 360 {
			return quarter(-a)
		}
	}
	if a, err := strconv.ParseFloat(s.Tags.get("rotate"), 64); err == nil && math.Abs(a) <= 360 {
		return quarter(a)
	}
	return 0
}

// quarter rounds an angle to a quarter turn in 0, 90, 180, 270.
func quarter(a float64) int {
	q := int(math.Round(a/90)) % 4
	return (q + 4) % 4 * 90
}

func (s streamJSON) audio() Audio {
	return Audio{
		Index: s.Index.int(), Codec: s.CodecName, Rate: s.SampleRate.int(),
		Channels: s.Channels.int(), Layout: s.ChannelLayout,
		Start: s.StartTime.duration(), Duration: s.Duration.length(),
		Language: s.Tags.get("language"), Default: s.Disposition["default"] == "1",
	}
}

func (s streamJSON) other() Other {
	o := Other{
		Index: s.Index.int(), Codec: s.CodecName, Tag: plainTag(s.CodecTag),
		Name: strings.TrimSpace(s.Tags.get("handler_name")), Kind: KindData,
	}
	switch {
	case o.Tag == "tmcd" || s.CodecName == "timecode":
		o.Kind = KindTimecode
	case slices.Contains(telemetryTags, o.Tag):
		o.Kind = KindTelemetry
	case s.CodecType == "subtitle":
		o.Kind = KindSubtitle
	case s.CodecType == "video" && s.movingPicture():
		o.Kind = KindVideo
	case s.CodecType == "video":
		o.Kind = KindCover
	}
	return o
}

// telemetryTags are sample entry codes under which action cameras, phones and
// drones store measurements beside the picture (from memory).
var telemetryTags = []string{"gpmd", "mebx", "camm", "rtmd", "djmd", "dbgi", "fdsc"}

// plainTag drops ffprobe's "[0][0][0][0]" for no tag.
func plainTag(tag string) string {
	if strings.HasPrefix(tag, "[") {
		return ""
	}
	return tag
}

// profile drops the numbers that ffprobe writes for profiles it does not know.
func profile(p text) string {
	if _, err := strconv.Atoi(string(p)); err == nil || p == "unknown" {
		return ""
	}
	return string(p)
}

// bitDepth reads the depth from the pixel format's name ("yuv420p10le"), which
// is there when the raw bits are not.
func bitDepth(format string, raw int) int {
	if raw > 0 && raw <= 16 {
		return raw
	}
	if format == "" {
		return 0
	}
	name := strings.TrimSuffix(strings.TrimSuffix(format, "le"), "be")
	for _, d := range []int{9, 10, 12, 14, 16} {
		if strings.HasSuffix(name, "p"+strconv.Itoa(d)) || strings.HasSuffix(name, "gray"+strconv.Itoa(d)) ||
			strings.HasPrefix(name, "p0"+strconv.Itoa(d)) {
			return d
		}
	}
	return 8
}

func parseCreated(s string) time.Time {
	for _, layout := range []string{time.RFC3339Nano, "2006-01-02T15:04:05", "2006-01-02 15:04:05", "2006-01-02T15:04:05-0700"} {
		t, err := time.Parse(layout, s)
		// Cameras with an unset clock write 1904, 1970 or the day of their firmware.
		if err == nil && t.Year() > 1990 && t.Year() < 2200 {
			return t.UTC()
		}
	}
	return time.Time{}
}
