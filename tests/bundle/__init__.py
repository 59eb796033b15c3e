"""The built program: a folder that needs no Python, its archive, and what is in them. ``python -m tests.bundle``."""
