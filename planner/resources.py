"""Where the shipped data files lie: the trade library, cautions, icons and print styles; and the sample days."""

from pathlib import Path


def resource(*parts: str) -> Path:
    """The path of a shipped data file, in an installed package as in a checkout.

    Raises
    ------
    FileNotFoundError
        When the installation is damaged and the file is not there.
    """
    here = Path(__file__).parent
    for root in (here / "_resources", here.parent / "resources"):
        path = root.joinpath(*parts)
        if path.exists():
            return path
    raise FileNotFoundError(f"the shipped file {'/'.join(parts)} is missing; install slackwater again")


def sample_days() -> list[Path]:
    """The sample days that came with the program, by name; none where somebody took them away."""
    here = Path(__file__).parent
    for folder in (here / "_sample_days", here.parent / "sample_days"):
        if folder.is_dir():
            return sorted(folder.glob("*.toml"))
    return []
