package reel

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"os"
	"time"

	"whistlecut/timeline/footage"
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

// Still is the picture of a film at a film time, as large as it fits into that many
// pixels, with nothing drawn on it.
func Still(ctx context.Context, f *footage.File, at time.Duration, width, height int) (*image.RGBA, error) {
	in := Fit(f.Info.Video.Width, f.Info.Video.Height, image.Rect(0, 0, width, height))
	k := f.Index.FrameAt(at)
	frames, err := f.Frames(ctx, k, k+1, footage.Picture{Width: in.Dx(), Height: in.Dy(), Format: footage.RGBA})
	if err != nil {
		return nil, err
	}
	defer frames.Close()
	img := image.NewRGBA(image.Rect(0, 0, in.Dx(), in.Dy()))
	if _, err := frames.Next(img.Pix); err != nil {
		return nil, err
	}
	return img, nil
}
