package train

import "math"

// bystanders adds sounds that are no official's whistle: in some scenes many, in
// some none.
func (s *stage) bystanders(seconds float64) {
	r := s.r
	busy := within(r, 0, 1.2)
	put := func(perSecond float64, one func(at, loud float64)) {
		for at := r.ExpFloat64() / perSecond; at < seconds; at += r.ExpFloat64() / perSecond {
			one(at, fromDB(within(r, -16, 4)))
		}
	}
	put(0.12*busy+1e-3, func(at, loud float64) {
		v := newFingers(r)
		for range 1 + r.IntN(3) {
			l := within(r, 0.12, 0.9)
			s.play(v, at, l, loud*within(r, 0.1, 1), loud)
			at += l + within(r, 0.05, 0.4)
		}
	})
	put(0.3*busy+1e-3, func(at, loud float64) {
		s.play(newSqueak(r), at, within(r, 0.02, 0.25), loud*within(r, 0.2, 1), 0.6*loud)
	})
	put(0.08*busy+1e-3, func(at, loud float64) {
		v := newBeep(r)
		l, g := within(r, 0.04, 0.9), within(r, 0.03, 0.5)
		for range 1 + r.IntN(5) {
			s.play(v, at, l, 0.7*loud, 0.7*loud)
			at += l + g
		}
	})
	if chance(r, 0.5) {
		s.music(seconds, fromDB(within(r, -22, 2)))
	}
	if chance(r, 0.5) {
		put(0.5, func(at, loud float64) { s.speech(at, loud) })
	}
}

// music plays notes with falling harmonics, leads in the whistle band and drums.
func (s *stage) music(seconds, loud float64) {
	r := s.r
	root := within(r, 40, 80)
	beat := within(r, 0.18, 0.6)
	scale := []float64{0, 2, 3, 5, 7, 8, 10, 12}
	lead := []float64{36, 48, 60, 60}[r.IntN(4)]
	fall := within(r, 0.2, 0.9)
	pad := within(r, 0.05, 0.5)
	vibrato := within(r, 0, 0.02)
	for at := 0.0; at < seconds; at += beat {
		if chance(r, 0.85) {
			length := beat * []float64{0.5, 0.9, 0.9, 1.8, 3}[r.IntN(5)]
			hz := root * math.Pow(2, (lead+scale[r.IntN(len(scale))]+12*float64(r.IntN(2)))/12)
			s.note(at, length, hz, fall, loud, vibrato)
			if chance(r, 0.3) {
				s.note(at, length, hz*math.Pow(2, 7./12), fall, loud*0.7, vibrato)
			}
		}
		if chance(r, 0.25) {
			s.note(at, 4*beat, root*math.Pow(2, (24+scale[r.IntN(len(scale))])/12), 0.85, loud*pad, 0)
		}
		if chance(r, 0.5) {
			s.burst(at+beat/2, within(r, 0.02, 0.1), loud, within(r, 2000, 6000), 3000)
		}
		s.burst(at, 0.08, loud, 90, 80)
	}
}

func (s *stage) note(at, length, hz, fall, loud, vibrato float64) {
	from, n := int(at*rate), int(length*rate)
	decay := within(s.r, 0.2, 4)
	phase, step := 0.0, 0.0
	for i := 0; i < n && from+i < s.n; i++ {
		t := float64(i) / rate
		if i%16 == 0 {
			step = hz / rate * (1 + vibrato*math.Sin(2*math.Pi*5.5*t))
		}
		phase += step
		phase -= math.Floor(phase)
		sin, cos := math.Sincos(2 * math.Pi * phase)
		// A chain of harmonics each falling by fall, in closed form (Moorer, "The
		// synthesis of complex audio spectra by means of discrete summation
		// formulas", 1976).
		x := sin / (1 + fall*fall - 2*fall*cos) * (1 - fall)
		x *= loud * min(1, t/0.008) * min(1, (length-t)/0.02) * math.Exp(-decay*t)
		s.direct[from+i] += 0.7 * x
		s.send[from+i] += 0.7 * x
	}
}

// burst is a short noise round a pitch: claps, drums, hits.
func (s *stage) burst(at, length, loud, hz, width float64) {
	var q resonator
	q.set(hz, width)
	from, n := int(at*rate), int(4*length*rate)
	for i := 0; i < n && from+i < s.n; i++ {
		x := loud * q.next(s.r.NormFloat64()) * math.Exp(-float64(i)/rate/length)
		s.direct[from+i] += 0.6 * x
		s.send[from+i] += 0.6 * x
	}
}

// speech is a voice: pulses of a gliding pitch through three moving formants;
// now and then a scream, whose harmonics reach into the whistle band strongly.
func (s *stage) speech(at, loud float64) {
	r := s.r
	length := within(r, 0.15, 1.6)
	pitch, bright := within(r, 90, 320), 0.35
	if chance(r, 0.3) {
		pitch, bright = within(r, 500, 1500), 1
	}
	var f [3]resonator
	centre := [3]float64{within(r, 300, 900), within(r, 900, 2400), within(r, 2300, 3700)}
	from, n := int(at*rate), int(length*rate)
	phase, glide := 0.0, within(r, -0.4, 0.4)
	syllable := within(r, 3, 6)
	for i := 0; i < n && from+i < s.n; i++ {
		t := float64(i) / rate
		if i%256 == 0 {
			for k := range f {
				centre[k] *= within(r, 0.97, 1.03)
				f[k].set(centre[k], 80+0.05*centre[k])
			}
		}
		phase += pitch / rate * (1 + glide*t/length + 0.02*math.Sin(2*math.Pi*5*t))
		x := 0.03 * r.NormFloat64()
		if phase >= 1 {
			phase--
			x += 4
		}
		y := 2*f[0].next(x) + f[1].next(x)*(0.4+bright) + f[2].next(x)*(0.25+bright)
		env := (0.55 + 0.45*math.Sin(2*math.Pi*syllable*t)) * min(1, t/0.03) * min(1, (length-t)/0.05)
		s.direct[from+i] += 1.5 * loud * env * y
		s.send[from+i] += loud * env * y
	}
}
