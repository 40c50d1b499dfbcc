package phases

import (
	"fmt"
	"path"
	"slices"
	"strconv"
	"strings"

	"proveout/checks"
	"proveout/phases/strict"
)

// ReadPhase reads one phase file. All its problems are reported, each with
// file, line and column.
func ReadPhase(file string, data []byte) (*Phase, error) {
	doc, err := strict.Read(file, data, strict.Options{MaxBytes: strict.PlanLimit})
	if err != nil {
		return nil, err
	}
	m := doc.Map()
	ph := &Phase{
		Number: number(file), File: file,
		Name:       readName(m, "phase"),
		Title:      m.Text("title"),
		Purpose:    m.Text("purpose"),
		Crew:       m.OptionalTexts("crew"),
		Materials:  m.OptionalTexts("materials"),
		Cautions:   readTexts(m, "cautions"),
		Steps:      readTexts(m, "steps"),
		Photos:     m.OptionalTexts("photos"),
		LastChance: m.OptionalTexts("last chance"),
		HandOff:    m.OptionalText("hand-off"),
	}
	for _, h := range m.Maps("holds") {
		ph.Holds = append(ph.Holds, readHold(ph, h))
	}
	if err := doc.Err(); err != nil {
		return nil, err
	}
	return ph, nil
}

// number returns the number a phase file's name starts with.
func number(file string) int {
	digits, _, _ := strings.Cut(path.Base(file), "-")
	n, err := strconv.Atoi(digits)
	if err != nil {
		return 0
	}
	return n
}

func readTexts(m *strict.Map, key string) []Text {
	var texts []Text
	for _, v := range m.OptionalList(key) {
		if v.Kind() == strict.ScalarKind {
			texts = append(texts, Text{Text: v.Text()})
			continue
		}
		t := v.Map()
		texts = append(texts, Text{Text: t.Text("text"), When: readCondition(t)})
	}
	return texts
}

func readHold(ph *Phase, m *strict.Map) *Hold {
	h := &Hold{
		Phase:  ph,
		Name:   readName(m, "hold"),
		Title:  m.Text("title"),
		Covers: m.OptionalText("covers"),
		When:   readCondition(m),
		Invite: m.OptionalTexts("invite"),
		Pos:    m.Pos().String(),
	}
	if r := m.OptionalText("release"); r == "face by face" {
		h.FaceByFace = true
	} else if r != "" {
		m.Fail("release", "release is %q; the only value is \"face by face\"", r)
	}
	for _, v := range m.OptionalList("after") {
		h.After = append(h.After, readEdge(v))
	}
	for _, v := range m.List("signed by") {
		h.SignedBy = append(h.SignedBy, readRole(v))
	}
	for _, c := range m.Maps("checks") {
		q := readQuestion(ph.Name, c)
		if slices.ContainsFunc(ph.questions(), func(o *checks.Question) bool { return o.Name == q.Name }) ||
			slices.ContainsFunc(h.Checks, func(o *checks.Question) bool { return o.Name == q.Name }) {
			c.Fail("check", "check %q stands twice in this phase", q.Name)
		}
		h.Checks = append(h.Checks, q)
	}
	return h
}

func (ph *Phase) questions() []*checks.Question {
	var all []*checks.Question
	for _, h := range ph.Holds {
		all = append(all, h.Checks...)
	}
	return all
}

func readEdge(v strict.Value) Edge {
	if v.Kind() == strict.ScalarKind {
		return Edge{Hold: v.Text()}
	}
	m := v.Map()
	return Edge{Hold: m.Text("hold"), When: readCondition(m)}
}

func readRole(v strict.Value) Role {
	if v.Kind() == strict.ScalarKind {
		return Role{Name: v.Text()}
	}
	m := v.Map()
	return Role{Name: m.Text("role"), When: readCondition(m)}
}

// ReadPlan reads all phase files, given by name, and checks the plan as a
// whole.
func ReadPlan(files map[string][]byte) (*Plan, error) {
	plan := &Plan{}
	var problems []error
	for _, name := range sortedKeys(files) {
		ph, err := ReadPhase(name, files[name])
		if err != nil {
			problems = append(problems, err)
			continue
		}
		plan.Phases = append(plan.Phases, ph)
	}
	if problems != nil {
		return nil, joinLines(problems)
	}
	return plan, plan.check()
}

func sortedKeys(files map[string][]byte) []string {
	names := make([]string, 0, len(files))
	for name := range files {
		names = append(names, name)
	}
	slices.Sort(names)
	return names
}

func joinLines(problems []error) error {
	texts := make([]string, len(problems))
	for i, p := range problems {
		texts[i] = p.Error()
	}
	return fmt.Errorf("%s", strings.Join(texts, "\n"))
}
