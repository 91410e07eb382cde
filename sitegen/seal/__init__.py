"""Sealing: the formats, keys and links of what is published; nothing here knows a page or a host.

Bytes (`envelope`, `cover`), primitives (`lock`) and links (`link`) stand apart, and the scripts in
`browser/` do the same again: both are held to the same vectors.
"""
