"""What a couple may choose and what it comes to: integers and ratios alone, so that the page can do the same.

Imports `values`, `model` and `price`.
"""
