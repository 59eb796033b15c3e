"""Forms in which a day is set without touching a file: every field with its unit, its check and a plain message.

They may use ``model`` and ``thinking``; only ``pages``, the window and its menus use them.
"""
