package phases

import (
	"slices"

	"proveout/checks"
)

// signatures fills in who has signed, who is still wanted and what is stale.
func (g *Gate) signatures(s *HoldState) {
	for _, r := range g.Evidence.Releases {
		if r.Hold == s.Hold.ID() && (s.Face == "" || r.covers(s.Face)) {
			s.Signed = append(s.Signed, r)
			s.Stale = append(s.Stale, r.Stale...)
		}
	}
	slices.Sort(s.Stale)
	s.Stale = slices.Compact(s.Stale)
	for _, face := range s.Faces {
		if g.wanted(s.Hold, face) == nil {
			s.FacesDone = append(s.FacesDone, face)
		}
	}
	s.WantRoles = g.wanted(s.Hold, s.Face)
	if s.Face == "" && len(s.Faces) > 0 && len(s.FacesDone) == len(s.Faces) {
		s.WantRoles = nil
	}
}

// covers reports whether a release is for the whole hold or for this face.
func (r Release) covers(face string) bool {
	return r.Faces == nil || slices.Contains(r.Faces, face)
}

// wanted returns the roles that have not signed the hold, or the face of it.
func (g *Gate) wanted(h *Hold, face string) []string {
	var roles []string
	for _, role := range h.Roles(g.Decisions) {
		signed := slices.ContainsFunc(g.Evidence.Releases, func(r Release) bool {
			return r.Hold == h.ID() && r.Role == role && (r.Faces == nil || face != "" && r.covers(face))
		})
		if !signed {
			roles = append(roles, role)
		}
	}
	return roles
}

// released reports whether work may pass the hold, for one face or in whole.
func (g *Gate) released(h *Hold, face string) bool {
	s := g.State(h)
	switch s.State {
	case NotApplicable, Signed:
		return true
	}
	if face == "" || !slices.Contains(s.Faces, face) {
		return false
	}
	return g.evaluate(h, face).State == Signed
}

func (g *Gate) stateOf(s *HoldState) State {
	if len(s.Signed) > 0 && len(s.WantRoles) == 0 {
		g.reopened(s)
		if len(s.Stale) > 0 {
			return Stale
		}
		return Signed
	}
	switch {
	case len(s.BlockedBy) > 0:
		return Blocked
	case len(s.Stale) > 0:
		return Stale
	case s.conflict():
		return Conflict
	case s.Settled():
		return Ready
	case s.onlyWaits():
		return Waiting
	}
	return Open
}

// reopened adds what closes a signed hold again: a check that no longer
// passes, an open nonconformity, a hold before it that has reopened.
func (g *Gate) reopened(s *HoldState) {
	for _, v := range s.Verdicts {
		if !v.Settled() {
			s.Stale = append(s.Stale, v.Check+" no longer passes")
		}
	}
	for _, n := range s.Open {
		s.Stale = append(s.Stale, n+" is open")
	}
	for _, up := range s.BlockedBy {
		s.Stale = append(s.Stale, up+", which comes before it, is not released any more")
	}
}

func (s *HoldState) conflict() bool {
	return slices.ContainsFunc(s.Verdicts, func(v checks.Verdict) bool { return v.Conflict })
}

// onlyWaits reports whether nothing but time is missing.
func (s *HoldState) onlyWaits() bool {
	waits := false
	for _, v := range s.Verdicts {
		if v.Settled() {
			continue
		}
		if !v.Waiting {
			return false
		}
		waits = true
	}
	return waits && len(s.Open) == 0
}
