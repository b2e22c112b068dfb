"""Marking a class: blocks of students in any process, their pages and evidence, and what changed."""
