package play

import (
	"image"
	"sync"
)

// picture is a decoded frame.
type picture struct {
	pos
	img   *image.RGBA
	light bool // from a light copy, with fewer pixels than wanted
	shown bool // among the last few shown: its pixels must stay
	kept  bool // in the cache
}

// pool hands out pixel buffers and takes them back, so that playing makes no
// garbage. It may be used by several goroutines.
type pool struct {
	mu   sync.Mutex
	free []*image.RGBA
}

// spare is how many unused buffers are kept.
const spare = 8

func (p *pool) get(w, h int) *image.RGBA {
	p.mu.Lock()
	defer p.mu.Unlock()
	for i := len(p.free) - 1; i >= 0; i-- {
		if img := p.free[i]; img.Rect.Dx() == w && img.Rect.Dy() == h {
			p.free = append(p.free[:i], p.free[i+1:]...)
			return img
		}
	}
	return image.NewRGBA(image.Rect(0, 0, w, h))
}

func (p *pool) put(img *image.RGBA) {
	if img == nil {
		return
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	if len(p.free) == spare {
		p.free = append(p.free[:0], p.free[1:]...)
	}
	p.free = append(p.free, img)
}

// rotation is how many shown pictures keep their pixels. A window reads a
// picture at its next paint, when the next one or two may be shown already.
const rotation = 5

// cache keeps decoded frames of a line by number: a ring round the place where
// the person is, and some frames at the places expected next. It belongs to
// the player's goroutine.
type cache struct {
	line  line
	limit int64 // bytes
	held  int64
	pics  map[pos]*picture
	here  pos
	spots []pos // first frames of places decoded ahead
	last  []*picture
	pool  *pool
}

func newCache(limit int64, p *pool) *cache {
	return &cache{limit: limit, pics: map[pos]*picture{}, pool: p}
}

const (
	// spotRun is how many frames are decoded from a place ahead on: enough to begin
	// playing while a decoder starts.
	spotRun = 12
	// spotLead is how many before it are kept, for a step back: they have to be
	// decoded on the way there anyway.
	spotLead = 8
)

// get is the frame at p, nil when it is not kept.
func (c *cache) get(p pos) *picture { return c.pics[p] }

func (c *cache) has(p pos) bool { return c.pics[p] != nil }

// sharp says whether a frame is there at the full size wanted.
func (c *cache) sharp(p pos) bool { pic := c.pics[p]; return pic != nil && !pic.light }

// room is how many frames of a size can be kept.
func (c *cache) room(w, h int) int {
	return max(8, int(c.limit/max(1, int64(4*w*h))))
}

// put takes a picture in, or gives its buffer back when a better one is there
// or others are worth more.
func (c *cache) put(pic *picture) {
	if old := c.pics[pic.pos]; old != nil {
		if pic.light && !old.light {
			c.pool.put(pic.img)
			return
		}
		c.drop(old)
	}
	c.pics[pic.pos], pic.kept = pic, true
	c.held += bytesOf(pic)
	for c.held > c.limit && len(c.pics) > 8 {
		c.drop(c.worst())
	}
}

func bytesOf(pic *picture) int64 { return int64(len(pic.img.Pix)) }

// worst is the frame least worth keeping: the farthest from here, where places
// decoded ahead count as near.
func (c *cache) worst() *picture {
	var worst *picture
	score := -1
	for _, pic := range c.pics {
		if s := c.distance(pic.pos); s > score {
			worst, score = pic, s
		}
	}
	return worst
}

func (c *cache) distance(p pos) int {
	d := c.line.between(c.here, p)
	if d < 0 {
		d = -d
	}
	for _, s := range c.spots {
		if n := p.frame - s.frame; p.film == s.film && n >= 0 && n < spotLead+spotRun {
			return min(d, n)
		}
	}
	return d
}

func (c *cache) drop(pic *picture) {
	delete(c.pics, pic.pos)
	pic.kept = false
	c.held -= bytesOf(pic)
	c.free(pic)
}

// free gives a buffer back when nobody looks at it any more.
func (c *cache) free(pic *picture) {
	if !pic.kept && !pic.shown {
		c.pool.put(pic.img)
	}
}

// show marks a picture as shown and lets go of the one shown some time ago.
func (c *cache) show(pic *picture) {
	for i, p := range c.last {
		if p == pic {
			c.last = append(append(c.last[:i], c.last[i+1:]...), pic)
			return
		}
	}
	pic.shown = true
	c.last = append(c.last, pic)
	if len(c.last) > rotation {
		old := c.last[0]
		c.last = append(c.last[:0], c.last[1:]...)
		old.shown = false
		c.free(old)
	}
}

// forget drops everything. Buffers of pictures that may be looked at are left
// to whoever looks.
func (c *cache) forget() {
	for _, pic := range c.pics {
		c.drop(pic)
	}
	c.last, c.spots = nil, nil
}

// stale makes every frame one to be replaced by a better one.
func (c *cache) stale() {
	for _, pic := range c.pics {
		pic.light = true
	}
}
