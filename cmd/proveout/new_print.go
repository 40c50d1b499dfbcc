package main

import (
	"path/filepath"
	"strings"

	"proveout/jobs"
)

// printStarted says what was made and what to type next.
func printStarted(e *env, j *jobs.Job, client bool, entry jobs.Entry) {
	folder := e.shown(j.Dir)
	e.printf("%s: %s\n", e.bold(j.ID), terminalText(j.Title))
	e.printf("  %s  %s, %d phases, %d hold points\n", folder, plural(len(j.Room.Faces), "face"), len(j.Plan.Phases), len(j.Plan.Holds()))
	if client {
		e.printf("  clients/%s.yaml  the client, outside the job's history\n", j.ID)
	}
	printChangedLimits(e, j)
	if missing := notSaid(j); missing != nil {
		e.printf("\nNot said yet; the checks that need it stay open:\n")
		for _, m := range missing {
			e.printf("  %s\n", terminalText(m))
		}
		e.printf("Edit %s, then: proveout adopt --reason \"why\"\n", filepath.Join(folder, jobs.JobFile))
	}
	first := j.Plan.Phases[0].Name
	by := strings.Fields(entry.By.Name)[0]
	e.printf("\nNext:\n  cd %s\n  proveout check %s\n  proveout record %s --by %s\n", folder, first, first, by)
}

// printChangedLimits lists the limits that differ from the defaults.
func printChangedLimits(e *env, j *jobs.Job) {
	for _, r := range j.Records {
		if len(r.Changes) == 0 {
			continue
		}
		e.printf("\nLimits that differ from the defaults:\n")
		for _, c := range r.Changes {
			e.paragraph("  ", c)
		}
	}
}

// notSaid lists what job.yaml leaves open.
func notSaid(j *jobs.Job) []string {
	var missing []string
	add := func(when bool, text string) {
		if when {
			missing = append(missing, text)
		}
	}
	add(j.Room.YearBuilt == 0, "year built, for lead and asbestos")
	add(!j.Room.Altitude.Known(), "altitude of the site")
	var layers, design, air []string
	for _, f := range j.Room.Faces {
		if f.Kind == "door" || f.Kind == "glass" {
			continue
		}
		if len(f.AsPlanned) == 0 {
			layers = append(layers, f.Name)
		}
		if len(f.Design) == 0 {
			design = append(design, f.Name)
		}
		if j.Room.Space(f.OtherSide, "summer") == nil {
			air = append(air, f.Name)
		}
	}
	add(design != nil, "design values of: "+strings.Join(design, ", "))
	add(layers != nil, "layers as planned of: "+strings.Join(layers, ", "))
	add(air != nil, "the air beyond: "+strings.Join(air, ", "))
	add(len(j.Room.Values) == 0, "figures from data sheets, under values")
	return missing
}
