"""Bench sheets of a design: drawings, files to cut, a list of parts."""
