"""Print one of the README's two commands, so that what is tested is what is printed.

The README marks each command's code block with a line `<!-- command: NAME -->` above it.
"""

import re
import sys
from pathlib import Path

name = sys.argv[1]
readme = (Path(__file__).parent.parent / "README.md").read_text("utf-8")
found = re.search(rf"<!-- command: {name} -->\s*```sh\n(.*?)```", readme, re.DOTALL)
if found is None:
    sys.exit(f"README.md has no command block named {name}")
sys.stdout.write(found[1])
