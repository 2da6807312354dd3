package play

import (
	"errors"
	"io"
	"sync"
	"sync/atomic"
	"time"

	"github.com/ebitengine/oto/v3"
)

// device is the system's sound device. There is one a process, opened when it
// is first needed and never closed: the library allows no second one.
type device struct{ ctx *oto.Context }

var (
	theDevice    *device
	errDevice    error
	deviceOnce   sync.Once
	errNoDevice  = errors.New("no sound device answers on this computer")
	deviceBuffer = 40 * time.Millisecond
)

// openDevice opens the sound device. Without one the library reports success
// and plays nothing; the error comes later, from Err.
func openDevice() (Sink, error) {
	deviceOnce.Do(func() {
		ctx, ready, err := oto.NewContext(&oto.NewContextOptions{
			SampleRate: soundRate, ChannelCount: 2, Format: oto.FormatSignedInt16LE, BufferSize: deviceBuffer,
		})
		if err != nil {
			errDevice = errNoDevice
			return
		}
		select {
		case <-ready:
		case <-time.After(3 * time.Second):
			errDevice = errNoDevice
			return
		}
		if ctx.Err() != nil {
			errDevice = errNoDevice
			return
		}
		theDevice = &device{ctx}
	})
	if errDevice != nil {
		return nil, errDevice
	}
	return theDevice, nil
}

func (d *device) Err() error {
	if d.ctx.Err() != nil {
		return errors.New("the sound device is gone")
	}
	return nil
}

func (d *device) Latency() time.Duration { return deviceBuffer }

func (d *device) Start(r io.Reader, volume float64) (Voice, error) {
	v := &otoVoice{r: r}
	v.player = d.ctx.NewPlayer(v)
	v.player.SetBufferSize(int(soundBytes(100 * time.Millisecond)))
	v.SetVolume(volume)
	v.player.Play()
	return v, nil
}

// otoVoice counts what the library reads.
type otoVoice struct {
	player *oto.Player
	r      io.Reader
	read   atomic.Int64
	ended  atomic.Bool
}

// Read is called by the library.
func (v *otoVoice) Read(p []byte) (int, error) {
	if v.ended.Load() {
		return 0, io.EOF
	}
	n, err := v.r.Read(p)
	v.read.Add(int64(n))
	return n, err
}

// Heard is what was read, less what waits in the library and in the device. The
// library reads and appends in two steps; asked between them, the count is too
// high for a moment, which the clock smooths.
func (v *otoVoice) Heard() time.Duration {
	return soundTime(max(0, v.read.Load()-int64(v.player.BufferedSize()))) - deviceBuffer
}

func (v *otoVoice) SetVolume(volume float64) { v.player.SetVolume(volume) }

func (v *otoVoice) Stop() {
	v.ended.Store(true)
	v.player.Pause()
}
