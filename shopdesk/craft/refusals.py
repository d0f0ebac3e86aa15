"""What every refusal of bad input says: what is wrong, and what would be right."""


class Refused(ValueError):
    """Something given that cannot be used; `wrong` says why, `right` what would do."""

    def __init__(self, wrong: str, right: str) -> None:
        super().__init__(f"{wrong}; {right}")
        self.wrong = wrong
        self.right = right
