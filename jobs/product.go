package jobs

import (
	"slices"
	"strings"

	"proveout/checks/envelope"
	"proveout/checks/units"
	"proveout/phases/strict"
)

// Product is a material of the company's own, as its data sheet gives it. It
// beats the generic library, and is copied into each job that starts.
type Product struct {
	Name      string
	Also      []string // other names that job files use for it
	DataSheet string

	Thickness, Conductivity, Resistance string
	// One of these for vapor; Permeance and Equivalent (s_d) belong to Thickness.
	Permeance, Equivalent, Factor string
	Density                       string

	material envelope.Material
}

// readProducts reads the products below a key. All that is wrong is reported on
// the document.
func readProducts(m *strict.Map) []Product {
	var all []Product
	for _, p := range m.OptionalMaps("products") {
		one := readProduct(p)
		if slices.ContainsFunc(all, func(o Product) bool { return strings.EqualFold(o.Name, one.Name) }) {
			p.Fail("product", "product %q stands twice", one.Name)
		}
		all = append(all, one)
	}
	return all
}

func readProduct(m *strict.Map) Product {
	p := Product{
		Name: m.Text("product"), Also: m.OptionalTexts("also called"), DataSheet: m.Text("data sheet"),
		Thickness: m.OptionalText("thickness"), Conductivity: m.OptionalText("conductivity"), Resistance: m.OptionalText("resistance"),
		Permeance: m.OptionalText("permeance"), Equivalent: m.OptionalText("equivalent air layer"), Factor: m.OptionalText("vapor factor"),
		Density: m.OptionalText("density"),
	}
	sheet := envelope.Reference{Text: p.DataSheet, Mark: envelope.DataSheet}
	p.material = envelope.Material{Name: p.Name, Aliases: p.Also, Thermal: sheet, VaporSource: sheet, Product: true}
	p.material.Thickness = figure(m, "thickness", units.LengthKind, units.Quantity.Length)
	p.material.Conductivity = figure(m, "conductivity", units.ConductivityKind, units.Quantity.Conductivity)
	p.material.Resistance = figure(m, "resistance", units.ThermalResistanceKind, units.Quantity.ThermalResistance)
	p.material.Storage.Density = figure(m, "density", units.DensityKind, units.Quantity.Base)
	p.material.Vapor = readVapor(m)
	if p.Name != "" && p.DataSheet != "" {
		if _, err := envelope.NewLibrary(p.material); err != nil {
			m.Fail("product", "%v", err)
		}
	}
	return p
}

// figure reads a quantity that may be missing as a typed value, zero without it.
func figure[T any](m *strict.Map, key string, kind units.Kind, value func(units.Quantity) T) T {
	q := quantity(m, key, kind)
	if !q.Known() {
		var none T
		return none
	}
	return value(q)
}

// readVapor reads what a product does to vapor, which may be unknown.
func readVapor(m *strict.Map) envelope.Vapor {
	var given []string
	for _, key := range []string{"permeance", "equivalent air layer", "vapor factor"} {
		if m.Has(key) {
			given = append(given, key)
		}
	}
	if len(given) > 1 {
		m.Fail(given[1], "%s and %s both say what the product does to vapor; give the one on the data sheet", given[0], given[1])
	}
	switch {
	case m.Has("permeance"):
		return figure(m, "permeance", units.PermeanceKind, func(q units.Quantity) envelope.Vapor { return envelope.OfPermeance(q.Permeance()) })
	case m.Has("equivalent air layer"):
		return figure(m, "equivalent air layer", units.LengthKind, func(q units.Quantity) envelope.Vapor { return envelope.SD(q.Length()) })
	}
	if mu := number(m, "vapor factor", 1e7); mu > 0 {
		return envelope.Mu(mu)
	}
	return envelope.Vapor{}
}

// library is the generic library with products before it; nil without any.
func library(m *strict.Map, products []Product) *envelope.Library {
	if len(products) == 0 {
		return nil
	}
	var materials []envelope.Material
	for _, p := range products {
		materials = append(materials, p.material)
	}
	lib, err := envelope.NewLibrary(materials...)
	if err != nil {
		m.Fail("products", "%v", err)
		return nil
	}
	return lib
}

// Materials are the generic library with the company's own products before it.
func (c *Company) Materials() (*envelope.Library, error) {
	var own []envelope.Material
	for _, p := range c.Products {
		own = append(own, p.material)
	}
	return envelope.NewLibrary(own...)
}

// fields are the product's lines for a job file.
func (p Product) fields() fields {
	var f fields
	f.text("product", p.Name)
	f.list("also called", p.Also)
	f.text("thickness", p.Thickness)
	f.text("conductivity", p.Conductivity)
	f.text("resistance", p.Resistance)
	f.text("permeance", p.Permeance)
	f.text("equivalent air layer", p.Equivalent)
	f.text("vapor factor", p.Factor)
	f.text("density", p.Density)
	f.text("data sheet", p.DataSheet)
	return f
}
