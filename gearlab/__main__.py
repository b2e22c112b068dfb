"""`python -m gearlab` is the command `gearlab`."""

from gearlab.cli import main

main()
