package post_test

import (
	"fmt"
	"math"
	"strings"

	"stopshort/toolpath/limit"
)

// tiny is more than the map's own rounding, and than a chord's bulge.
const tiny = 0.0015

// finding is where the map and the judge differ. A breach is a limit that the
// judge lets pass and the map finds broken.
type finding struct {
	text   string
	breach bool
}

// inMM is a verdict's figure in millimetres.
func inMM(n int64) float64 { return float64(n) / 1e7 }

// neverLess is what the job's own text asks of a bore; ok is false where the
// tool's default stands.
func (j *slotJob) neverLess(bore string) (mm float64, ok bool) {
	switch {
	case bore == j.shortOf && j.never.text != "":
		return j.never.mm, true
	case bore == j.shortOf:
		return 0, false
	}
	return j.wall.mm, j.wall.text != ""
}

// left is what the map leaves at the thing that a limit guards: ok is false
// where the map knows nothing of it.
func (j *slotJob) left(m *heightMap, name string) (mm float64, ok bool) {
	if strings.HasPrefix(name, "floor at ") {
		return m.deepest() - j.floorAt.mm, true
	}
	return j.part.left(m, name)
}

// left is [slotJob.left] for what every slot has.
func (j *part) left(m *heightMap, name string) (mm float64, ok bool) {
	for _, b := range j.bores {
		if name == "web to bore "+b.name || name == "wall to bore "+b.name {
			return m.web(b), true
		}
	}
	if name == "floor" {
		return m.deepest() - j.low[2], true
	}
	for i, edge := range []string{"left edge", "right edge", "front edge", "back edge"} {
		if name == edge {
			return m.edge(i/2, i%2 == 1), true
		}
	}
	return 0, false
}

// found is what the map leaves for every verdict that it knows of.
func (j *slotJob) found(m *heightMap, verdicts []limit.Verdict) map[string]float64 {
	found := map[string]float64{}
	for _, v := range verdicts {
		if left, ok := j.left(m, v.Limit); ok {
			found[v.Limit] = left
		}
	}
	return found
}

// judge holds the verdicts against what the map found.
func (j *slotJob) judge(found map[string]float64, verdicts []limit.Verdict) (out []finding) {
	add := func(breach bool, format string, args ...any) {
		out = append(out, finding{fmt.Sprintf(format, args...), breach})
	}
	for _, b := range j.bores {
		named := 0
		for _, v := range verdicts {
			if strings.HasSuffix(v.Limit, " to bore "+b.name) {
				named++
				if asked, ok := j.neverLess(b.name); ok && math.Abs(asked-inMM(v.NeverLess)) > 1e-6 {
					add(false, "%s: never less than %.4f is asked and %.4f is judged", v.Limit, asked, inMM(v.NeverLess))
				}
			}
		}
		if named != 1 {
			add(false, "bore %s has %d verdicts", b.name, named)
		}
	}
	for _, v := range verdicts {
		left, ok := found[v.Limit]
		if !ok {
			continue
		}
		over := cell + tiny
		if strings.HasSuffix(v.Limit, "edge") { // of which the judge's bound is this coarse where a slot runs out at an angle
			over += j.cutter.mm / 512
		}
		out = append(out, agree(v, left, over, j.leans(v.Limit), strings.Contains(v.Limit, " to bore "))...)
	}
	return out
}

// agree holds one verdict against what the map leaves, which may be more than
// the judge tells by over; short is where the judge may tell less than there is
// (the safe side). proves is where the map proves that too little is left.
func agree(v limit.Verdict, left, over float64, short, proves bool) (out []finding) {
	add := func(breach bool, format string, args ...any) {
		out = append(out, finding{fmt.Sprintf(format, args...), breach})
	}
	planned, never := inMM(v.Planned), inMM(v.NeverLess)
	if left < planned-tiny {
		add(false, "%s: the judge says %.4f is left and the map %.4f", v.Limit, planned, left)
	}
	short = short && left > planned
	if !short && left > max(planned, 0)+over {
		add(false, "%s: the judge says only %.4f is left and the map %.4f", v.Limit, planned, left)
	}
	switch v.State {
	case limit.Refused:
		if !short && left > never+over-tiny {
			add(false, "%s: refused at %.4f, and the map leaves %.4f", v.Limit, never, left)
		}
	case limit.Undecided:
		if !short && math.Abs(left-never) > over-tiny {
			add(false, "%s: not decided at %.4f, and the map leaves %.4f", v.Limit, never, left)
		}
	default:
		if left < never-1e-9 && proves {
			add(true, "%s: accepted at %.4f, and the map leaves %.4f", v.Limit, never, left)
		}
	}
	return out
}

// leans tells whether a limit speaks of a bore at an angle. The judge and the
// recipe take the part of such a bore that is outside the metal, beside an open
// end, for a bore too, so that less may be told than is left, never more.
func (j *slotJob) leans(limit string) bool {
	for _, b := range j.bores {
		n := 0
		for _, c := range b.along {
			if math.Abs(c) > 1e-9 {
				n++
			}
		}
		if n > 1 && strings.HasSuffix(limit, " to bore "+b.name) {
			return true
		}
	}
	return false
}

// sized holds what an accepted text has cut against the slot that was asked
// for; grid is the step of its coordinates.
func (j *slotJob) sized(m *heightMap, grid float64) (out []string) {
	add := func(format string, args ...any) { out = append(out, fmt.Sprintf(format, args...)) }
	floor, known := -j.depth.mm, j.depth.text != ""
	if j.floorAt.text != "" && !known {
		floor, known = j.floorAt.mm+j.leave.mm, true
	}
	deepest := m.deepest()
	if known && (deepest < floor-1e-6 || deepest > floor+cell) {
		add("the floor is asked at %.4f and lies at %.4f", floor, deepest)
	}
	half, whole := j.width.mm/2, true
	for _, b := range j.bores {
		if b.name != j.shortOf {
			continue
		}
		if !known {
			if web := m.web(b); web < j.leave.mm-tiny || web > j.leave.mm+cell+grid+tiny && !j.leans(" to bore "+b.name) {
				add("%.4f is to be left to %s and the map leaves %.4f", j.leave.mm, b.name, web)
			}
		}
		// Before an upright bore a closed end is pulled back.
		whole = math.Abs(b.along[2]) < 1-1e-9 || j.open == [2]bool{true, true}
	}
	a, b := j.ends()
	length := math.Hypot(b[0]-a[0], b[1]-a[1])
	side := [2]float64{math.Inf(1), math.Inf(-1)}
	beyond, standing, shallow := math.Inf(-1), 0, 0
	for k := range m.ny {
		for i := range m.nx {
			p := [2]float64{m.x(i), m.y(k)}
			off := fromLine(a, b, p)
			z := m.at(i, k)
			if z < j.high[2] {
				beyond = max(beyond, off-half)
				s := ((p[1]-a[1])*(b[0]-a[0]) - (p[0]-a[0])*(b[1]-a[1])) / length
				side = [2]float64{min(side[0], s), max(side[1], s)}
			}
			if off < half-cell && whole {
				if z == j.high[2] {
					standing++
				} else if z > deepest+1e-9 {
					shallow++
				}
			}
		}
	}
	if beyond > grid+tiny {
		add("%.4f beyond the slot's shape is cut", beyond)
	}
	if standing > 0 || shallow > 0 {
		add("%d cells inside the slot stand and %d are not down to the floor", standing, shallow)
	}
	for i, s := range side {
		if d := half - math.Abs(s); d > cell+4*grid || d < -grid-tiny {
			add("side %d of the slot is %.4f from where it is asked", i, d)
		}
	}
	return out
}
