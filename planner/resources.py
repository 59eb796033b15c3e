"""Where the shipped data files lie: the trade library, cautions, icons and print styles."""

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
