package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"proveout/checks/envelope"
	"proveout/checks/units"
	"proveout/jobs"
)

var materialsQuestion = &question{
	use:   "materials",
	short: "The materials that layers may be made of, with sources",
	long: `Lists the library: conductivity or resistance, permeance of the usual or a given
thickness, and where each figure comes from. In a company's folder its own products
stand first: company.yaml, products. A product beats the library.`,
	example: `  proveout calc materials
  proveout calc materials --named foam
  proveout calc materials --named gypsum --explain`,
	flags:  func(c *cobra.Command) { c.Flags().String("named", "", "only those with this in their name") },
	answer: materialsAnswer,
}

func materialsAnswer(a *asking) (*answer, error) {
	named, err := a.c.Flags().GetString("named")
	if err != nil {
		return nil, err
	}
	lib, err := a.library()
	if err != nil {
		return nil, err
	}
	r := &answer{}
	for _, m := range lib.Materials() {
		names := strings.ToLower(strings.Join(append(m.Aliases, m.Name), "\n"))
		if !strings.Contains(names, strings.ToLower(named)) {
			continue
		}
		r.addText(m.Name, a.material(m))
		source := m.Thermal.String()
		if m.VaporSource.Text != "" && m.VaporSource != m.Thermal {
			source += "; vapor: " + m.VaporSource.String()
		}
		r.Steps = append(r.Steps, stepOf(m.Name, strings.Join(m.Aliases, ", "), a.material(m), source))
	}
	if len(r.Results) == 0 {
		return nil, &usageError{fmt.Sprintf("no material has %q in its name; list all with: %s", named, a.c.CommandPath())}
	}
	r.note("--explain prints the sources, and the other names that each answers to.")
	return r, nil
}

// library is the generic one, with the products of the company whose folder this is.
func (a *asking) library() (*envelope.Library, error) {
	company, err := jobs.FindCompany(a.env.dir)
	if err != nil {
		return envelope.NewLibrary()
	}
	return company.Materials()
}

// material is what the library knows of one.
func (a *asking) material(m envelope.Material) string {
	var parts []string
	switch {
	case m.Conductivity > 0:
		parts = append(parts, a.of(units.ConductivityKind, float64(m.Conductivity)).String())
	case m.Resistance > 0:
		parts = append(parts, a.of(units.ThermalResistanceKind, float64(m.Resistance)).String())
	}
	if m.Thickness > 0 {
		parts = append(parts, "usually "+a.of(units.LengthKind, float64(m.Thickness)).String())
	}
	thickness := m.Thickness
	if thickness == 0 {
		thickness = 0.1
	}
	if sd, err := m.Vapor.SD(thickness, 50); err == nil && sd > 0 {
		text := a.of(units.PermeanceKind, float64(envelope.PermeanceFromSD(sd))).String()
		if m.Thickness == 0 && m.Conductivity > 0 {
			text += " at " + a.of(units.LengthKind, float64(thickness)).String()
		}
		parts = append(parts, text)
	}
	return strings.Join(parts, ", ")
}
