"""The result as plain data and tables, and the independent checker of every rule."""
