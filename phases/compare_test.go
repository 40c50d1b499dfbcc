package phases

import (
	"strings"
	"testing"

	"proveout/checks"
	"proveout/checks/units"
)

// edited reads a plan of two phases after an edit of the text.
func edited(t testing.TB, change ...string) *Plan {
	t.Helper()
	files := map[string][]byte{"05-insulation.yaml": []byte(insulation), "06-board.yaml": []byte(board)}
	for name, data := range files {
		text := string(data)
		for i := 0; i+1 < len(change); i += 2 {
			text = strings.ReplaceAll(text, change[i], change[i+1])
		}
		files[name] = []byte(text)
	}
	plan, err := ReadPlan(files)
	if err != nil {
		t.Fatal(err)
	}
	return plan
}

const insulation = `phase: insulation
title: Insulation
purpose: A layer.
holds:
  - hold: before-board
    title: Before board
    signed by: [crew lead, owner]
    checks:
      - {check: depth, ask: Depth, measure: length, at least: design depth, points: {per face: 2, per bay: 1}, instrument: gauge, photo: each point, source: s, mark: read}
      - {check: lift, ask: Lift, measure: length, at most: 2 in, safety: "yes", source: s, mark: read}
      - {check: gap, ask: Gap, measure: length, below: 1/8 in, source: s, mark: read}
      - {check: suction, ask: Suction, measure: pressure, at most: -5 Pa, safety: "yes", source: s, mark: read}
      - {check: rating, ask: Rating, measure: thermal resistance, at least: {wall: R-19, ceiling: R-30}, points: {per face: 1}, source: s, mark: read}
      - {check: sealed, ask: "Is it sealed?", answer: "yes", safety: "yes", by: [crew lead], source: s, mark: read}
      - {check: kind, ask: Which, choose: [one, two], source: s, mark: read}
      - {check: cure, ask: "Cured?", wait: 3 business days, from: last coat, source: s, mark: read}
      - {check: re-entry, ask: "Over?", wait: data sheet re-entry, from: last lift, safety: "yes", source: s, mark: read}
      - {check: watch, ask: "Watched?", wait: 2 h, from: last lift, safety: "yes", source: s, mark: read}
      - {check: whole, ask: Whole, compute: effective-resistance, uses: depth, at least: design resistance, source: s, mark: read}
      - {check: held, ask: Held, compute: nitrogen-test, at most: 1 psi, hold: 24 h, safety: "yes", source: s, mark: read}
      - {check: lead, ask: Lead, compute: lead-path, before: "1978", safety: "yes", source: s, mark: read}
      - {check: permit, ask: "Passed?", inspection: insulation, by: [building inspector], when: {permit: "yes"}, code: "yes", source: s, mark: read}
`

const board = `phase: board
title: Board
purpose: A face.
holds:
  - hold: cover
    title: Cover
    after: [insulation.before-board]
    signed by: [crew lead]
    checks:
      - {check: seen, ask: "Seen?", answer: "yes", source: s, mark: read}
  - hold: finish
    title: Finish
    after: [board.cover]
    signed by: [crew lead]
    checks:
      - {check: flat, ask: "Flat?", answer: "yes", source: s, mark: read}
`

