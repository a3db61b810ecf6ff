package solid

import "math"

// vector is a direction or a place in floating point. Products are rounded
// before they are added, so that every processor finds the same.
type vector [3]float64

// vector is the point in floating point: exact to 2^53 tenths of a nanometre.
func (p Point) vector() vector { return vector{float64(p.X), float64(p.Y), float64(p.Z)} }

func (v vector) plus(w vector) vector  { return vector{v[0] + w[0], v[1] + w[1], v[2] + w[2]} }
func (v vector) minus(w vector) vector { return vector{v[0] - w[0], v[1] - w[1], v[2] - w[2]} }
func (v vector) neg() vector           { return vector{-v[0], -v[1], -v[2]} }

func (v vector) times(k float64) vector {
	return vector{float64(v[0] * k), float64(v[1] * k), float64(v[2] * k)}
}

func (v vector) dot(w vector) float64 {
	return float64(v[0]*w[0]) + float64(v[1]*w[1]) + float64(v[2]*w[2])
}

func (v vector) cross(w vector) vector {
	return vector{
		float64(v[1]*w[2]) - float64(v[2]*w[1]),
		float64(v[2]*w[0]) - float64(v[0]*w[2]),
		float64(v[0]*w[1]) - float64(v[1]*w[0]),
	}
}

func (v vector) length() float64 { return math.Sqrt(v.dot(v)) }

// unit is v at length 1, or v itself where it has no length.
func (v vector) unit() vector {
	l := v.length()
	if !(l > 0) || math.IsInf(l, 0) {
		return v
	}
	return vector{v[0] / l, v[1] / l, v[2] / l}
}

func (v vector) isZero() bool { return v == vector{} }

// dotted is d.p, proved.
func (v vector) dotted(p Point) interval {
	return point(v[0]).times(whole(p.X)).
		plus(point(v[1]).times(whole(p.Y))).
		plus(point(v[2]).times(whole(p.Z)))
}

// norm is the length of v, proved.
func (v vector) norm() interval {
	return product(v[0], v[0]).plus(product(v[1], v[1])).plus(product(v[2], v[2])).root()
}

// hypot is the length of (a, b), proved.
func hypot(a, b interval) interval { return a.square().plus(b.square()).root() }

// crossed is v x w, proved, for a v that is exact.
func crossed(v [3]interval, w [3]interval) [3]interval {
	return [3]interval{
		v[1].times(w[2]).minus(v[2].times(w[1])),
		v[2].times(w[0]).minus(v[0].times(w[2])),
		v[0].times(w[1]).minus(v[1].times(w[0])),
	}
}

func (p Point) intervals() [3]interval {
	return [3]interval{whole(p.X), whole(p.Y), whole(p.Z)}
}

func (v vector) intervals() [3]interval {
	return [3]interval{point(v[0]), point(v[1]), point(v[2])}
}

func dots(v, w [3]interval) interval {
	return v[0].times(w[0]).plus(v[1].times(w[1])).plus(v[2].times(w[2]))
}

func norm(v [3]interval) interval {
	return v[0].square().plus(v[1].square()).plus(v[2].square()).root()
}
