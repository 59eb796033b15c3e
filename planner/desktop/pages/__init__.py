"""What is read beside and above the picture: the strip, the rail, and one page for each subject.

It may use every folder of ``desktop``; only the window and its menus use it.
"""