// One edit each: what it makes of the check, and what may be done about it.
func TestCompare(t *testing.T) {
	const loosens, tightens, same = "loosens", "tightens", "same"
	for _, tt := range []struct {
		from, to string
		check    string
		want     string
		safety   bool
	}{
		{"at most: 2 in", "at most: 1 1/2 in", "insulation.lift", tightens, true},
		{"at most: 2 in", "at most: 50.8 mm", "insulation.lift", same, true},
		{"at most: 2 in", "at most: 2 1/16 in", "insulation.lift", loosens, true},
		{"at most: 2 in", "at most: 51 mm", "insulation.lift", loosens, true},
		{"at most: 2 in", "below: 2 in", "insulation.lift", loosens, true}, // another bound: not comparable by text
		{"below: 1/8 in", "below: 1/16 in", "insulation.gap", tightens, false},
		{"below: 1/8 in", "below: 1/4 in", "insulation.gap", loosens, false},
		{"at most: -5 Pa", "at most: -10 Pa", "insulation.suction", tightens, true},
		{"at most: -5 Pa", "at most: -2.5 Pa", "insulation.suction", loosens, true},
		{"at most: -5 Pa", "at most: -0.02 in. w.c.", "insulation.suction", loosens, true}, // -4.98 Pa
		{"wall: R-19", "wall: R-21", "insulation.rating", tightens, false},
		{"wall: R-19", "wall: R-13", "insulation.rating", loosens, false},
		{", ceiling: R-30", "", "insulation.rating", loosens, false},
		{"at least: design depth", "at least: 6 in", "insulation.depth", tightens, false},
		{"at least: design depth", "at least: 4 in", "insulation.depth", loosens, false},
		{"at least: design depth", "record only: \"yes\"", "insulation.depth", loosens, false},
		{"per face: 2, per bay: 1", "per face: 1, per bay: 1", "insulation.depth", loosens, false},
		{"per face: 2, per bay: 1", "per face: 2", "insulation.depth", loosens, false},
		{"per face: 2, per bay: 1", "per face: 3, per bay: 1", "insulation.depth", same, false},
		{"instrument: gauge, ", "", "insulation.depth", loosens, false},
		{"instrument: gauge", "instrument: tape", "insulation.depth", loosens, false},
		{"photo: each point", "photo: one", "insulation.depth", loosens, false},
		{"photo: each point, ", "judge: mean, photo: each point, ", "insulation.depth", loosens, false},
		{"photo: each point, ", "series: \"yes\", photo: each point, ", "insulation.depth", loosens, false},
		{"uses: depth", "uses: insulation.depth", "insulation.whole", same, false},
		{"at least: design resistance", "at least: R-1", "insulation.whole", loosens, false},
		{"answer: \"yes\", safety: \"yes\", by", "answer: \"no\", safety: \"yes\", by", "insulation.sealed", loosens, true},
		{"answer: \"yes\", safety: \"yes\", by", "answer: \"yes\", by", "insulation.sealed", loosens, true},
		{"answer: \"yes\", safety: \"yes\", by", "answer: \"yes\", safety: \"yes\", not applicable: \"yes\", by", "insulation.sealed", loosens, true},
		{"by: [crew lead], source", "source", "insulation.sealed", loosens, true},
		{"Is it sealed?", "Does it look sealed?", "insulation.sealed", loosens, false}, // people must read it
		{"ask: Depth", "ask: The depth", "insulation.depth", same, false},
		{"[one, two]", "[one, two, three]", "insulation.kind", loosens, false},
		{"3 business days", "5 business days", "insulation.cure", tightens, false},
		{"3 business days", "2 business days", "insulation.cure", loosens, false},
		{"3 business days", "3 calendar days", "insulation.cure", loosens, false},
		{"3 business days", "72 h", "insulation.cure", loosens, false},
		{"3 business days", "14 calendar days", "insulation.cure", tightens, false},
		{"from: last coat", "from: first coat", "insulation.cure", loosens, false},
		{"wait: data sheet re-entry", "wait: 1 h", "insulation.re-entry", loosens, true},
		{"wait: 2 h", "wait: 120 min", "insulation.watch", same, true},
		{"wait: 2 h", "wait: 119 min", "insulation.watch", loosens, true},
		{"wait: 2 h", "wait: 1 calendar days", "insulation.watch", tightens, true},
		{"hold: 24 h", "hold: 10 min", "insulation.held", loosens, true},
		{"hold: 24 h", "hold: 48 h", "insulation.held", same, true},
		{"at most: 1 psi", "at most: 2 psi", "insulation.held", loosens, true},
		{"before: \"1978\"", "before: \"1970\"", "insulation.lead", loosens, true},
		{"before: \"1978\"", "before: \"1990\"", "insulation.lead", tightens, true},
		{"when: {permit: \"yes\"}, ", "", "insulation.permit", loosens, false},
		{"code: \"yes\", source", "source", "insulation.permit", loosens, false},
		{"inspection: insulation,", "inspection: something,", "insulation.permit", loosens, false},
		{"by: [building inspector]", "by: [building inspector, owner]", "insulation.permit", loosens, false},
		{"{check: lift", "{check: other", "insulation.lift", loosens, true},
		{"source: s", "source: another", "insulation.lift", same, true},
	} {
		t.Run(tt.from+" → "+tt.to, func(t *testing.T) {
			room := cellar(t, map[string]string{})
			room.Values["data sheet re-entry"] = "24 h"
			got, safety := same, false
			for _, d := range Compare(edited(t), edited(t, tt.from, tt.to), room, room) {
				if d.Check != tt.check {
					continue
				}
				safety = d.Safety
				if strings.HasPrefix(d.Text, "written in another way") {
					continue
				}
				if got = tightens; d.Loosens {
					got = loosens
					break
				}
			}
			if got != tt.want || got != same && safety != tt.safety {
				t.Errorf("%s %s, safety %v; want %s, %v", tt.check, got, safety, tt.want, tt.safety)
			}
		})
	}
}

