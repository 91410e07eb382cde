"""What was sent, answered and agreed: an event's journal, and the priced snapshot of each revision.

Imports `values`, `model`, `pictures` (for what a photo's head says), `price`, `choices` and `order`.
"""
