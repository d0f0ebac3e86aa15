"""What every refusal of bad input says: what is wrong, and what would be right."""


class InputError(ValueError):
    """Something given that cannot be used; `wrong` says why, `right` what would do.

    `field` names the box, option or key it stands in, or is '' where that is plain or unknown.
    """

    def __init__(self, wrong: str, right: str, field: str = "") -> None:
        super().__init__(f"{wrong}; {right}")
        self.wrong = wrong
        self.right = right
        self.field = field
