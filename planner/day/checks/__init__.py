"""What a day says that cannot be so, though each value in it is of the right kind: one module for each sort of slip.

Reads a typed day and yields faults. Only ``day.reading`` calls it, through ``all_checks``; it reads no file itself.
"""
