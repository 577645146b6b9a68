"""The rig file being worked on; the last rig that was right is kept beside its text."""

from pathlib import Path

from sim.rig import Rig, parse_rig
from sim.rig.demos import demo_text
from sim.rig.document import rig_text
from sim.table.reading import read_text
from viewer.session.text.order import Order
from viewer.session.text.text_file import TextFile, stamp

UNTITLED = "new rig"


class Document(TextFile):
    """A rig file open for work.

    Attributes
    ----------
    rig : what it says; where the text is not right just now, the last one that was.
    """

    rig: Rig

    def __init__(
        self,
        text: str,
        path: Path | None = None,
        demo: str | None = None,
        folder: Path | None = None,
    ) -> None:
        """Start from a text that is a rig: from the file `path`, from a demo, or from nowhere.

        folder : from where one that lies in no file sees the files it names.
        Raises RigError when the text is no rig.
        """
        super().__init__(text, path, is_saved=path is not None or demo is not None)
        self._folder = folder or Path()
        self._demo = demo
        self.take_in(text)

    @classmethod
    def open(cls, path: Path) -> "Document":
        """Open a rig file. Raises RigError with everything that is wrong with it."""
        return cls(read_text(path), path)

    @classmethod
    def demo(cls, name: str) -> "Document":
        """Open a demo rig; saving it asks for a place. Raises RigError for an unknown name."""
        return cls(demo_text(name), demo=name)

    @classmethod
    def of(cls, rig: Rig) -> "Document":
        """Start from a rig that lies in no file."""
        return cls(rig_text(rig))

    @property
    def name(self) -> str:
        """What the file is called."""
        return self.path.name if self.path is not None else self._demo or UNTITLED

    @property
    def folder(self) -> Path:
        """The folder from which it sees the files it names."""
        return self.path.parent if self.path is not None else self._folder

    def order(self, without: tuple[str, ...] = ()) -> Order:
        """What a worker is given to compute it, with the codes of remedies it is not to try."""
        return Order(self.text, self.name, self.rig.folder, without)

    def reload(self) -> None:
        """Take the file as it is on disk; undo brings back what was here.

        Raises RigError when it is no rig.
        """
        if self.path is None:
            return
        text = read_text(self.path)
        self.take_in(text)
        self._seen, self._saved_text = stamp(self.path), text
        self.take(text, "the file as another program left it")

    def take_in(self, text: str) -> None:
        """Read a rig."""
        rig = parse_rig(text, self.name)
        rig._folder = self.folder
        self.rig = rig
