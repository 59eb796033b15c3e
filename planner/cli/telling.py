"""What a command tells its user instead of failing."""


class Told(ValueError):  # noqa: N818 - as the other faults that a person can put right
    """Something a user can put right; the text says what, and ``code`` is what the command then ends with."""

    is_told = True

    def __init__(self, text: str, code: int = 1) -> None:
        super().__init__(text)
        self.code = code
