package main

import "github.com/spf13/cobra"

// commands are the commands in the order of a job.
func commands(e *env) []*cobra.Command {
	return []*cobra.Command{
		demoCommand(e),
		newCommand(e),
		statusCommand(e),
		recordCommand(e),
		attachCommand(e),
		correctCommand(e),
		penetrationCommand(e),
		checkCommand(e),
		diagnoseCommand(e),
		logCommand(e),
		signoffCommand(e),
		withdrawCommand(e),
		adoptCommand(e),
		nonconformityCommand(e),
		documentCommand(e),
		verifyCommand(e),
		calcCommand(e),
	}
}