// What an edit of the job file does to limits, places and waits that name it.
func TestCompareRooms(t *testing.T) {
	for name, tt := range map[string]struct {
		change func(*checks.Room)
		check  string
		want   bool // it loosens
	}{
		"design depth less": {func(r *checks.Room) { r.Faces[0].Design["depth"] = quantity(t, units.LengthKind, "4 in") }, "insulation.depth", true},
		"design depth more": {func(r *checks.Room) { r.Faces[0].Design["depth"] = quantity(t, units.LengthKind, "6 in") }, "insulation.depth", false},
		"resistance less": {func(r *checks.Room) {
			r.Faces[0].Design["resistance"] = quantity(t, units.ThermalResistanceKind, "R-2")
		}, "insulation.whole", true},
		"a face taken out":      {func(r *checks.Room) { r.Faces = r.Faces[1:] }, "insulation.depth", true},
		"a bay fewer":           {func(r *checks.Room) { r.Faces[0].Bays, r.Faces[1].Bays = 3, 0 }, "insulation.depth", false},
		"another set point":     {func(r *checks.Room) { r.SetPoint = quantity(t, units.TemperatureKind, "57 °F") }, "insulation.held", false},
		"a lower test pressure": {func(r *checks.Room) { r.Values["test pressure"] = "100 psig" }, "insulation.held", true},
		"no guard band":         {func(r *checks.Room) { r.GuardBand = false }, "", true},
		"shorter re-entry":      {func(r *checks.Room) { r.Values["data sheet re-entry"] = "1 h" }, "insulation.re-entry", true},
		"longer re-entry":       {func(r *checks.Room) { r.Values["data sheet re-entry"] = "72 h" }, "insulation.re-entry", false},
	} {
		old, new := cellar(t, map[string]string{}), cellar(t, map[string]string{})
		old.Values["data sheet re-entry"], new.Values["data sheet re-entry"] = "24 h", "24 h"
		old.GuardBand, new.GuardBand = true, true
		tt.change(new)
		loosens, seen := false, false
		for _, d := range Compare(edited(t), edited(t), old, new) {
			if d.Check == tt.check {
				seen, loosens = true, loosens || d.Loosens
			}
		}
		if loosens != tt.want || !seen && tt.want {
			t.Errorf("%s: loosens %v, want %v", name, loosens, tt.want)
		}
	}
}

func TestCompareHolds(t *testing.T) {
	for _, tt := range []struct {
		from, to string
		says     string
		loosens  bool
		safety   bool
	}{
		{"signed by: [crew lead, owner]", "signed by: [crew lead]", "other people must sign it", true, false},
		{"signed by: [crew lead, owner]", "signed by: [crew lead, electrician]", "other people must sign it", true, false},
		{"signed by: [crew lead, owner]", "signed by: [crew lead, owner, electrician]", "other people must sign it", false, false},
		{"signed by: [crew lead, owner]", "signed by: [crew lead, {role: owner, when: {permit: \"yes\"}}]", "other people must sign it", true, false},
		{"after: [board.cover]", "after: [insulation.before-board]", "it comes after other holds", true, false},
		{"after: [board.cover]", "after: [board.cover, insulation.before-board]", "it comes after other holds", false, false},
		{"    title: Finish\n", "    title: Finish\n    when: {permit: \"yes\"}\n", "it applies under other conditions", true, false},
		{"    title: Finish\n", "    title: Finish\n    release: face by face\n", "face by face", true, false},
		{"hold: finish", "hold: end", "hold board.finish is taken out", true, true},
		{"      - {check: flat", "      - {check: curved, ask: \"Flat?\", answer: \"yes\", source: s, mark: read}\n      - {check: flat", "the check is new", false, false},
	} {
		room := cellar(t, map[string]string{})
		found := false
		for _, d := range Compare(edited(t), edited(t, tt.from, tt.to), room, room) {
			if strings.Contains(d.Text, tt.says) && d.Loosens == tt.loosens && d.Safety == tt.safety {
				found = true
			}
		}
		if !found {
			t.Errorf("%s → %s: %+v", tt.from, tt.to, Compare(edited(t), edited(t, tt.from, tt.to), room, room))
		}
	}
	// A check that moves to a later hold is asked too late.
	moved := edited(t, board[strings.Index(board, "      - {check: seen"):strings.Index(board, "  - hold: finish")], "      - {check: other, ask: \"Seen?\", answer: \"yes\", source: s, mark: read}\n",
		"      - {check: flat", "      - {check: seen, ask: \"Seen?\", answer: \"yes\", source: s, mark: read}\n      - {check: flat")
	room := cellar(t, map[string]string{})
	for _, d := range Compare(edited(t), moved, room, room) {
		if d.Check == "board.seen" && d.Loosens && strings.Contains(d.Text, "asked at hold board.finish, no longer at board.cover") {
			return
		}
	}
	t.Errorf("a check that moved: %+v", Compare(edited(t), moved, room, room))
}

