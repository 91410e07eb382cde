"""From priced pieces to what is needed, bought and pulled.

Imports `values`, `model`, `price` and `choices`. Amounts of stems and money are exact throughout.
"""
