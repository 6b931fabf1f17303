"""Texts of the rooms, read from their source: what the bench may show and must have in German.

A text written as an f-string becomes a template: ``f"the hole is {diameter:.2f} mm wide"`` is
"the hole is {diameter:n} mm wide", where ``:n`` marks a number. Parts joined by ``+``, choices
(``"up" if rising else "down"``) and variables that hold such texts are written out, so that the
catalogues hold whole sentences.
"""

from __future__ import annotations

import ast
import itertools
import re
from collections.abc import Iterable, Iterator
from pathlib import Path

from borewright.bench.words.rooms import clauses

#: More choices than these in one sentence stay a place of it, and each its own entry.
_MOST_CHOICES = 8
#: Arguments that are shown to a person, whatever they look like.
_SHOWN_ARGUMENTS = {"cause", "place", "remedy", "what", "advice", "words", "limit"}
_NUMBER_FORMAT = re.compile(r"[-+ ]?[0-9]*,?(\.[0-9]+)?[fgde%,]|[+]")
_PLACE = re.compile(r"\{[a-z_0-9]+(?::n)?\}")
_LETTERS = re.compile(r"[A-Za-z]{2,}")
#: A key of a file, an option of the command line, a file's ending: the same in all languages.
_SIGN = re.compile(r"[\[<-]*[a-z0-9]+([_.-][a-z0-9]+)+\]?|\[\w+\]|--?\w+")
#: Two words, or one beside a place, with a space between.
_PROSE = re.compile(r"[A-Za-z]{2,}\S* +\S*[A-Za-z]{2,}|[A-Za-z]{2,}\S* +\S*§|§\S* +\S*[A-Za-z]{2,}")

#: Calls that are named after what they are given.
_SEE_THROUGH = {"len", "str", "abs", "max", "min", "sorted", "float", "repr"}

Scope = ast.Module | ast.FunctionDef | ast.AsyncFunctionDef


class Module:
    """One file of a room: its tree, and what each node stands in."""

    def __init__(self, tree: ast.Module) -> None:
        self.tree = tree
        self.parents: dict[ast.AST, ast.AST] = {
            child: node for node in ast.walk(tree) for child in ast.iter_child_nodes(node)
        }

    def scope(self, node: ast.AST) -> Scope:
        """The function that a node stands in, or the file."""
        while not isinstance(node, Scope):
            node = self.parents[node]
        return node


def templates(source: str, only_errors: bool = False) -> dict[str, int]:
    """Templates of a file with their lines; ``only_errors`` leaves all but raised texts out."""
    module = Module(ast.parse(source))
    found: dict[str, int] = {}
    for root in _roots(module, only_errors):
        shown = _is_shown(module, root)
        split = _is_place(module, root)
        for text in _alternatives(module, root):
            for sentence in clauses(text):
                for clause in sentence.split(", ") if split else [sentence]:
                    bare = _PLACE.sub("§", clause)
                    whole = shown and clause == text.rstrip(".") and not _SIGN.fullmatch(clause)
                    if _PROSE.search(bare) or (whole and _LETTERS.search(bare)):
                        found.setdefault(clause, getattr(root, "lineno", 0))
    return found


def _is_place(module: Module, node: ast.expr) -> bool:
    """Whether a text names a place, "FILE, line 3, column 'name'": its steps are looked up."""
    parent = module.parents[node]
    if isinstance(parent, ast.keyword):
        return parent.arg == "place"
    return (
        isinstance(parent, ast.Assign)
        and isinstance(parent.targets[0], ast.Name)
        and parent.targets[0].id in ("place", "where")
    )


def _roots(module: Module, only_errors: bool) -> Iterator[ast.expr]:
    for node in ast.walk(module.tree):
        if not isinstance(node, ast.Constant | ast.JoinedStr | ast.BinOp | ast.IfExp):
            continue
        parent = module.parents[node]
        if isinstance(node, ast.Constant) and not isinstance(node.value, str):
            continue
        if isinstance(node, ast.BinOp | ast.IfExp) and not _is_text(node):
            continue
        if isinstance(parent, ast.Expr) or _is_joined(module, node) or _is_translated(parent):
            continue
        if only_errors and not _is_raised(module, node):
            continue
        if isinstance(parent, ast.Assign | ast.AugAssign) and _is_written_out(module, parent):
            continue
        yield node


