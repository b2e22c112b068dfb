"""What a student types, read: numbers, units, words around them, the order of a ratio."""
