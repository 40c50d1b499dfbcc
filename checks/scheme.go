package checks

import "proveout/checks/units"

// Scheme is a published way to choose mold methods by area. Its tiers choose
// the method; they are not limits of health.
type Scheme struct {
	Name, Title  string
	LargestPatch bool // counts the largest patch, not the total
	Tiers        []Tier
	Source, Mark string
}

// Tier is one step of a Scheme, from small to large.
type Tier struct {
	Name  string
	Below units.Quantity // area; unknown for the last, open tier
	UpTo  units.Quantity // area, the bound included; used instead of Below
	Needs string         // what the scheme asks for, in plain words
}
