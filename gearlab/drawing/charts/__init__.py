"""Charts of how numbers depend on each other, for matplotlib; ask for them by module, so that nothing is loaded unasked."""
