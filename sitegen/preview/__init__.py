"""The desk served on this machine, rebuilt on every save. The only door to livereload.

Imports `build` and `report`; the command line alone imports it.
"""
