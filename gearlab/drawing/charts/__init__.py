"""Charts of how numbers depend on each other, for matplotlib.

Ask for them by module, so that nothing is loaded unasked.
"""
