"""Integer programs, solved exactly. Knows no stems, no money and no event.

`program` says what is asked, in whole numbers and fractions; `solve` answers and proves; `engine` is
the only door to the solver library and the only place with floats. Imports `values` alone.
"""
