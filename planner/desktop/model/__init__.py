"""A day open in the window, without any widget: its text and edits, its file and copies, wishes, marks, differences.

Everything in ``desktop`` may use it; it uses no widget and nothing of the other folders.
"""
