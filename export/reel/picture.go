package reel

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"os"
)

// savePNG writes a picture for ffmpeg. opaque puts it on black.
func savePNG(path string, img image.Image, opaque bool) error {
	if opaque {
		b := img.Bounds()
		flat := image.NewRGBA(image.Rect(0, 0, b.Dx(), b.Dy()))
		draw.Draw(flat, flat.Bounds(), image.NewUniform(color.Black), image.Point{}, draw.Src)
		draw.Draw(flat, flat.Bounds(), img, b.Min, draw.Over)
		img = flat
	}
	f, err := os.Create(path)
	if err != nil {
		return err
	}
	err = (&png.Encoder{CompressionLevel: png.BestSpeed}).Encode(f, img)
	if e := f.Close(); err == nil {
		err = e
	}
	return err
}

// hashImage tells pictures apart by what they show.
func hashImage(img image.Image) string {
	b := img.Bounds()
	flat, ok := img.(*image.RGBA)
	if !ok || flat.Stride != 4*b.Dx() {
		flat = image.NewRGBA(image.Rect(0, 0, b.Dx(), b.Dy()))
		draw.Draw(flat, flat.Bounds(), img, b.Min, draw.Src)
	}
	h := sha256.New()
	fmt.Fprintf(h, "%dx%d ", b.Dx(), b.Dy())
	h.Write(flat.Pix[:4*b.Dx()*b.Dy()])
	return hex.EncodeToString(h.Sum(nil)[:16])
}
