"""Pack the program into an archive that needs no Python: unpack it, click `bindpoint-window`.

Run with Python 3.11 or later on the system the archive is for: nothing is packed for another one.

    python .ci/archive/make.py [FOLDER]

A fresh environment gets the house as it stands and the tool, PyInstaller; what is packed is told by
`bindpoint.spec` beside this file. The archive is a zip on Windows, a tar.gz elsewhere.
"""

import platform
import shutil
import subprocess
import sys
import tarfile
import tempfile
import tomllib
import venv
from pathlib import Path

HERE = Path(__file__).resolve().parent
HOUSE = HERE.parents[1]

TOOL = "pyinstaller>=6.10"

MOST = 400e6
"""Bytes an archive may have."""


def main(folder: Path) -> int:
    """Pack it into a folder; 1 where the archive is too large."""
    with tempfile.TemporaryDirectory(prefix="bindpoint-archive-") as name:
        work = Path(name)
        python = _environment(work / "venv")
        packed, scratch = work / "packed", work / "scratch"
        where = ["--distpath", str(packed), "--workpath", str(scratch)]
        spec = str(HERE / "bindpoint.spec")
        _run(python, "-m", "PyInstaller", "--noconfirm", "--log-level", "WARN", *where, spec)
        _run(packed / "bindpoint" / "bindpoint", "check", "demo:quarry-hauler")
        archive = _archive(packed, folder / archive_name())
    size = archive.stat().st_size
    sys.stdout.write(f"{archive}: {size / 1e6:.0f} MB\n")
    return 0 if size < MOST else 1


def archive_name() -> str:
    """Name of the archive without its ending: program, version, system, machine."""
    told = tomllib.loads((HOUSE / "pyproject.toml").read_text(encoding="utf-8"))
    version = told["project"]["version"]
    return f"bindpoint-{version}-{platform.system().lower()}-{platform.machine().lower()}"


def _environment(place: Path) -> Path:
    """A fresh environment with the house and the tool; its Python."""
    venv.create(place, with_pip=True)
    python = place / ("Scripts/python.exe" if sys.platform == "win32" else "bin/python")
    _run(python, "-m", "pip", "install", "-q", str(HOUSE), TOOL)
    return python


def _archive(packed: Path, place: Path) -> Path:
    place.parent.mkdir(parents=True, exist_ok=True)
    if sys.platform == "win32":
        return Path(shutil.make_archive(str(place), "zip", packed))
    made = place.with_name(f"{place.name}.tar.gz")
    with tarfile.open(made, "w:gz", compresslevel=6) as archive:
        archive.add(packed / "bindpoint", "bindpoint")
    return made


def _run(*command: Path | str) -> None:
    subprocess.run([str(each) for each in command], check=True)


if __name__ == "__main__":
    sys.exit(main(Path(sys.argv[1] if len(sys.argv) > 1 else "dist").resolve()))
