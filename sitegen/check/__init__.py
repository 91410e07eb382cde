"""From placed nodes to the model, or every problem at once.

Imports `values`, `model`, `load` and `pictures`. Each step gives what it could
read *and* the problems; a value that failed to read is absent, and later
steps skip what is absent, so that no consequence is reported as a problem.
"""
