"""What is printed: the run sheet, the customers' slips, their load lists, cautions and waits, as PDF and HTML.

Plain data first, then a renderer for each form. It may use ``sheet.chart``; the picture never asks the papers.
"""
