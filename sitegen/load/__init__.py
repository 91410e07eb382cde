"""From a content folder to placed nodes. The only door to YAML; no meaning yet.

Imports `values`. Reads files, never writes one, and opens nothing but regular files.
"""