def _is_translated(parent: ast.AST) -> bool:
    """Whether a text is given to ``_``, which has a catalogue of its own."""
    return (
        isinstance(parent, ast.Call)
        and isinstance(parent.func, ast.Name)
        and parent.func.id in ("_", "getattr")
    )


def _is_text(node: ast.expr) -> bool:
    """Whether an expression is a text as far as it is written out here."""
    if isinstance(node, ast.Constant):
        return isinstance(node.value, str)
    if isinstance(node, ast.JoinedStr):
        return True
    if isinstance(node, ast.BinOp):
        return isinstance(node.op, ast.Add) and (_is_text(node.left) or _is_text(node.right))
    if isinstance(node, ast.IfExp):
        return _is_text(node.body) or _is_text(node.orelse)
    return False


def _is_joined(module: Module, node: ast.AST) -> bool:
    """Whether a node is part of a larger text, so that it is written out there."""
    parent = module.parents[node]
    if isinstance(parent, ast.JoinedStr):
        return True
    if isinstance(parent, ast.FormattedValue):
        return not (isinstance(node, ast.Constant)) and isinstance(node, ast.IfExp)
    if isinstance(parent, ast.IfExp) and node is parent.test:
        return False
    return isinstance(parent, ast.BinOp | ast.IfExp) and _is_text(parent)


def _is_shown(module: Module, node: ast.AST) -> bool:
    """Whether a single word is shown: an argument of that name, or a choice inside a text."""
    parent = module.parents[node]
    if isinstance(parent, ast.keyword):
        return parent.arg in _SHOWN_ARGUMENTS
    if isinstance(parent, ast.BoolOp):
        return isinstance(module.parents[parent], ast.FormattedValue)
    return isinstance(node, ast.IfExp) or _is_raised(module, node)


def _is_raised(module: Module, node: ast.AST) -> bool:
    """Whether a text is an argument of an error that is made here."""
    while not isinstance(node, ast.stmt):
        parent = module.parents[node]
        if isinstance(parent, ast.Call) and isinstance(parent.func, ast.Name | ast.Attribute):
            name = parent.func.id if isinstance(parent.func, ast.Name) else parent.func.attr
            if name.endswith("Error") and node is not parent.func:
                return True
        node = parent
    return False


def _is_written_out(module: Module, assign: ast.Assign | ast.AugAssign) -> bool:
    """Whether a variable's text stands in larger texts alone, and so needs no entry itself."""
    targets = assign.targets if isinstance(assign, ast.Assign) else [assign.target]
    if len(targets) != 1 or not isinstance(targets[0], ast.Name):
        return False
    name, scope = targets[0].id, module.scope(assign)
    if isinstance(scope, ast.Module):
        return False
    loads = [
        node
        for node in ast.walk(scope)
        if isinstance(node, ast.Name) and node.id == name and isinstance(node.ctx, ast.Load)
    ]
    inside = [
        isinstance(module.parents[node], ast.FormattedValue)
        or (isinstance(module.parents[node], ast.BinOp) and _is_text(module.parents[node]))  # type: ignore[arg-type]
        for node in loads
    ]
    return bool(loads) and all(inside) and _variable(module, loads[0]) is not None


def _alternatives(module: Module, node: ast.expr) -> list[str]:
    """Every text that an expression may write, its places named."""
    names = _Names()
    return _written(module, node, names)


class _Names:
    """Readable names of places, each once in a template."""

    def __init__(self) -> None:
        self.by_source: dict[str, str] = {}

    def __call__(self, value: ast.expr, number: bool) -> str:
        source = f"{ast.unparse(value)}:{number}"
        if source not in self.by_source:
            wanted = _name(value) or "value"
            name, count = wanted, 1
            while name in self.by_source.values():
                count += 1
                name = f"{wanted}_{count}"
            self.by_source[source] = name
        return f"{{{self.by_source[source]}{':n' if number else ''}}}"


