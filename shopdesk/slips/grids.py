"""Tables of flowables that are measured once for each width, however often they are asked."""

from reportlab.platypus import Table


class Grid(Table):
    """A table whose size depends on the width it gets, never on the height that is left."""

    _size: tuple[float, tuple[float, float]] | None = None

    def wrap(self, available_width: float, available_height: float) -> tuple[float, float]:
        """Returns the size in points for this width."""
        if self._size is None or self._size[0] != available_width:
            self._size = available_width, super().wrap(available_width, available_height)
        return self._size[1]
