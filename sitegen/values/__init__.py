"""What everything is made of: numbers, money, lengths, days, places in a file, problems.

Standard library only; imports nothing else of the package.
"""
