"""Event folders in, a couple's proposal and the florist's order out."""

__version__ = "0.1.0"
