"""A sketch of a recipe: every stem of it placed as the piece is built, then painted in watercolour and line.

`brief` says what is to be drawn, `arrange` where each stem goes, in inches; `paint` makes pixels of both.
"""
