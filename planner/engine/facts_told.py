"""Facts of a day as they are told: of a stage that is worked in sections as of one, and each once."""

import re
from collections.abc import Iterable

_SECTION = re.compile(r", section \d+ of \d+(?=')")
_AGAIN = re.compile(r"( would [^;]+?)(?: and\1)+(?= and would | on ')")
_AFTER_ITSELF = re.compile(r"'([^']+)' after '\1'$")


def as_wholes(told: Iterable[str]) -> tuple[str, ...]:
    """Facts in words, without the numbers of sections, and without what is then said twice or of a stage and itself."""
    whole = (_AGAIN.sub(r"\1", _SECTION.sub("", words)) for words in told)
    return tuple(dict.fromkeys(words for words in whole if not _AFTER_ITSELF.search(words)))
