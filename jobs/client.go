package jobs

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"

	"proveout/jobs/store"
	"proveout/phases/strict"
)

// Client is who the room belongs to. It is kept beside the jobs, never in a
// job's history, and joined when a document is printed.
type Client struct {
	Name, Address, Phone string
}

func (c *Company) clientFile(id string) string { return filepath.Join(c.Dir, "clients", id+".yaml") }

// Client reads the client of a job; there may be none yet.
func (c *Company) Client(id string) (Client, error) {
	file := c.clientFile(id)
	data, err := os.ReadFile(file)
	if errors.Is(err, fs.ErrNotExist) {
		return Client{}, nil
	}
	if err != nil {
		return Client{}, err
	}
	doc, err := strict.Read(file, data, strict.Options{MaxBytes: strict.RecordLimit})
	if err != nil {
		return Client{}, err
	}
	m := doc.Map()
	client := Client{Name: m.Text("name"), Address: m.OptionalText("address"), Phone: m.OptionalText("phone")}
	return client, doc.Err()
}

// SaveClient writes the client of a job.
func (c *Company) SaveClient(id string, client Client) error {
	var f fields
	f.text("name", client.Name)
	f.text("address", client.Address)
	f.text("phone", client.Phone)
	return store.WriteFile(c.Dir, "clients/"+id+".yaml", strict.Encode(f))
}
