package phases

import (
	"proveout/checks"
	"proveout/checks/proof"
)

// CommissioningProof analyses the loggers of the empty room or of the loaded one,
// as checks.Case.CommissioningProof says.
func (g *Gate) CommissioningProof(loaded bool) (*proof.Analysis, *checks.LogsOfPlaces, error) {
	return g.judgeCase(nil, "").CommissioningProof(loaded)
}
