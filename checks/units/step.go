package units

// Step is one line of a calculation as a document prints it: the quantity, how
// it follows from the lines before, its value with its unit, and where the
// formula or the number comes from.
type Step struct {
	Name    string `json:"name"`
	Formula string `json:"formula,omitempty"`
	Value   string `json:"value"`
	Source  string `json:"source,omitempty"`
}
