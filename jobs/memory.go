package jobs

import (
	"fmt"
	"maps"
	"time"

	"proveout/checks/logs"
	"proveout/phases"
	"proveout/phases/strict"
)

// memory keeps what was understood of files between two readings of the same
// job by one process: an operation reads the whole folder again under the
// lock, and nearly all of it is what it was. Each entry belongs to the bytes it
// was read from, named by their SHA-256.
type memory struct {
	records map[string]*Record // by path and sum
	plan    *phases.Plan
	sums    map[string]string     // of the plan's files
	logs    map[string]*logs.File // by the file's sum and how it is read
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

// log reads a logger file as its record says, once for each content. A record
// that says nothing has a file that was read with the job's time zone.
func (j *Job) log(e Evidence) (*logs.File, error) {
	if j.memory == nil {
		j.memory = newMemory()
	}
	d, key := logs.Dialect{Zone: j.zone()}, e.SHA256
	var recorded *LogReading
	if e.Logger != nil && e.Logger.Reading != nil {
		recorded = e.Logger.Reading
		d, key = recorded.Dialect, key+string(strict.Encode(recorded.fields()))
	}
	if f := j.memory.logs[key]; f != nil {
		return f, nil
	}
	data, err := j.repo.Read(e.Path, maxEvidence)
	if err != nil {
		return nil, err
	}
	if sum(data) != e.SHA256 {
		return nil, fmt.Errorf("%s is not the file that was recorded", e.Path)
	}
	f, err := logs.Read(data, d)
	if err == nil && recorded != nil {
		err = recorded.agrees(f)
	}
	if err != nil {
		return nil, err
	}
	j.memory.logs[key] = f
	return f, nil
}

func (j *Job) zone() *time.Location {
	if j.Zone == nil {
		return time.UTC
	}
	return j.Zone
}
