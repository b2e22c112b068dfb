"""The mark of a term: its rules, its sums, a page a student."""
