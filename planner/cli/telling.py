"""What a command tells its user instead of failing."""


class Told(ValueError):  # noqa: N818 - as the other faults that a person can put right
    """Something that keeps a command from its work; the text is written for the user."""

    is_told = True
