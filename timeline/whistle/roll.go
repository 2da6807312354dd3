package whistle

// A rolling whistle is one blast of one to three seconds that swings in pitch and
// level, so that its pieces look like blasts of their own one by one. Together they
// tell: it sounds without a gap for longer than any other blast, and most pieces
// are unlikely. Officials who blow sets of four at once leave no gap either, but
// then most pieces are likely.
const (
	rollLeast  = 1.4  // s without a gap that no long blast of a penalty lasts
	rollPieces = 3    // that begin in it, at least
	rollMean   = 0.42 // mean confidence of its pieces, at most
	rollLane   = 0.15 // how far the pitch swings, share
)

// roll lowers the confidence of the pieces of rolling whistles.
func (s *scene) roll(conf []float64) {
	for i := range s.list {
		if conf[i] < Least {
			continue
		}
		c := &s.list[i]
		var pieces []int
		end, sum := c.last, 0.0
		for j := i + 1; j < len(s.list) && s.list[j].start <= float64(end+5); j++ {
			o := &s.list[j]
			since := o.start - c.start
			if since < 6 || !near(o.hz, c.hz, rollLane) || o.held < longRun && float64(o.held) < since-8 {
				continue
			}
			pieces = append(pieces, j)
			sum += conf[j]
			end = max(end, o.last)
		}
		if float64(end)-c.start < rollLeast/stepSeconds || len(pieces) < rollPieces {
			continue
		}
		if mean := sum / float64(len(pieces)); mean < rollMean {
			for _, j := range pieces {
				conf[j] *= mean
			}
			c.last = end
		}
	}
}
