"""What a couple send back: the code in their message, the mail around it, and what it changes.

Imports `values`, `choices`, `records`, `render` and `seal`.
"""
