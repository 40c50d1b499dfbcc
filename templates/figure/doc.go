// Package figure draws the pictures of the documents: as SVG for paper and
// screen, and as text for a terminal.
//
// Each picture is a plain struct of numbers to place and texts to print. The
// caller has measured, computed, judged and converted; a figure puts a number at
// its place on an axis and prints the text that came with it. It computes no
// physics, compares with no limit and asks for no unit, so a picture can say
// nothing that the document around it does not. What it does by itself is
// drawing: choosing ticks, thinning a long log, keeping labels apart.
//
// Every picture has two methods. SVG returns the bytes of a picture that needs
// nothing else: text is text in the reader's own sans-serif, there is no script,
// no link, no style sheet and no id, so that any number of pictures can stand in
// one page of HTML. Its title and desc elements say in words what it shows. Text
// returns lines of at most the width asked for, without colour. The same values
// give the same bytes.
//
// Colour is never the only sign: lines differ by dashes or by marks, bars by
// filling, verdicts by shape. The colours keep apart for the colour-blind and
// have a contrast of at least 4.5 to 1 on white; grey paper loses nothing.
//
// A sheet is 480 units wide, in type of 11 and 12 units: on paper 5 in wide with
// type of 8 to 9 points, on a phone 340 points wide with type of 8.
//
// Lines and areas are put to scale and clipped by gonum's plot and written by its
// SVG backend. Type is written here, because that backend names a font of its own
// and knows no text-anchor, so that words would run into each other wherever the
// reader's sans-serif has other widths.
//
// A value that is missing is NaN: a line has a gap there. A picture with nothing
// in it returns ErrEmpty, values that cannot be placed another error; Text then
// says that there is no picture, and why.
package figure