// A company or region sets limits before a job starts: any but a looser one of
// a safety check, and every other byte stays.
func TestSetLimit(t *testing.T) {
	for _, tt := range []struct {
		check, key, value string
		says              string // "" when it is set
	}{
		{"lift", "at most", "1 1/2 in", ""},
		{"lift", "at most", "38 mm", ""},
		{"lift", "at most", "3 in", `insulation.lift is a safety limit: it may be tightened, not loosened from "at most 2 in" to "at most 3 in"`},
		{"lift", "at most", "data sheet lift", "it may be tightened, not loosened"},
		{"suction", "at most", "-8 Pa", ""},
		{"suction", "at most", "-1 Pa", "may be tightened"},
		{"watch", "wait", "4 h", ""},
		{"watch", "wait", "1 h", "may be tightened"},
		{"held", "hold", "10 min", "may be tightened"},
		{"held", "hold", "48 h", ""},
		{"lead", "before", "1960", "may be tightened"},
		{"lead", "before", "1990", ""},
		{"gap", "below", "1/4 in", ""},
		{"depth", "at least", "3 in", ""},
		{"gap", "below", "1/4", "no unit"},
		{"gap", "at least", "1/4 in", `check "gap" has no single "at least" that could be changed`},
		{"rating", "at least", "R-13", `check "rating" has no single "at least"`},
		{"nothing", "at least", "R-13", `there is no check "nothing"`},
	} {
		out, err := SetLimit("05-insulation.yaml", []byte(blocks(insulation)), NewLimit{Check: tt.check, Key: tt.key, Value: tt.value, Reason: "the company's", Source: "a book", Mark: "read"})
		if tt.says != "" {
			wantProblem(t, err, tt.says)
			continue
		}
		if err != nil {
			t.Errorf("%s: %v", tt.check, err)
			continue
		}
		ph, err := ReadPhase("05-insulation.yaml", out)
		if err != nil {
			t.Fatalf("%s: %v", tt.check, err)
		}
		q := ph.question(tt.check)
		if q.LimitReason != "the company's" || q.Source != "a book" || !strings.Contains(limitText(q)+q.Hold, tt.value) {
			t.Errorf("%s: %q, reason %q, source %q", tt.check, limitText(q), q.LimitReason, q.Source)
		}
	}
}

// blocks writes each check on lines of its own, as people do.
func blocks(text string) string {
	var b strings.Builder
	for line := range strings.Lines(text) {
		body, isCheck := strings.CutPrefix(line, "      - {")
		if !isCheck {
			b.WriteString(line)
			continue
		}
		depth, start := 0, 0
		body = strings.TrimSuffix(strings.TrimSpace(body), "}")
		lead := "      - "
		for i, r := range body + "," {
			switch {
			case strings.ContainsRune("{[", r):
				depth++
			case strings.ContainsRune("}]", r):
				depth--
			case r == ',' && depth == 0:
				b.WriteString(lead + strings.TrimSpace(body[start:i]) + "\n")
				lead, start = "        ", i+1
			}
		}
	}
	return b.String()
}

// Basis is what a hold asks: comments, order of keys and other holds leave it
// alone; anything of its own does not.
func TestBasis(t *testing.T) {
	basis := func(change ...string) string {
		text := board
		for i := 0; i+1 < len(change); i += 2 {
			text = strings.ReplaceAll(text, change[i], change[i+1])
		}
		lines, err := Basis("06-board.yaml", []byte(text), "cover")
		if err != nil {
			t.Fatal(err)
		}
		return strings.Join(lines, "\n")
	}
	same, other := basis(), basis("title: Cover", "title: Covered")
	if same == "" || same == other {
		t.Errorf("a hold's own title does not matter: %q", same)
	}
	for _, change := range [][]string{
		{"phase: board", "# a remark\nphase: board"},
		{"    title: Cover\n    after: [insulation.before-board]\n", "    after: [insulation.before-board]\n    title:   Cover # first\n"},
		{"title: Finish", "title: End"}, {"Flat?", "Plane?"}, {"purpose: A face.", "purpose: Another."},
	} {
		if basis(change...) != same {
			t.Errorf("%q changes the basis of another hold", change)
		}
	}
	for _, change := range [][]string{{"Seen?", "Looked at?"}, {"signed by: [crew lead]", "signed by: [owner]"}, {"hold: cover", "hold: covers"}, {"insulation.before-board]", "board.finish]"}} {
		if basis(change...) == same {
			t.Errorf("%q leaves the basis as it was", change)
		}
	}
}
