"""Published tables, each with its source: backlash, tolerances, fits, keys and screws, strength."""