def _name(value: ast.expr) -> str:
    """A name for what stands in a place, such as ``hole_name`` for ``plan.hole.name``."""
    match value:
        case ast.Name(id=name):
            return name.strip("_").lower()
        case ast.Attribute(value=owner, attr="name" | "value" | "written" | "code" as attr):
            return f"{_name(owner)}_{attr}".strip("_")
        case ast.Attribute(attr=attr):
            return attr.strip("_").lower()
        case ast.Call(func=ast.Attribute(attr="join"), args=[joined]):
            return _name(joined)
        case ast.Call(func=ast.Name(id=called), args=[first, *_]) if called in _SEE_THROUGH:
            return _name(first)
        case ast.Call(func=called):
            return _name(called)
        case ast.Subscript(slice=ast.Constant(value=str(key))):
            return key.lower()
        case ast.Subscript(value=inner) | ast.UnaryOp(operand=inner):
            return _name(inner)
        case ast.BinOp(left=left, right=right):
            return _name(left) or _name(right)
        case ast.BoolOp(values=[first, *_]):
            return _name(first)
        case ast.IfExp(body=body, orelse=other, test=test):
            return _name(body) or _name(other) or _name(test)
        case (
            ast.GeneratorExp(elt=each, generators=[source, *_])
            | ast.ListComp(elt=each, generators=[source, *_])
        ):
            return _name(each) or _name(source.iter)
        case ast.JoinedStr(values=parts):
            inner_names = (_name(p.value) for p in parts if isinstance(p, ast.FormattedValue))
            return next(inner_names, "")
    return ""


def _written(module: Module, node: ast.expr, names: _Names) -> list[str]:
    if isinstance(node, ast.Constant):
        return [str(node.value)]
    if isinstance(node, ast.JoinedStr):
        return _product(_written(module, part, names) for part in node.values)
    if isinstance(node, ast.FormattedValue):
        return _place(module, node, names)
    if isinstance(node, ast.BinOp) and _is_text(node):
        return _product(_written(module, side, names) for side in (node.left, node.right))
    if isinstance(node, ast.IfExp):
        both = _written(module, node.body, names) + _written(module, node.orelse, names)
        return list(dict.fromkeys(both))
    if isinstance(node, ast.Name):
        held = _variable(module, node)
        if held is not None:
            texts = [text for each in held for text in _written(module, each, names)]
            if len(texts) <= _MOST_CHOICES:
                return list(dict.fromkeys(texts))
    return [names(node, number=False)]


def _place(module: Module, node: ast.FormattedValue, names: _Names) -> list[str]:
    if isinstance(node.format_spec, ast.JoinedStr):
        spec = "".join(str(p.value) for p in node.format_spec.values if isinstance(p, ast.Constant))
        return [names(node.value, number=bool(_NUMBER_FORMAT.fullmatch(spec)))]
    if node.conversion == -1 and (_is_text(node.value) or isinstance(node.value, ast.Name)):
        return _written(module, node.value, names)
    return [names(node.value, number=False)]


def _product(parts: Iterable[list[str]]) -> list[str]:
    return ["".join(each) for each in itertools.product(*parts)]


def _variable(module: Module, name: ast.Name) -> list[ast.expr] | None:
    """The texts that a variable of this function may hold; None where it holds anything else."""
    scope = module.scope(name)
    if isinstance(scope, ast.Module):
        return None
    arguments = scope.args
    taken = [*arguments.posonlyargs, *arguments.args, *arguments.kwonlyargs]
    if any(each.arg == name.id for each in taken):
        return None
    held: list[ast.expr] = []
    for node in ast.walk(scope):
        if not (isinstance(node, ast.Name) and node.id == name.id):
            continue
        if isinstance(node.ctx, ast.Store):
            parent = module.parents[node]
            if not isinstance(parent, ast.Assign) or parent.targets != [node]:
                return None
            inside = {each.id for each in ast.walk(parent.value) if isinstance(each, ast.Name)}
            if not _is_text(parent.value) or name.id in inside:
                return None
            held.append(parent.value)
    return held or None


def shape(text: str) -> str:
    """A template without the names of its places: what makes two of them the same."""
    return _PLACE.sub(lambda place: "{:n}" if place[0].endswith(":n}") else "{}", text)


def texts_of_room(
    folder: Path, *, only_errors: bool = False, left_out: Iterable[str] = ()
) -> dict[str, str]:
    """Templates of all files of a room with the place where each stands first."""
    found: dict[str, str] = {}
    seen: set[str] = set()
    files = sorted(folder.rglob("*.py")) if folder.is_dir() else [folder]
    for path in files:
        relative = path.relative_to(folder.parent).as_posix()
        if any(relative == name or relative.startswith(f"{name}/") for name in left_out):
            continue
        for text, line in templates(path.read_text(encoding="utf-8"), only_errors).items():
            if shape(text) not in seen:
                seen.add(shape(text))
                found[text] = f"{relative}:{line}"
    return found
