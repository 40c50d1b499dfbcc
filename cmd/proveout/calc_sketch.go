package main

import (
	"fmt"
	"strings"

	"proveout/checks"
	"proveout/checks/mold"
	"proveout/checks/units"
)

// patches are the areas that were given, or those of the contiguous patches of a
// sketch.
func (a *asking) patches(r *answer) ([]checks.Fact, error) {
	areas, err := a.texts("patch")
	if err != nil {
		return nil, err
	}
	sketch, err := a.texts("sketch")
	switch {
	case err != nil:
		return nil, err
	case len(areas) > 0 && len(sketch) > 0:
		return nil, &usageError{"give areas, --patch, or a sketch, --sketch; not both"}
	case len(sketch) > 0:
		return a.sketched(r, sketch)
	case len(areas) == 0:
		return nil, &usageError{"say how large each patch is: --patch \"6 ft²\""}
	}
	var facts []checks.Fact
	for i, text := range areas {
		q, err := units.Parse(units.AreaKind, text)
		if err != nil {
			return nil, &usageError{fmt.Sprintf("--patch: %v", err)}
		}
		a.takeSystem(q)
		facts = append(facts, checks.Fact{Place: fmt.Sprint(i + 1), Quantity: q})
	}
	return facts, nil
}

// sketched measures a sketch.
func (a *asking) sketched(r *answer, texts []string) ([]checks.Fact, error) {
	var patches []mold.Patch
	for _, text := range texts {
		p, err := a.rectangle(text)
		if err != nil {
			return nil, &usageError{fmt.Sprintf("--sketch %q: %v; write it as \"north wall: 0 in, 10 in, 24 in, 36 in\"", text, err)}
		}
		patches = append(patches, p)
	}
	e, err := mold.Sketch(patches, 0)
	if err != nil {
		return nil, err
	}
	r.add("area in all", a.of(units.AreaKind, float64(e.Total)))
	r.add("largest patch that hangs together", a.of(units.AreaKind, float64(e.Largest)))
	r.addText("patches", fmt.Sprint(len(e.Patches)))
	var facts []checks.Fact
	for i, area := range e.Patches {
		facts = append(facts, checks.Fact{Place: fmt.Sprint(i + 1), Quantity: a.of(units.AreaKind, float64(area))})
	}
	return facts, nil
}

func (a *asking) rectangle(text string) (mold.Patch, error) {
	face, rest, ok := strings.Cut(text, ":")
	parts := strings.Split(rest, ",")
	if !ok || len(parts) != 4 {
		return mold.Patch{}, fmt.Errorf("wanted are a face and four lengths")
	}
	var lengths [4]units.Length
	for i, part := range parts {
		q, err := units.Parse(units.LengthKind, part)
		if err != nil {
			return mold.Patch{}, err
		}
		a.takeSystem(q)
		lengths[i] = q.Length()
	}
	return mold.Patch{Face: strings.TrimSpace(face), X: lengths[0], Y: lengths[1], Width: lengths[2], Height: lengths[3]}, nil
}
