// Package jobs holds the contractor's company and its jobs: who works there,
// which instruments they use, and for each job the plan, the records, the
// sign-offs and their history.
//
// A job is a folder of plain files with a git history of its own. A fact is
// one file under records/ that is never changed; a correction is another fact
// that supersedes it. Nothing that can be computed is stored: where a hold
// stands comes from plan, records and sign-offs each time. A sign-off names,
// by SHA-256, every file it rests on.
//
// All writing goes through package store, one operation and one commit at a
// time. Time, identity and randomness are passed in.
package jobs
