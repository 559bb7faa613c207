"""Small wrong changes of a module, as syntax trees: what `mutants.py` draws from. No wording, no styles.

Offutt et al., "An Experimental Determination of Sufficient Mutant Operators" (1996), names the kinds that suffice:
of relations, of arithmetic, of conditions and of absolute values; removed lines and swapped arguments are added.
"""

from __future__ import annotations

import ast
import copy
from collections.abc import Callable, Iterator

_COMPARED: dict[type[ast.cmpop], type[ast.cmpop]] = {
    ast.Lt: ast.LtE,
    ast.LtE: ast.Lt,
    ast.Gt: ast.GtE,
    ast.GtE: ast.Gt,
    ast.Eq: ast.NotEq,
    ast.NotEq: ast.Eq,
    ast.Is: ast.IsNot,
    ast.IsNot: ast.Is,
    ast.In: ast.NotIn,
    ast.NotIn: ast.In,
}
_RECKONED: dict[type[ast.operator], type[ast.operator]] = {
    ast.Add: ast.Sub,
    ast.Sub: ast.Add,
    ast.Mult: ast.FloorDiv,
    ast.Div: ast.Mult,
    ast.FloorDiv: ast.Mult,
    ast.Mod: ast.FloorDiv,
    ast.BitAnd: ast.BitOr,
    ast.BitOr: ast.BitAnd,
}
_CALLED = {"min": "max", "max": "min", "any": "all", "all": "any", "ceil": "floor", "floor": "ceil"}
# Lines about these are styles; a type is no behaviour.
_STYLES = ("colour", "color", "font", "ink", "grey", "linewidth", "line_width", "dash", "alpha", "shade", "tint")


def mutants(source: str) -> Iterator[tuple[int, str]]:
    """Every change of the source, one at a time: the first line of its statement, which is the one that coverage knows
    to have run, and the whole module with it."""
    lines = source.splitlines(keepends=True)
    for statement in _statements(ast.parse(source)):
        for node in _own(statement):
            for change in _changes(node):
                changed = _with(statement, node, change)
                first, last = statement.lineno - 1, _end(statement)
                if any(word in "".join(lines[first:last]).lower() for word in _STYLES):
                    continue
                new = _written(changed, statement.col_offset, last - first)
                text = "".join(lines[:first]) + new + "".join(lines[last:])
                yield statement.lineno, text


def _statements(tree: ast.Module) -> Iterator[ast.stmt]:
    """All statements that do something: neither imports nor docstrings."""
    for node in ast.walk(tree):
        if isinstance(
            node,
            (ast.Assign, ast.AnnAssign, ast.AugAssign, ast.Return, ast.If, ast.While, ast.For, ast.Assert, ast.Expr),
        ):
            if isinstance(node, ast.If) and node.col_offset and _is_elif(node, tree):
                continue
            if not (isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant)):
                yield node


def _is_elif(node: ast.If, tree: ast.Module) -> bool:
    return any(isinstance(n, ast.If) and n.orelse == [node] and n.col_offset == node.col_offset for n in ast.walk(tree))


def _end(statement: ast.stmt) -> int:
    """The last line of what is the statement's own: of a compound one, its header."""
    body = getattr(statement, "body", None)
    return body[0].lineno - 1 if body else statement.end_lineno or statement.lineno


def _own(statement: ast.stmt) -> Iterator[ast.AST]:
    yield statement
    for name, value in ast.iter_fields(statement):
        if name not in ("body", "orelse", "annotation"):
            for part in value if isinstance(value, list) else [value]:
                if isinstance(part, ast.AST):
                    yield from (node for node in ast.walk(part) if hasattr(node, "lineno"))


def _changes(node: ast.AST) -> Iterator[Callable[[ast.AST], ast.AST]]:
    if isinstance(node, ast.Compare) and type(node.ops[0]) in _COMPARED:
        yield _set("ops", [_COMPARED[type(node.ops[0])](), *node.ops[1:]])
    elif isinstance(node, (ast.BinOp, ast.AugAssign)) and type(node.op) in _RECKONED:
        yield _set("op", _RECKONED[type(node.op)]())
    elif isinstance(node, ast.BoolOp):
        yield _set("op", ast.Or() if isinstance(node.op, ast.And) else ast.And())
    elif isinstance(node, ast.UnaryOp) and isinstance(node.op, (ast.Not, ast.Invert, ast.USub)):
        yield lambda n: n.operand
    elif isinstance(node, ast.Constant) and type(node.value) in (int, float):
        yield _set("value", node.value + 1)
    elif isinstance(node, ast.Constant) and isinstance(node.value, bool):
        yield _set("value", not node.value)
    elif isinstance(node, ast.Slice) and node.lower is not None:
        yield _set("lower", None)
    elif isinstance(node, ast.IfExp):
        yield lambda n: ast.IfExp(n.test, n.orelse, n.body)
    elif isinstance(node, ast.Call):
        yield from _of_call(node)
    if isinstance(node, (ast.If, ast.While)):
        yield lambda n: _set("test", ast.UnaryOp(ast.Not(), n.test))(n)
    if isinstance(node, (ast.AugAssign, ast.Expr)) and not _yields(node):
        yield lambda n: ast.Pass()
    if isinstance(node, ast.Return) and node.value is not None:
        yield _set("value", ast.Constant(None))


def _of_call(node: ast.Call) -> Iterator[Callable[[ast.AST], ast.AST]]:
    if isinstance(node.func, ast.Name) and node.func.id in _CALLED:
        yield _set("func", ast.Name(_CALLED[node.func.id], ast.Load()))
    elif len(node.args) > 1 and not any(isinstance(arg, ast.Starred) for arg in node.args):
        yield _set("args", [node.args[1], node.args[0], *node.args[2:]])


def _yields(node: ast.AST) -> bool:
    return any(isinstance(part, (ast.Yield, ast.YieldFrom)) for part in ast.walk(node))


def _set(field: str, value: object) -> Callable[[ast.AST], ast.AST]:
    def change(node: ast.AST) -> ast.AST:
        setattr(node, field, value)
        return node

    return change


def _with(statement: ast.stmt, node: ast.AST, change: Callable[[ast.AST], ast.AST]) -> ast.AST:
    """A copy of the statement with the node changed in it."""
    whole = copy.deepcopy(statement)
    if node is statement:
        return change(whole)
    place = list(ast.walk(statement)).index(node)
    wanted = list(ast.walk(whole))[place]

    class Change(ast.NodeTransformer):
        def visit(self, part: ast.AST) -> ast.AST:
            return change(part) if part is wanted else self.generic_visit(part)

    return Change().visit(whole)


def _written(changed: ast.AST, indent: int, lines: int) -> str:
    """The statement, of a compound one the header, on as many lines as it had: later lines keep their numbers."""
    if hasattr(changed, "body") and isinstance(changed, ast.stmt):
        changed.body, changed.orelse = [ast.Pass()], []
        header = ast.unparse(ast.fix_missing_locations(changed)).rsplit("\n", 1)[0]
    else:
        header = ast.unparse(ast.fix_missing_locations(changed))
    return " " * indent + header + "\n" * lines
