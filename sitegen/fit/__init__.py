"""What of a proposal is kept at or under a budget: the most of what matters, found exactly.

Works on the table of prices alone. Imports `values`, `choices` and `solve`.
"""
