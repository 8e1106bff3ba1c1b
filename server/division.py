"""Which files of calc a quick answer needs: found from what imports what.

The rest is for jobs, and the phone loads it after its first answer. The law is bridge's own:
what its functions import is of a job; whatever it imports as it loads, and all that quick/
holds or imports, is of a quick answer.
"""

import ast
from collections.abc import Iterator
from pathlib import Path

_DOOR = "calc/bridge.py"
_QUICK = "calc/quick/"


def of_quick(sources: dict[str, Path]) -> set[str]:
    """The names among `sources`, "calc/lengths.py" and so on, that a quick answer needs.

    Raises SyntaxError for a source that is no Python.
    """
    left = [name for name in sources if name == _DOOR or name.startswith(_QUICK)]
    found: set[str] = set()
    while left:
        name = left.pop()
        if name in found:
            continue
        found.add(name)
        tree = ast.parse(sources[name].read_bytes(), name)
        left += [n for n in _imported(tree, name, name != _DOOR) if n in sources]
    return found


def _imported(tree: ast.Module, name: str, functions: bool) -> Iterator[str]:
    """The files that the module `name` may import, within its functions too where asked."""
    for node in _run(tree, functions):
        if not isinstance(node, ast.ImportFrom) or not node.level:
            continue
        package = name.split("/")[: -node.level]
        path = package + (node.module.split(".") if node.module else [])
        for steps in (path, *([*path, alias.name] for alias in node.names)):
            yield "/".join(steps) + ".py"
            for n in range(1, len(steps) + 1):
                yield "/".join([*steps[:n], "__init__.py"])


def _run(node: ast.AST, functions: bool) -> Iterator[ast.AST]:
    """Every node that the phone runs: nothing under TYPE_CHECKING."""
    for child in ast.iter_child_nodes(node):
        typing = isinstance(child, ast.If) and ast.unparse(child.test) == "TYPE_CHECKING"
        if typing or (isinstance(child, ast.FunctionDef) and not functions):
            continue
        yield child
        yield from _run(child, functions)
