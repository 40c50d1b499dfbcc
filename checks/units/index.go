package units

import (
	"strings"
	"sync"
)

// spellings finds the unit that a spelling names. They are entered when the
// first value of the kind is read, so that a command pays for what it reads.
type spellings struct {
	once   sync.Once
	cased  map[string]spelled // spellings that mean something in one case only: mΩ, MΩ
	folded map[string]spelled // all others, in lower case
}

// spelled is what a spelling names: a unit, or a reason to refuse it.
type spelled struct {
	unit    *measure
	refusal *refusal
}

// find returns what a unit's text names.
func (f *family) find(text string) (spelled, bool) {
	f.spellings.once.Do(f.enterSpellings)
	var s spelling
	s.spell(text)
	if found, ok := f.spellings.cased[string(s.key())]; ok {
		return found, true
	}
	found, ok := f.spellings.folded[string(s.fold())]
	return found, ok
}

func (f *family) enterSpellings() {
	f.spellings.cased = make(map[string]spelled)
	f.spellings.folded = make(map[string]spelled, 8*len(f.units))
	for i := range f.units {
		m := &f.units[i]
		f.enter(m.symbol+"|"+m.names, spelled{unit: m})
	}
	for i := range f.refused {
		f.enter(f.refused[i].names, spelled{refusal: &f.refused[i]})
	}
}

// enter adds spellings. One that is marked, or whose lower case is taken by
// another unit, counts in its own case only.
func (f *family) enter(names string, what spelled) {
	for name := range strings.SplitSeq(names, "|") {
		name, marked := strings.CutPrefix(name, "=")
		if name == "" {
			continue
		}
		var s spelling
		s.spell(name)
		cased := string(s.key())
		folded := string(s.fold())
		if _, taken := f.spellings.folded[folded]; marked || taken {
			f.spellings.cased[cased] = what
		} else {
			f.spellings.folded[folded] = what
		}
	}
}

// kindsOf returns the kinds that have a unit spelled like this, in any case.
func kindsOf(unit string) []Kind {
	var s spelling
	s.spell(unit)
	return kindsBySpelling()[string(s.fold())]
}

// kindsBySpelling serves error messages, and counts, whose word must not be a
// unit.
var kindsBySpelling = sync.OnceValue(func() map[string][]Kind {
	kinds := make(map[string][]Kind)
	for _, f := range families {
		f.spellings.once.Do(f.enterSpellings)
		for key, what := range f.spellings.folded {
			if what.unit != nil {
				kinds[key] = append(kinds[key], f.kind)
			}
		}
	}
	return kinds
})
