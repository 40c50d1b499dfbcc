package main

import (
	"bytes"
	"strings"
	"text/template"
	"time"
)

// demoSite is an invented room.
type demoSite struct {
	ID, Title string
	YearBuilt int
	Retarder  string // film or foam
	Bottles   int
	Serial    string
	Started   string
	Faces     []demoFace
	ceiling   string // what is above
}

type demoFace struct {
	Name, Kind, OtherSide, Area             string
	Bays                                    int
	Depth, Resistance, Installed, Permeance string
	Found, Planned                          string // transmittance of door and glass
}

// yaml is the site's job.yaml.
func (s demoSite) yaml(started time.Time) ([]byte, error) {
	s.Started = started.Format(time.DateOnly)
	permeance := "0.1 perm"
	if s.Retarder == "foam" {
		permeance = "0.3 perm"
	}
	insulated := func(name, kind, other, area string, bays int) demoFace {
		return demoFace{
			Name: name, Kind: kind, OtherSide: other, Area: area, Bays: bays,
			Depth: "5 in", Resistance: "R-19", Installed: "R-29", Permeance: permeance,
		}
	}
	s.Faces = []demoFace{
		insulated("north wall", "wall", "house", "58 ft²", 4),
		insulated("east wall", "wall", "house", "64 ft²", 5),
		insulated("south wall", "wall", "house", "38 ft²", 3),
		insulated("west wall", "wall", "house", "64 ft²", 5),
		insulated("lid", "ceiling", s.ceiling, "80 ft²", 6),
		insulated("floor", "floor", "crawl space", "80 ft²", 6),
		{Name: "door", Kind: "door", OtherSide: "house", Area: "20 ft²", Found: "3.0 W/(m²·K)", Planned: "1.5 W/(m²·K)"},
		{Name: "door glass", Kind: "glass", OtherSide: "house", Area: "8 ft²", Found: "5.0 W/(m²·K)", Planned: "1.7 W/(m²·K)"},
	}
	return fillDemo("job.yaml.tmpl", s)
}

// fillDemo fills in a file of the demo.
func fillDemo(name string, with any) ([]byte, error) {
	t, err := template.ParseFS(demoFiles, "demodata/"+name)
	if err != nil {
		return nil, err
	}
	var out bytes.Buffer
	err = t.Execute(&out, with)
	return out.Bytes(), err
}

// demoAnswers are the values the crew reads, by phase.check, taken in turn.
func demoAnswers(s demoSite) map[string][]string {
	lead, asbestos := "house is newer", "house is newer"
	if s.YearBuilt < 1978 {
		lead, asbestos = "assume lead", "survey"
	}
	text, err := demoFiles.ReadFile("demodata/answers.txt")
	if err != nil {
		panic(err) // the file is embedded
	}
	answers := map[string][]string{}
	for _, line := range strings.Split(string(text), "\n") {
		check, values, ok := strings.Cut(line, " = ")
		if !ok || strings.HasPrefix(line, "#") {
			continue
		}
		if site, of, only := strings.Cut(check, ": "); only {
			if site != s.ID {
				continue
			}
			check = of
			answers[check] = nil
		}
		values = strings.NewReplacer("{{lead}}", lead, "{{asbestos}}", asbestos).Replace(values)
		for _, v := range strings.Split(values, " | ") {
			answers[check] = append(answers[check], strings.TrimSpace(v))
		}
	}
	return answers
}
