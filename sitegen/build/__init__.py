"""From a content folder to what is written: the stages as one straight line.

Imports everything above it; `preview` and `cli` alone import it.
"""
