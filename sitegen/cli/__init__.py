"""The command line. The only place with prints, exit codes, the clock and late imports.

Heavy libraries are imported by the command that needs them, so that `--help`
answers at once.
"""
