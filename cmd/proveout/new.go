package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"github.com/spf13/cobra"

	"proveout/jobs"
)

// newThing is what the command line of proveout new says.
type newThing struct {
	company, example bool
	from             string
	client           jobs.Client
	job              *jobOutline
	firm             *companyOutline
}

func newCommand(e *env) *cobra.Command {
	n := &newThing{job: newJobOutline(), firm: newCompanyOutline()}
	c := &cobra.Command{
		Use:   "new",
		Short: "Start a job, or a company",
		Long: `Starts a job: its folder below jobs/, its history, and the plan of all eleven
phases with the limits of the region and the company.

On a terminal it asks one question after the other; end of input (Ctrl-D) stops
with nothing written. Every question has a flag. When flags say all that must be
said, nothing is asked. Or write the job's description with an editor:
"proveout new --example" prints one with comments, "--from FILE" starts from it.

Faces:   --face "NAME: KIND, OTHER SIDE, AREA, BAYS"
Design:  --design "NAME or KIND: depth 5 in, resistance R-18"
Layers:  --layers "NAME or KIND: MATERIAL, THICKNESS, …; MATERIAL, …"
         from the other side inwards; mark the layers with "insulation" and
         "retarder", the framed one with "15 % framing"
Air:     --space "attic, 120 °F, 20 % RH, summer"
KIND means all walls, ceilings or floors.

The client's name, address and phone go into clients/ of the company and never
into the job, whose history cannot forget.

A company comes first: "proveout new --company" writes its company.yaml here.`,
		Example: `  proveout new
  proveout new --company
  proveout new --example >job.yaml
  proveout new --from job.yaml --by Ana
  proveout new --by Ana --id birch-stair --title "Wine room under the stair" --length "10 ft" --width "8 ft" --height "8 ft 6 in" --bottles 520 --services cavity --insulation foam --retarder film --face "north wall: wall, house, 80 ft², 6 bays" --face "lid: ceiling, attic, 80 ft²"`,
		Args: cobra.NoArgs,
		RunE: func(c *cobra.Command, _ []string) error { return n.run(e, c) },
	}
	f := c.Flags()
	f.BoolVar(&n.company, "company", false, "start a company in this folder instead of a job")
	f.BoolVar(&n.example, "example", false, "print a complete job.yaml with comments, to edit, and write nothing")
	f.StringVar(&n.from, "from", "", "start from this job.yaml; - reads it from standard input")
	f.StringVar(&n.client.Name, "client-name", "", "who the room belongs to; kept beside the job, not in it")
	f.StringVar(&n.client.Address, "client-address", "", "where the room is; kept beside the job")
	f.StringVar(&n.client.Phone, "client-phone", "", "kept beside the job")
	addBy(c)
	n.job.addFlags(c)
	n.firm.addFlags(c)
	return c
}

func (n *newThing) run(e *env, c *cobra.Command) error {
	if n.company {
		return n.firm.create(e, c)
	}
	company, err := jobs.FindCompany(e.dir)
	if n.example {
		return n.printExample(e, company, err)
	}
	if errors.Is(err, jobs.ErrNotFound) {
		return fmt.Errorf("%w\na job belongs to a company; start that first, in this folder: proveout new --company", err)
	}
	if err != nil {
		return err
	}
	if n.from != "" {
		return n.fromFile(e, c, company)
	}
	return n.fromWords(e, c, company)
}

func (n *newThing) printExample(e *env, company *jobs.Company, err error) error {
	if err != nil && !errors.Is(err, jobs.ErrNotFound) {
		return err
	}
	o := jobs.NewOutline(company)
	o.Started = e.now().Format("2006-01-02")
	_, err = e.out.Write(o.Example().YAML())
	return err
}

// fromFile starts the job that a file describes.
func (n *newThing) fromFile(e *env, c *cobra.Command, company *jobs.Company) error {
	if said := n.job.said(c); said != nil {
		return &usageError{fmt.Sprintf("--from takes the description from a file, and %s would change it\nwrite it into the file, or leave --from out", strings.Join(said, ", "))}
	}
	name, data, err := n.read(e)
	if err != nil {
		return err
	}
	if _, err := jobs.ReadDescription(name, data); err != nil {
		return &usageError{err.Error() + "\ncorrect it and type the same again; a right one to look at: proveout new --example"}
	}
	entry, err := e.by(c, company)
	if err != nil {
		return err
	}
	return n.start(e, c, company, entry, data)
}

// maxDescription bounds a description that is read.
const maxDescription = 1 << 20

func (n *newThing) read(e *env) (name string, data []byte, err error) {
	if n.from == "-" {
		data, err := io.ReadAll(io.LimitReader(e.in, maxDescription+1))
		return "standard input", data, err
	}
	f, err := os.Open(e.path(n.from))
	if err != nil {
		return "", nil, fmt.Errorf("%w: cannot read %s: %v\nprint one to begin with: proveout new --example >job.yaml", jobs.ErrNotFound, n.from, errors.Unwrap(err))
	}
	defer f.Close()
	data, err = io.ReadAll(io.LimitReader(f, maxDescription+1))
	return n.from, data, err
}

// fromWords starts a job from flags and answers.
func (n *newThing) fromWords(e *env, c *cobra.Command, company *jobs.Company) error {
	n.job.begin(company, e.now())
	missing, err := n.job.check()
	if err != nil {
		return err
	}
	asking := missing != nil && e.terminal
	if missing != nil && !asking {
		return &usageError{fmt.Sprintf("these are missing: %s\nadd them, or describe the job in a file: proveout new --example >job.yaml; proveout new --from job.yaml", strings.Join(missing, ", "))}
	}
	entry, err := e.by(c, company)
	if err != nil {
		return err
	}
	if err := n.job.complete(e, asking); err != nil {
		return err
	}
	if asking {
		if err := n.askClient(e); err != nil {
			return err
		}
	}
	return n.start(e, c, company, entry, n.job.YAML())
}

func (n *newThing) askClient(e *env) error {
	e.sayf("\nThe client. This stays in clients/ of the company, not in the job.\n")
	return e.fill([]*field{
		{ask: "Client's name", to: &n.client.Name},
		{ask: "Address of the room", to: &n.client.Address},
		{ask: "Client's phone", to: &n.client.Phone},
	}, true)
}

// start makes the job and prints what was made.
func (n *newThing) start(e *env, c *cobra.Command, company *jobs.Company, entry jobs.Entry, text []byte) error {
	if n.client != (jobs.Client{}) && n.client.Name == "" {
		return &usageError{"a client's address or phone needs the name: --client-name NAME"}
	}
	j, err := jobs.Create(c.Context(), company, e.process(), entry, text)
	if err != nil {
		return err
	}
	defer j.Close()
	if n.client.Name != "" {
		if err := company.SaveClient(j.ID, n.client); err != nil {
			return fmt.Errorf("the job is started, but its client is not saved: %w", err)
		}
	}
	if wantsJSON(c) {
		return e.printJSON(map[string]any{"job": j.ID, "folder": j.Dir, "faces": j.Room.FaceNames(), "not_said": notSaid(j)})
	}
	printStarted(e, j, n.client.Name != "", entry)
	return nil
}
