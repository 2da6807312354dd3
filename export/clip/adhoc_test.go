package clip

import (
	"context"
	"fmt"
	"os"
	"testing"
)

func TestAdhoc(t *testing.T) {
	s, err := Open(context.Background(), nil, os.Getenv("SRC"), Options{})
	if err != nil {
		t.Fatal(err)
	}
	var a, b int
	fmt.Sscan(os.Getenv("W"), &a, &b)
	r, err := s.Cut(context.Background(), Request{First: a, Last: b, Out: os.Getenv("OUT")})
	fmt.Printf("%+v %v\n", r, err)
}
