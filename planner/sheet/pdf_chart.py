"""The chart drawn into a PDF."""
from planner.sheet.chart.shapes import Chart
from reportlab.platypus import Flowable
class ChartFlowable(Flowable):
    def __init__(self, chart: Chart, width: float) -> None:
        pass
