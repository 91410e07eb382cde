"""Deals a varied set: the same stems in all, shared out so that no two of the pieces are the same.

Knows stems as totals and costs, and no piece, price or event. Imports `values` alone.
"""
