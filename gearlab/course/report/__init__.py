"""What a class adds up to: counts, bad questions, pairs, the report."""
