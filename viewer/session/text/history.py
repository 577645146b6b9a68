"""Every version of a text: undo and redo without limit."""

from collections.abc import Callable


class History:
    """Versions of a text, each with the name of the step that led to it."""

    def __init__(self, text: str) -> None:
        self._versions = [("", text)]
        self._at = 0
        self._under_way = False

    @property
    def now(self) -> str:
        """The version that counts."""
        return self._versions[self._at][1]

    @property
    def undo_name(self) -> str | None:
        """Name of the step that led here; None at the start."""
        return self._versions[self._at][0] if self._at > 0 else None

    @property
    def redo_name(self) -> str | None:
        """Name of the step that was undone last; None when none was."""
        after = self._at + 1
        return self._versions[after][0] if after < len(self._versions) else None

    def take(self, text: str, name: str, joined: bool = False) -> None:
        """Add a version after this one; what was undone is gone.

        One that is `joined` to a step of the same name takes its place: both are one step.
        """
        del self._versions[self._at + 1 :]
        if joined and self._under_way and self._versions[-1][0] == name:
            if self._versions[-2][1] != text:
                self._versions[-1] = (name, text)
            else:  # typed back to what it was: no step at all
                self._versions.pop()
                self._at -= 1
                self._under_way = False
            return
        self._under_way = True
        self._versions.append((name, text))
        self._at += 1

    def rewrite(self, put: Callable[[str], str]) -> None:
        """Put every version another way; steps and their names stay."""
        self._versions = [(name, put(text)) for name, text in self._versions]
        self._under_way = False

    def undo(self) -> bool:
        """Go back one version; whether there was one."""
        if self.undo_name is None:
            return False
        self._at -= 1
        self._under_way = False
        return True

    def redo(self) -> bool:
        """Go forward one version; whether there was one."""
        if self.redo_name is None:
            return False
        self._at += 1
        self._under_way = False
        return True
