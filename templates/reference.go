package templates

import "strconv"

// references numbers the sources that a document names, in the order in which
// they come up, so that a table can point to them.
type references struct {
	list []reference
}

// reference is where a limit or a value comes from, and how well we know it.
type reference struct{ No, Source, Mark string }

// number returns the number of a source: "S3".
func (r *references) number(source, mark string) string {
	for _, known := range r.list {
		if known.Source == source && known.Mark == mark {
			return known.No
		}
	}
	no := "S" + strconv.Itoa(len(r.list)+1)
	r.list = append(r.list, reference{no, source, mark})
	return no
}
