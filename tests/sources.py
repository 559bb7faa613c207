"""The sources of the project, read by tests that look at them: its modules with what they import, and its files."""

import ast
import shutil
import subprocess
from collections.abc import Iterator
from fnmatch import fnmatch
from functools import cache
from pathlib import Path

ROOT = Path(__file__).parents[1]
ROOMS = ("constraints", "gallery", "explore")  # each may use those before it
MODULES = {
    ".".join(path.relative_to(ROOT).with_suffix("").parts).removesuffix(".__init__"): path
    for room in ROOMS
    for path in sorted((ROOT / room).rglob("*.py"))
}


@cache
def imported(name: str) -> frozenset[str]:
    """Every module or package that a module of ours names in an import, wherever in it stands, but for types alone."""
    return frozenset(imports_of(without_types(ast.parse(MODULES[name].read_text(encoding="utf-8")))))


def without_types(tree: ast.Module) -> ast.Module:
    """A module without what it imports for its types alone, which never runs."""
    kept = [each for each in tree.body if not (isinstance(each, ast.If) and ast.unparse(each.test) == "TYPE_CHECKING")]
    return ast.Module(kept, [])


def imports_of(tree: ast.AST) -> Iterator[str]:
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, "imports are written in full"
            assert node.module is not None
            yield node.module
            yield from (f"{node.module}.{alias.name}" for alias in node.names)


def tracked() -> list[str]:
    """The files that belong to the project: those git knows, in an archive all that .gitignore does not name."""
    if not (ROOT / ".git").exists() or shutil.which("git") is None:
        return unignored(ROOT)
    listed = ["git", "-c", f"safe.directory={ROOT}", "ls-files", "-z"]
    done = subprocess.run(listed, cwd=ROOT, capture_output=True, text=True, check=True)
    return [name for name in done.stdout.split("\0") if name]


def unignored(root: Path) -> list[str]:
    lines = (ROOT / ".gitignore").read_text().splitlines()
    patterns = [line.strip("/") for line in lines if line and not line.startswith("#")]
    files = (path.relative_to(root) for path in root.rglob("*") if path.is_file())
    return [
        str(file) for file in files if not any(fnmatch(part, each) for part in file.parts[:-1] for each in patterns)
    ]
