"""From a recipe to what one piece costs and is sold for; exact until the rounding that the rules name.

Imports `values` and `model`.
"""
