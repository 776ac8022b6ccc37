"""What stands in the project: the files under version control and the modules of the package."""

import ast
import subprocess
from functools import cache
from pathlib import Path

CHECKOUT = Path(__file__).resolve().parents[2]
PACKAGE = CHECKOUT / "src" / "friable"
NOT_OURS = {".git", ".venv", "var", "build", "dist", "node_modules", "__pycache__", "test-results", "_build"}


@cache
def tracked_files() -> tuple[Path, ...]:
    """Every file that belongs to the project; without git, every file in the tree that was not made."""
    listed = subprocess.run(
        ["git", "ls-files", "-z", "--cached", "--others", "--exclude-standard"],
        cwd=CHECKOUT,
        capture_output=True,
        text=True,
    )
    if listed.returncode == 0 and listed.stdout:
        names = [CHECKOUT / name for name in listed.stdout.split("\0") if name]
    else:
        names = [
            path
            for path in CHECKOUT.rglob("*")
            if not NOT_OURS & set(path.relative_to(CHECKOUT).parts) and "cache" not in str(path)
        ]
    return tuple(path for path in names if path.is_file())


def shown(path: Path) -> str:
    """The path as it is written in a message."""
    return str(path.relative_to(CHECKOUT))


@cache
def modules(*layers: str) -> tuple[Path, ...]:
    """Python modules of these layers of the package; of all, if none is named."""
    roots = [PACKAGE / layer for layer in layers] if layers else [PACKAGE]
    return tuple(sorted(path for root in roots for path in root.rglob("*.py")))


@cache
def parsed(path: Path) -> ast.Module:
    """The syntax tree of a module."""
    return ast.parse(path.read_text(encoding="utf-8"))
