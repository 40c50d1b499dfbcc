// Package templates writes the documents of a job as Markdown and shows them in
// a terminal.
//
// Each document has one template, name.md.tmpl, and one exported function. The
// function prepares a view, a struct of texts, lists and yes-or-no values; the
// template chooses among them and puts them in order. It computes and compares
// nothing. A document comes from one commit of a job and the letterhead that is
// joined to it, so the same commit gives the same bytes; there is no clock here.
//
// Every text that a template prints passes Escape, because the parser adds it to
// each action: what a person typed can forge no table row, heading, link or
// line. Tables are written with one space round each cell and are set in columns
// afterwards.
//
// A figure is a value of a view, too. To add one: give the view a field of type
// Figure, fill it with newFigure(name, caption, picture), where the picture is one
// of package figure, and print it in the template as a paragraph of its own:
// {{.PullDown}}. Nothing else is needed. Markdown links to the figure's file beside
// the document, a page holds its SVG, and a terminal shows its text. A figure with
// nothing in it prints nothing.
//
// Document.HTML sets a document as a page by package page, which tells its parts
// apart by their shape: a new table, list or heading needs nothing there.
//
// Render draws a document for a terminal: prose by glamour, tables by this
// package, which never breaks a number from its unit.
package templates
