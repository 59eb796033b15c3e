"""Asks a public list whether what the project depends on has known faults; says aloud what it could not ask.

Run by ``.ci/run`` in the virtual environment that the tests made. Exits with 1 when a fault is known, and with 2 when
it could not look at all, or not at everything: what was not looked at has not passed.
"""

import json
import subprocess
import sys
import tempfile
from pathlib import Path

NOT_AUDITED = "NOT CHECKED: the dependencies were not audited"

PASSED, FAULTY, NOT_CHECKED = 0, 1, 2


def main() -> int:
    """Install pip-audit, run it over this environment, and tell what it found."""
    pip = [sys.executable, "-m", "pip", "install", "--quiet", "--disable-pip-version-check", "pip-audit>=2.7,<3"]
    if subprocess.run(pip, check=False).returncode:
        print(f"{NOT_AUDITED}: pip-audit cannot be installed here.")
        return NOT_CHECKED
    with tempfile.TemporaryDirectory() as folder:
        report = Path(folder) / "report.json"
        words = ["--local", "--skip-editable", "--progress-spinner", "off", "--format", "json", "--output", str(report)]
        done = subprocess.run([sys.executable, "-m", "pip_audit", *words], capture_output=True, text=True, check=False)
        if not report.exists():
            print(f"{NOT_AUDITED}: {(done.stderr.strip().splitlines() or ['no answer'])[-1]}")
            return NOT_CHECKED
        return tell(json.loads(report.read_text("utf-8"))["dependencies"])


def tell(dependencies: list[dict]) -> int:
    """Print every known fault, and how many packages nothing is known of."""
    asked = [d for d in dependencies if "skip_reason" not in d]
    faulty = [d for d in asked if d["vulns"]]
    for package in faulty:
        for fault in package["vulns"]:
            cure = ", ".join(fault["fix_versions"]) or "none yet"
            print(f"{package['name']} {package['version']}: {fault['id']}, mended in {cure}")
    if len(asked) < len(dependencies):
        print(f"{NOT_AUDITED}: the list says nothing of {len(dependencies) - len(asked)} of {len(dependencies)}.")
    print(f"{len(asked)} packages audited, {len(faulty)} with known faults.")
    if faulty:
        return FAULTY
    return PASSED if asked and len(asked) == len(dependencies) else NOT_CHECKED


if __name__ == "__main__":
    sys.exit(main())
