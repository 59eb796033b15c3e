"""The thirteen rules of a plan, read simply: lists are scanned and minutes added, to be checked by eye.

They may use ``day`` and what a plan says, nothing of the engine; only ``plan.checker`` calls them.
"""
