"""The arithmetic of the trade as pure functions with units, and the library of kit, methods and recipes.

It uses nothing else of ours but ``resources``; everybody may use it. ``recipes`` lays a recipe out on raw tables.
"""
