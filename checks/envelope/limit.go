package envelope

// LimitRule names the rule a limit of condensate comes from.
type LimitRule string

// The rules of DIN 4108-3 for condensate in a plane; the first read in guidance
// of a German energy agency, the others from memory.
const (
	GeneralRule   LimitRule = "DIN 4108-3: at most 1.0 kg/m²"
	NoUptakeRule  LimitRule = "DIN 4108-3: at most 0.5 kg/m² where neither layer absorbs (from memory)"
	SolidWoodRule LimitRule = "DIN 4108-3: solid wood may take up 5 % of its mass (from memory)"
	WoodPanelRule LimitRule = "DIN 4108-3: a wood-based panel may take up 3 % of its mass (from memory)"
	NoDensityRule LimitRule = "DIN 4108-3: wood beside the plane, but its density is unknown; give it from the data sheet"
)

const (
	generalLimit  SurfaceMass = 1.0 // kg/m²
	noUptakeLimit SurfaceMass = 0.5 // kg/m²
)

// CondensateLimit returns the most condensate a plane may hold by the layers on
// its two sides, the least of the rules that apply. Beside wood of unknown
// density it is 0 by NoDensityRule, and a year is undecided.
func (a Assembly) CondensateLimit(p Place) (SurfaceMass, LimitRule) {
	sides := [2]int{p.Layer, p.Layer}
	if p.Part == p.Parts && p.Layer+1 < len(a.Layers) {
		sides[1]++
	}
	limit, rule := noUptakeLimit, NoUptakeRule
	for _, i := range sides {
		if a.Layers[i].Storage.Kind != TakesNone {
			limit, rule = generalLimit, GeneralRule
		}
	}
	for _, i := range sides {
		if l, r, wood := a.Layers[i].woodLimit(); wood && l < limit {
			limit, rule = l, r
		}
	}
	return limit, rule
}

func (l Layer) woodLimit() (SurfaceMass, LimitRule, bool) {
	share, rule := 0.0, GeneralRule
	switch l.Storage.Kind {
	case SolidWood:
		share, rule = 0.05, SolidWoodRule
	case WoodPanel:
		share, rule = 0.03, WoodPanelRule
	default:
		return 0, "", false
	}
	if !(l.Storage.Density > 0 && l.Storage.Density <= 3000) {
		return 0, NoDensityRule, true
	}
	return SurfaceMass(share * l.Storage.Density * float64(l.Thickness)), rule, true
}
