package main

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"proveout/jobs"
	"proveout/phases"
)

// signing is a release that somebody is about to give.
type signing struct {
	job     *jobs.Job
	gate    *phases.Gate
	hold    *phases.Hold
	faces   []string
	role    string // "" takes the role that is still wanted
	person  jobs.Person
	company *jobs.Company
}

func signoffCommand(e *env) *cobra.Command {
	var faces []string
	var role string
	var show bool
	c := &cobra.Command{
		Use:   "signoff PHASE[.HOLD]",
		Short: "Release a hold point: see what you sign, then sign it",
		Long: `Shows what is about to be signed: the statement, every check with its worst
value against the limit, concessions, photos, instruments, who signed before.
Then it asks for your full name; a name that is not yours signs nothing. With
--by "FULL NAME" it signs without asking.

A hold stays shut while a check fails or is open, a hold before it is not
released, a wait runs, a nonconformity is open, or the person does not have the
role. Safety checks cannot be conceded.

Two files are written below signoffs/: the statement, and a list of the SHA-256
of every file it rests on, which "sha256sum -c" reads. The fingerprint of the
list belongs on the paper sheet. A detached signature of your own,
NAME.sha256.sig or NAME.sha256.asc beside the list, is left alone and named by
"proveout verify".`,
		Example: `  proveout signoff insulation.before-board --show
  proveout signoff insulation.before-board
  proveout signoff insulation.before-board --face "north wall" --by "Ana Ruiz"
  proveout signoff commissioning.handover --as owner --by "Ben Okafor"`,
		Args: cobra.MaximumNArgs(1),
		RunE: func(c *cobra.Command, args []string) error {
			s, err := newSigning(e, c, args, faces, role)
			if err != nil {
				return err
			}
			defer s.job.Close()
			if show {
				return s.show(e, c)
			}
			return s.sign(e, c)
		},
	}
	c.Flags().StringArrayVar(&faces, "face", nil, "only this face, where a hold is released face by face; may be given again")
	c.Flags().StringVar(&role, "as", "", "the role to sign in, for a person with several")
	c.Flags().BoolVar(&show, "show", false, "show what would be signed, and sign nothing")
	addBy(c)
	return c
}

func newSigning(e *env, c *cobra.Command, args, faces []string, role string) (*signing, error) {
	j, err := e.job(c)
	if err != nil {
		return nil, err
	}
	s := &signing{job: j, gate: j.Gate(e.now()), faces: faces, role: role}
	if len(args) == 0 {
		return nil, closing(j, &usageError{"say which hold: proveout signoff PHASE.HOLD\n" + readyHolds(s.gate)})
	}
	if s.hold, err = j.Hold(s.gate, args[0]); err != nil {
		return nil, closing(j, err)
	}
	return s, nil
}

// closing closes the job on the way out with an error.
func closing(j *jobs.Job, err error) error {
	j.Close()
	return err
}

// readyHolds says which holds could be signed now, and by whom.
func readyHolds(g *phases.Gate) string {
	text := ""
	for _, s := range g.States() {
		if s.State == phases.Ready {
			text += fmt.Sprintf("ready: %s, by %s\n", s.Hold.ID(), strings.Join(s.WantRoles, ", "))
		}
	}
	if text == "" {
		return "none is ready; see: proveout status"
	}
	return strings.TrimSuffix(text, "\n")
}

// show prints the draft, and why it may not be signed, if so.
func (s *signing) show(e *env, c *cobra.Command) error {
	by, err := c.Flags().GetString("by")
	if err != nil {
		return err
	}
	s.person.Name = "[name]"
	may := s.job.MayRelease(s.gate, s.hold, s.faces)
	if by != "" {
		if s.company, err = jobs.FindCompany(s.job.Dir); err != nil {
			return err
		}
		if s.person, err = s.company.Person(by); err != nil {
			return err
		}
		_, may = s.job.MaySign(s.gate, s.hold, s.faces, s.person, s.role)
	}
	d, err := s.draft()
	if err != nil {
		return err
	}
	if wantsJSON(c) {
		return firstError(may, e.printJSON(d))
	}
	d.print(e)
	return may
}

func firstError(errs ...error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

// sign asks for the name where it may, and signs.
func (s *signing) sign(e *env, c *cobra.Command) error {
	company, err := jobs.FindCompany(s.job.Dir)
	if err != nil {
		return fmt.Errorf("%w\na copy of a job alone can be read and verified; signing needs the company's people", err)
	}
	s.company = company
	full, err := s.named(e, c)
	if err != nil {
		return err
	}
	if s.role, err = s.job.MaySign(s.gate, s.hold, s.faces, s.person, s.role); err != nil {
		return err
	}
	d, err := s.draft()
	if err != nil {
		return err
	}
	if !wantsJSON(c) {
		d.print(e)
	}
	if e.terminal && !full {
		if err := s.typedName(e); err != nil {
			return err
		}
	}
	return s.write(e, c, d)
}

// named finds who signs; full says that --by gave the whole name, which is the
// signature then.
func (s *signing) named(e *env, c *cobra.Command) (full bool, err error) {
	entry, err := e.by(c, s.company)
	if err != nil {
		return false, err
	}
	s.person = entry.By
	by, err := c.Flags().GetString("by")
	return strings.EqualFold(by, s.person.Name), err
}

// typedName asks for the signature: the full name of the person who signs.
func (s *signing) typedName(e *env) error {
	typed, err := e.ask("\nType your full name to release it, or nothing to stop")
	if err != nil {
		return err
	}
	if !strings.EqualFold(strings.Join(strings.Fields(typed), " "), s.person.Name) {
		return &jobs.Problem{
			Kind: jobs.ErrInput, What: fmt.Sprintf("nothing was signed: %q is not the full name of the person who signs, %s", typed, s.person.Name),
			Next: "type it again: proveout signoff " + s.hold.ID(),
		}
	}
	return nil
}

func (s *signing) write(e *env, c *cobra.Command, d *draft) error {
	before := s.gate
	entry := e.entryOf(s.person)
	signed, err := s.job.Sign(c.Context(), entry, s.hold.ID(), s.faces, s.role, d.signoff)
	if err != nil {
		return err
	}
	after := s.job.Gate(e.now())
	r := signedReport{
		Signoff: signed.Path(), List: signed.ListPath(), Files: len(signed.List), Fingerprint: signed.ShortFingerprint(),
		ToSign: s.wanted(after), FacesShut: facesShut(after.State(s.hold)), Opened: opened(before, after),
	}
	if wantsJSON(c) {
		return e.printJSON(r)
	}
	r.print(e, signed)
	return nil
}

// wanted are the roles that have not signed what was asked about.
func (s *signing) wanted(g *phases.Gate) []string {
	if s.faces == nil {
		return g.State(s.hold).WantRoles
	}
	var roles []string
	for _, face := range s.faces {
		roles = append(roles, g.FaceState(s.hold, face).WantRoles...)
	}
	slices.Sort(roles)
	return slices.Compact(roles)
}

// facesShut are the faces of a hold that are not released yet.
func facesShut(s *phases.HoldState) []string {
	return slices.DeleteFunc(slices.Clone(s.Faces), func(face string) bool { return slices.Contains(s.FacesDone, face) })
}
