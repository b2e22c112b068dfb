"""Ways to go wrong, as edits of the whole way to an answer."""
