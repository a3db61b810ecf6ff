package job

import (
	"strings"
	"testing"

	"stopshort/toolpath/form"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
)

// stockOf reads a job whose stock is text; its faults come as an error.
func stockOf(text string) (Stock, error) {
	cut := &form.Table{Help: "a cut", Keys: []form.Key{{Name: "x", Kind: form.Text, Help: "x"}}}
	j, err := Read("x.toml", []byte(`units = "mm"
material = "bronze"
`+text+`
[[tool]]
number = 1
kind = "drill"
diameter = 2
flute_length = 10
stick_out = 20
[[setup]]
zero = [0, 0, 0]
touch_at = [0, 0]
[[setup.cut]]
recipe = "slot"
`), map[string]*form.Table{"slot": cut})
	if err != nil {
		return Stock{}, err
	}
	return j.Stock, nil
}

func pt(x, y, z measure.Length) solid.Point { return solid.Point{X: x * mm, Y: y * mm, Z: z * mm} }

// A boss of 20 along Z from -12 to 0 and a lug 30 by 8 by 5: the box about both
// reaches from -10 to 15 across and from -12 to 2 up.
func TestPieces(t *testing.T) {
	s, err := stockOf(`[stock]
pieces = [
  { diameter = 20, along = "z", ends = [-12, 0] },
  { low = [-15, -4, -3], size = [30, 8, 5] },
]`)
	if err != nil {
		t.Fatal(err)
	}
	if want := (solid.Box{Low: pt(-15, -10, -12), High: pt(15, 10, 2)}); s.Box != want {
		t.Errorf("the box about them is %v, want %v", s.Box, want)
	}
	// Turned with +y up and +x right, Z of the part runs against Y: the boss lies.
	f, _ := NewFrame("+y", "+x", pt(0, 10, 0))
	bodies := s.Bodies(f)
	if len(bodies) != 2 {
		t.Fatalf("%d bodies, want 2", len(bodies))
	}
	c, ok := bodies[0].(solid.Cylinder)
	if !ok || c.Radius != 10*mm || c.From != pt(0, 12, -10) || c.To != pt(0, 0, -10) {
		t.Errorf("the boss is %v", bodies[0])
	}
	if want := (solid.Box{Low: pt(-15, -2, -14), High: pt(15, 3, -6)}); bodies[1] != want {
		t.Errorf("the lug is %v, want %v", bodies[1], want)
	}
}

// One piece is the stock itself: a round one is judged as a round bar.
func TestOnePiece(t *testing.T) {
	s, err := stockOf(`[stock]
pieces = [{ diameter = 20, along = "x", ends = [-30, 30] }]`)
	if err != nil || s.Round == nil || s.Round.Radius != 10*mm || len(s.Pieces) != 0 {
		t.Errorf("%+v, %v", s, err)
	}
}

func TestBadPieces(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{`[stock]
diameter = 20
pieces = [{ low = [0, 0, 0], size = [1, 1, 1] }]`, "belongs to one of the pieces"},
		{`[stock]
pieces = [{ low = [0, 0, 0], size = [1, 1, 1] }, { low = [0, 0, 0], size = [1, 0, 1] }]`, "is no size"},
		{`[stock]
pieces = [{ low = [0, 0, 0], size = [1, 1, 1] }, { diameter = 4, along = "z", ends = [3, 3] }]`, "is not below"},
		{`[stock]
pieces = [{ low = [0, 0, 0], size = [1, 1, 1] }, { diameter = 4, along = "z" }]`, "needs both ends"},
	} {
		_, err := stockOf(c.text)
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", c.text, err, c.want)
		}
	}
}
