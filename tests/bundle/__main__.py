"""Makes the built program: a folder and an archive that need no Python, for the kind of machine this is run on.

    pip install -e '.[bundle]'
    python -m tests.bundle [--out DIR] [--keep-pictures]

In DIR (``dist`` unless said) come ``slackwater/``, with the program, the guide as one page and the list of licences,
and ``slackwater-VERSION-SYSTEM-MACHINE.tar.gz`` (``.zip`` on Windows). Before that, the pictures of the guide are
drawn anew, so that they show the window as it is. Tried on Linux; on Windows and macOS the recipe is the same, untried.
"""

import argparse
import ast
import os
import platform
import re
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

from planner import __version__
from tests.bundle.contents import ROOT
from tests.bundle.guide import guide_html
from tests.bundle.licences import bundled_distributions, licences_text

HERE = Path(__file__).parent


def build(out: Path, work: Path) -> Path:
    """Run PyInstaller, then lay what a person reads beside the program; returns its folder."""
    words = ["--noconfirm", "--clean", "--log-level", "WARN", "--distpath", str(out), "--workpath", str(work)]
    subprocess.run([sys.executable, "-m", "PyInstaller", *words, str(HERE / "slackwater.spec")], cwd=ROOT, check=True)
    folder = out / "slackwater"
    strip_symbols(folder / "_internal")
    (folder / "guide.html").write_text(guide_html(), "utf-8")
    licences = licences_text(bundled_distributions(bundled_files(work)))
    (folder / "licences.md").write_text(licences, "utf-8")
    (folder / "_internal" / "planner" / "_resources" / "licences.md").write_text(licences, "utf-8")
    shutil.copytree(ROOT / "sample_days", folder / "sample_days")
    if sys.platform == "linux":
        lay_for_the_desktop(folder)
    return folder


def strip_symbols(inside: Path) -> None:
    """Take the symbols for debuggers out of the libraries that still have them.

    Not out of those that a wheel brought for itself, with a hash in the name (numpy's, Pillow's): they were moved about
    in their files when the wheel was made, and no longer load when they are stripped.
    """
    if sys.platform == "linux" and shutil.which("strip"):
        libraries = [p for p in inside.rglob("*.so*") if p.is_file() and not p.is_symlink()]
        for library in (p for p in libraries if not re.search(r"-[0-9a-f]{8}", p.name)):
            subprocess.run(["strip", "--strip-unneeded", str(library)], check=True)


def bundled_files(work: Path) -> list[Path]:
    """Every source file that went into the bundle, as PyInstaller's own lists of it tell."""
    listed = [ast.literal_eval(toc.read_text("utf-8")) for toc in work.rglob("*.toc")]
    return [Path(text) for text in _texts(listed) if os.path.isabs(text)]


def _texts(found: object) -> list[str]:
    if isinstance(found, str):
        return [found]
    if isinstance(found, (list, tuple)):
        return [text for part in found for text in _texts(part)]
    return []


def lay_for_the_desktop(folder: Path) -> None:
    """The entry, icon and file type by which a Linux desktop knows the program, and the script that puts them there."""
    laid = folder / "desktop"
    laid.mkdir()
    shutil.copy(ROOT / "resources" / "icons" / "slackwater.svg", laid)
    for name in ("slackwater.desktop", "slackwater-day.xml", "put-in-menu"):
        shutil.copy(HERE / "desktop" / name, laid)
    (laid / "put-in-menu").chmod(0o755)


def main() -> int:
    """Draw, build, pack, and say how large it became."""
    parser = argparse.ArgumentParser(prog="python -m tests.bundle", description="Make the built program.")
    parser.add_argument("--out", type=Path, default=ROOT / "dist", help="where to (dist)")
    parser.add_argument("--keep-pictures", action="store_true", help="do not draw the pictures of the guide anew")
    asked = parser.parse_args()
    out = asked.out.resolve()
    if not asked.keep_pictures:
        pictures = str(ROOT / "resources" / "help" / "pictures")
        subprocess.run([sys.executable, "-m", "tests.screens", pictures, "--guide"], cwd=ROOT, check=True)
    shutil.rmtree(out / "slackwater", ignore_errors=True)
    with tempfile.TemporaryDirectory() as work:
        folder = build(out, Path(work))
    size = sum(path.stat().st_size for path in folder.rglob("*") if path.is_file() and not path.is_symlink())
    name = f"slackwater-{__version__}-{platform.system()}-{platform.machine()}".lower()
    kind = "zip" if sys.platform == "win32" else "gztar"
    archive = shutil.make_archive(str(out / name), kind, out, "slackwater")
    print(f"{folder}: {size / 1e6:.0f} MB; {archive}: {Path(archive).stat().st_size / 1e6:.0f} MB")
    return 0


if __name__ == "__main__":
    sys.exit(main())
