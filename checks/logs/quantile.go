package logs

import (
	"cmp"
	"math"
	"slices"
)

// quantiles holds the values of a record in ascending order, equal ones
// together if they are few, with the time they stand for.
type quantiles struct {
	n     int
	group func(i int) group
}

// group is a value with its weight, and the weights of the first and the last
// sample that have it.
type group struct {
	v                  float64
	total, first, last int64
}

// manyValues is the number of different values up to which samples are
// gathered by value. A logger of 0.01 K over 100 K has 10,000.
const manyValues = 1 << 15

func newQuantiles(c cursor) quantiles {
	if groups, ok := gather(c); ok {
		return quantiles{len(groups), func(i int) group { return groups[i] }}
	}
	all := sortAll(c)
	return quantiles{len(all), func(i int) group { return group{all[i].v, all[i].w, all[i].w, all[i].w} }}
}

// gather groups samples by value; ok is false if there are too many values. A
// hash table with open addressing is several times as fast here as a map.
func gather(c cursor) (groups []group, ok bool) {
	const bits = 16
	places := make([]uint16, 1<<bits) // place in groups plus one
	for {
		x, more := c.next()
		if !more {
			break
		}
		v := x.v + 0 // −0 is 0
		slot := math.Float64bits(v) * 0x9E3779B97F4A7C15 >> (64 - bits)
		for places[slot] != 0 && groups[places[slot]-1].v != v {
			slot = (slot + 1) % (1 << bits)
		}
		if places[slot] == 0 {
			if len(groups) == manyValues {
				return nil, false
			}
			groups = append(groups, group{v: v, first: x.w})
			places[slot] = uint16(len(groups))
		}
		g := &groups[places[slot]-1]
		g.total += x.w
		g.last = x.w
	}
	slices.SortFunc(groups, func(a, b group) int { return cmp.Compare(a.v, b.v) })
	return groups, true
}

// weighted is a value with its weight.
type weighted struct {
	v float64
	w int64
}

// sortAll sorts the samples one by one.
func sortAll(c cursor) []weighted {
	all := make([]weighted, 0, len(c.times)-c.i)
	for {
		x, more := c.next()
		if !more {
			break
		}
		all = append(all, weighted{x.v, x.w})
	}
	slices.SortStableFunc(all, func(a, b weighted) int { return cmp.Compare(a.v, b.v) })
	return all
}

// at returns the quantile p. Places on the axis of cumulated time are doubled,
// so that the middle of a weight is a whole number.
func (q quantiles) at(p float64) float64 {
	sum := int64(0)
	for i := range q.n {
		sum += 2 * q.group(i).total
	}
	low, high := q.group(0).first, sum-q.group(q.n-1).last
	target := float64(low) + p*float64(high-low)
	before := int64(0)
	var left group
	for i := range q.n {
		g := q.group(i)
		if begin := before + g.first; target < float64(begin) {
			from := before - left.last
			return left.v + (g.v-left.v)*(target-float64(from))/float64(begin-from)
		}
		before += 2 * g.total
		if target <= float64(before-g.last) {
			return g.v
		}
		left = g
	}
	return left.v
}
