package main

import (
	"bufio"
	"fmt"
	"io"
	"strings"
)

// ask puts a question on the terminal and returns the answer. The end of input
// aborts; nothing is written then.
func (e *env) ask(question string) (string, error) {
	fmt.Fprintf(e.err, "%s: ", question)
	line, err := e.lines().ReadString('\n')
	if err != nil && (err != io.EOF || line == "") {
		fmt.Fprintln(e.err)
		return "", errAborted
	}
	return strings.TrimSpace(line), nil
}

// askOr is ask with an answer for an empty line.
func (e *env) askOr(question, otherwise string) (string, error) {
	answer, err := e.ask(fmt.Sprintf("%s [%s]", question, otherwise))
	if answer == "" {
		answer = otherwise
	}
	return answer, err
}

// lines reads the input by lines, one reader for all questions.
func (e *env) lines() *bufio.Reader {
	if r, ok := e.in.(*bufio.Reader); ok {
		return r
	}
	r := bufio.NewReader(e.in)
	e.in = r
	return r
}
