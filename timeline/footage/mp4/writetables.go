package mp4

// stbl is the sample table box of a track whose chunks are pieces at offsets.
func (t *OutTrack) stbl(pieces []piece, offsets []int64, big bool) []byte {
	stsd := be32(full(0, 0), uint32(len(t.Entries)))
	for _, e := range t.Entries {
		stsd = append(stsd, e.Raw...)
	}
	parts := [][]byte{wrap("stsd", stsd), wrap("stts", t.timeRuns())}
	if ctts := t.offsetRuns(); ctts != nil {
		parts = append(parts, wrap("ctts", ctts))
	}
	if stss := t.keyList(); stss != nil {
		parts = append(parts, wrap("stss", stss))
	}
	parts = append(parts, wrap("stsc", t.chunkRuns(pieces)), wrap("stsz", t.sizeList()))
	if big {
		b := be32(full(0, 0), uint32(len(offsets)))
		for _, at := range offsets {
			b = be64(b, uint64(at))
		}
		parts = append(parts, wrap("co64", b))
	} else {
		b := be32(full(0, 0), uint32(len(offsets)))
		for _, at := range offsets {
			b = be32(b, uint32(at))
		}
		parts = append(parts, wrap("stco", b))
	}
	return wrap("stbl", parts...)
}

// runs writes a count and (repeat, value) pairs.
func runs(version uint8, n int, value func(int) uint32) []byte {
	b := be32(full(version, 0), 0)
	count := uint32(0)
	for i := 0; i < n; {
		j := i + 1
		for j < n && value(j) == value(i) {
			j++
		}
		b = be32(be32(b, uint32(j-i)), value(i))
		count++
		i = j
	}
	copy(b[4:], be32(nil, count))
	return b
}

func (t *OutTrack) timeRuns() []byte {
	if t.Unit > 0 {
		return be32(be32(be32(full(0, 0), 1), uint32(t.length())), 1)
	}
	return runs(0, len(t.Samples), func(i int) uint32 { return t.Samples[i].Duration })
}

func (t *OutTrack) offsetRuns() []byte {
	any, version := false, uint8(0)
	for _, s := range t.Samples {
		any = any || s.CTS != 0
		if s.CTS < 0 {
			version = 1
		}
	}
	if !any {
		return nil
	}
	return runs(version, len(t.Samples), func(i int) uint32 { return uint32(t.Samples[i].CTS) })
}

// keyList is nil if every sample is a key.
func (t *OutTrack) keyList() []byte {
	b := be32(full(0, 0), 0)
	n := 0
	for i, s := range t.Samples {
		if s.Key {
			b = be32(b, uint32(i+1))
			n++
		}
	}
	if n == len(t.Samples) {
		return nil
	}
	copy(b[4:], be32(nil, uint32(n)))
	return b
}

func (t *OutTrack) chunkRuns(pieces []piece) []byte {
	b := be32(full(0, 0), 0)
	rows := uint32(0)
	lastN, lastEntry := -1, -1
	for i, p := range pieces {
		n, entry := p.n, t.Samples[p.first].Entry
		if t.Unit > 0 {
			n = int(p.size / int64(t.Unit))
		}
		if n == lastN && entry == lastEntry {
			continue
		}
		b = be32(be32(be32(b, uint32(i+1)), uint32(n)), uint32(entry+1))
		rows++
		lastN, lastEntry = n, entry
	}
	copy(b[4:], be32(nil, rows))
	return b
}

func (t *OutTrack) sizeList() []byte {
	if t.Unit > 0 {
		return be32(be32(full(0, 0), t.Unit), uint32(t.length()))
	}
	same := true
	for _, s := range t.Samples {
		same = same && s.Size == t.Samples[0].Size && s.Size > 0
	}
	if same {
		return be32(be32(full(0, 0), t.Samples[0].Size), uint32(len(t.Samples)))
	}
	b := be32(be32(full(0, 0), 0), uint32(len(t.Samples)))
	for _, s := range t.Samples {
		b = be32(b, s.Size)
	}
	return b
}
