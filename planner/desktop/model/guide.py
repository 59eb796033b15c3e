"""The user's guide as it is shipped: its pages in their order, and which of them speak of something."""

import re
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

from planner.resources import resource


@dataclass(frozen=True)
class GuidePage:
    """One page of the guide, in Markdown.

    Attributes
    ----------
    path
        The file; links from other pages call it by its name, and pictures lie beside it.
    text
        Its Markdown.
    """

    path: Path
    text: str

    @property
    def title(self) -> str:
        """The heading at its top."""
        return self.text.partition("\n")[0].lstrip("# ").strip()

    @cached_property
    def words(self) -> str:
        """What is read on it, in small letters, without signs of layout and addresses."""
        return re.sub(r"[*`#]|\]\([^)]*\)|!?\[", "", self.text).casefold()

    def speaks_of(self, sought: str) -> bool:
        """Whether every word sought stands on the page, in any order and as a part of a word too."""
        return all(word in self.words for word in sought.casefold().split())


def guide_pages() -> tuple[GuidePage, ...]:
    """All pages in the order in which they are read, which is that of their file names."""
    return tuple(GuidePage(path, path.read_text("utf-8")) for path in sorted(resource("help").glob("*.md")))


def meaning(word: str) -> str:
    """What a word of ours means, as the guide's page of words has it; its first sentence.

    Raises `KeyError` when the page does not explain it.
    """
    text = resource("help", "15-words.md").read_text("utf-8")
    for paragraph in text.split("\n\n"):
        for found in re.finditer(r"\*\*([^*]+)\*\*([:.]?)(.*?)(?=\*\*|\Z)", paragraph, re.S):
            if found[1].rstrip(".").casefold() == word.casefold():
                plain = re.sub(r"[*`]", "", " ".join(found[3].split())).lstrip(": ")
                return f"{word.capitalize()}: {re.split(r'(?<=[.]) ', plain)[0]}"
    raise KeyError(word)
