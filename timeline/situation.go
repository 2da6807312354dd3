package timeline

func (d *deriver) situations(i int) {}
