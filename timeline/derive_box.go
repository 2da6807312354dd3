package timeline

func (d *deriver) eventLevel(j *Jam, s Side, side *JamSide, t *sideTags) {}
func (d *deriver) fouls()                                                {}
func (d *deriver) visits()                                               {}
