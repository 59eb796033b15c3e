"""Changes and saves a day over and over until it is killed; says each step once it is kept safe."""

import sys
from itertools import count
from pathlib import Path

from PySide6.QtWidgets import QApplication

from planner.desktop.model.filing import open_file, save_file
from planner.desktop.model.safety_copy import SafetyCopy

if __name__ == "__main__":
    application = QApplication([])
    path = Path(sys.argv[1])
    filed = open_file(path)
    safety = SafetyCopy(filed.open_day)
    for step in count(1):
        filed.open_day.set("Change title", ("title",), f"step {step}")
        safety.write()
        sys.stdout.write(f"{step}\n")
        sys.stdout.flush()
        save_file(filed, path)
