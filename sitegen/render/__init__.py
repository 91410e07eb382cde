"""From priced events to pages: views that hold finished text, and the templates that lay them out.

Imports everything above it in the order of stages, up to `order`; writes nothing.
"""
