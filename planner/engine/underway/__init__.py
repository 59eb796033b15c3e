"""A day under way: what is over stands fixed, what runs goes on, and the rest is planned anew.

It may use all of ``engine``; nothing else in ``engine`` may use it but the package's face.
"""
