package jobs

import (
	"fmt"
	"maps"
	"time"

	"proveout/checks/logs"
	"proveout/phases"
)

// memory keeps what was understood of files between two readings of the same
// job by one process: an operation reads the whole folder again under the
// lock, and nearly all of it is what it was. Each entry belongs to the bytes it
// was read from, named by their SHA-256.
type memory struct {
	records map[string]*Record // by path and sum
	plan    *phases.Plan
	sums    map[string]string // of the plan's files
	logs    map[string]*logs.File
}

func newMemory() *memory {
	return &memory{records: map[string]*Record{}, logs: map[string]*logs.File{}}
}

// record returns the record read from these bytes at this path before, or nil.
func (m *memory) record(path, sum string) *Record {
	if m == nil {
		return nil
	}
	return m.records[path+" "+sum]
}

func (m *memory) keep(r *Record) {
	if m != nil {
		m.records[r.path+" "+r.sum] = r
	}
}

// samePlan returns the plan read from files with these sums before, or nil.
func (m *memory) samePlan(sums map[string]string) *phases.Plan {
	if m != nil && m.plan != nil && maps.Equal(m.sums, sums) {
		return m.plan
	}
	return nil
}

func (m *memory) keepPlan(p *phases.Plan, sums map[string]string) {
	if m != nil {
		m.plan, m.sums = p, maps.Clone(sums)
	}
}

// log reads a logger file, once for each content.
func (j *Job) log(e Evidence) (*logs.File, error) {
	if j.memory == nil {
		j.memory = newMemory()
	}
	if f := j.memory.logs[e.SHA256]; f != nil {
		return f, nil
	}
	data, err := j.repo.Read(e.Path, maxEvidence)
	if err != nil {
		return nil, err
	}
	if sum(data) != e.SHA256 {
		return nil, fmt.Errorf("%s is not the file that was recorded", e.Path)
	}
	f, err := logs.Read(data, logs.Dialect{Zone: j.zone()})
	if err == nil {
		j.memory.logs[e.SHA256] = f
	}
	return f, err
}

func (j *Job) zone() *time.Location {
	if j.Zone == nil {
		return time.UTC
	}
	return j.Zone
}
