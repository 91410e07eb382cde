"""What the content means: frozen types, read by pydantic, each field one line of the formats.

Imports `values` alone. A shape knows nothing of files; places are looked up by path in the nodes.
"""
