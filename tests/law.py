"""The two-interpreter law as far as it can be read off a source file.

breaks(source) lists what in a calc/ file the phone's interpreter lacks, what
the two interpreters do differently in silence, and what would make calc
impure. The lists were made by comparing dir() of both (CPython 3.11,
MicroPython 1.27) and by running each construct there. Types can't be seen in
a source, so stability of sorts and the like stay with the vectors.
"""

import ast
import builtins
import re


def _words(text):
    return set(text.split())


# Modules and the names in them that both interpreters have, all pure.
SHARED = {
    "collections": {"OrderedDict", "defaultdict", "deque", "namedtuple"},
    "functools": {"partial", "reduce", "wraps"},
    "heapq": {"heapify", "heappop", "heappush"},
    "json": {"dumps", "loads"},
    "math": _words(
        "acos asin atan atan2 ceil copysign cos degrees e exp fabs floor fmod inf isfinite isinf "
        "isnan log modf pi pow radians sin sqrt tan tau trunc"
    ),
    "re": {"compile", "match", "search", "sub"},
}
# Missing there, impure, or showing what differs (round ties, hashes, texts).
BUILTINS = _words(
    "aiter anext ascii breakpoint compile dir eval exec exit format globals hash help id input "
    "locals open print quit repr round vars __import__ __debug__ RecursionError Warning "
    "ModuleNotFoundError UnboundLocalError ExceptionGroup BaseExceptionGroup SystemError "
    "TimeoutError PermissionError FileNotFoundError FileExistsError ConnectionError IOError "
    "EnvironmentError BufferError ReferenceError FloatingPointError UnicodeDecodeError "
    "UnicodeEncodeError"
)
METHODS = _words(
    "_replace _asdict _make capitalize casefold center expandtabs format format_map isalnum "
    "isascii isdecimal isidentifier isnumeric isprintable istitle ljust maketrans removeprefix "
    "removesuffix rjust swapcase title translate zfill as_integer_ratio bit_count bit_length "
    "conjugate fromhex hex is_integer findall finditer fullmatch splitlines popitem"
)
ATTRIBUTES = {"_fields", "_field_defaults", "__cause__", "__context__", "__dict__", "__name__"}
# ASCII only on the phone; on CPython they know all of Unicode. A line that can
# only meet ASCII says so with "# ASCII" at its end.
UNICODE = {"isdigit", "isalpha", "isspace", "isupper", "islower", "lower", "upper"}
_UNICODE_SAID = {f".{name}()" for name in UNICODE}
BLANKS = {"strip", "lstrip", "rstrip", "split", "rsplit"}  # without an argument
ORDERED = {"items", "keys", "values"}
ORDER_FREE = {"sorted", "len", "sum", "set", "any", "all", "max", "min"}
KEYWORDLESS = {"split", "rsplit", "replace", "find", "join", "zip", "int", "sum", "dumps", "loads"}
GENERIC = {"list", "dict", "set", "tuple", "type", "frozenset", "deque", "defaultdict"}
TYPES = GENERIC | {"int", "str", "float", "bool", "object"}
FLOAT_SPEC = re.compile(r"%[-+#0-9.*]*[eEfFgGra]")
SYNTAX = {
    ast.Match: "match",
    ast.TryStar: "except*",
    ast.AsyncFunctionDef: "async",
    ast.AsyncFor: "async",
    ast.AsyncWith: "async",
    ast.Await: "await",
    ast.MatMult: "the @ operator",
    ast.Global: "global",
}


def breaks(source):
    """What breaks the law: sorted list of (line, words)."""
    tree = ast.parse(source)
    law = _Law(tree)
    law.visit(tree)
    for n, line in enumerate(source.splitlines(), 1):
        if "\\N{" in line:
            law.found.add((n, "\\N{...} in a text"))
    ascii_only = {n for n, line in enumerate(source.splitlines(), 1) if line.endswith("# ASCII")}
    return sorted(f for f in law.found if f[0] not in ascii_only or f[1] not in _UNICODE_SAID)


class _Law(ast.NodeVisitor):
    def __init__(self, tree):
        self.found = set()
        self.parents = {c: p for p in ast.walk(tree) for c in ast.iter_child_nodes(p)}
        self.functions = {n.name for n in tree.body if isinstance(n, ast.FunctionDef)}
        self.docs = {
            n.body[0].value
            for n in ast.walk(tree)
            if isinstance(n, (ast.Module, ast.ClassDef, ast.FunctionDef))
            and ast.get_docstring(n) is not None
        }

    def no(self, node, words):
        self.found.add((node.lineno, words))

    def visit(self, node):
        if type(node) in SYNTAX:
            self.no(node if hasattr(node, "lineno") else self.parents[node], SYNTAX[type(node)])
        super().visit(node)

    def visit_If(self, node):
        # Only mypy reads what stands under TYPE_CHECKING; the phone never does.
        if isinstance(node.test, ast.Name) and node.test.id == "TYPE_CHECKING":
            for n in node.orelse:
                self.visit(n)
        else:
            self.generic_visit(node)

    def visit_Import(self, node):
        for alias in node.names:
            if alias.name not in SHARED:
                self.no(node, f"import {alias.name}")

    def visit_ImportFrom(self, node):
        names = {alias.name for alias in node.names}
        if "*" in names:
            self.no(node, "import *")
        elif node.level == 0:
            for name in sorted(names - SHARED.get(node.module, set())):
                self.no(node, f"from {node.module} import {name}")

    def visit_FunctionDef(self, node):
        args = node.args
        if args.posonlyargs:
            self.no(node, "positional-only /")
        self._tests_bool(node)
        # Annotations are never evaluated on the phone, so they are not looked at.
        for part in [*node.decorator_list, *args.defaults, *args.kw_defaults, *node.body]:
            if part is not None:
                self.visit(part)
        for decorator in node.decorator_list:
            inner = decorator.func if isinstance(decorator, ast.Call) else decorator
            if not isinstance(inner, (ast.Name, ast.Attribute)):
                self.no(decorator, "a decorator that is not a name")

    def visit_AnnAssign(self, node):
        if node.value is not None:
            self.visit(node.value)

    def visit_ClassDef(self, node):
        if node.keywords:
            self.no(node, "a class keyword such as metaclass=")
        if len(node.bases) > 1:
            self.no(node, "several base classes")
        self.generic_visit(node)

    def visit_Raise(self, node):
        if node.cause is not None:
            self.no(node, "raise ... from")
        self.generic_visit(node)

    def visit_With(self, node):
        if len(node.items) > 1:
            self.no(node, "several items in one with")
        self.generic_visit(node)

    def visit_ExceptHandler(self, node):
        for n in ast.walk(node):
            if isinstance(n, ast.Name) and n.id == node.name:
                parent = self.parents[n]
                if not isinstance(parent, ast.Attribute) or parent.attr == "args":
                    self.no(n, "the text of a caught exception")
        self.generic_visit(node)

    def visit_Slice(self, node):
        step = node.step
        back = step is not None and ast.unparse(step) == "-1" and not (node.lower or node.upper)
        if step is not None and not back:
            self.no(node, "a slice step other than [::-1]")
        self.generic_visit(node)

    def visit_Starred(self, node):
        if isinstance(node.ctx, ast.Load) and not isinstance(self.parents[node], ast.Call):
            self.no(node, "* in a display")
        self.generic_visit(node)

    def visit_Dict(self, node):
        if None in node.keys:
            self.no(node, "** in a dict display")
        self.generic_visit(node)

    def visit_Subscript(self, node):
        if isinstance(node.value, ast.Name) and node.value.id in GENERIC:
            self.no(node, "an annotation evaluated at run time")
        self.generic_visit(node)

    def visit_BinOp(self, node):
        sides = (node.left, node.right)
        if isinstance(node.op, ast.BitOr) and any(
            (isinstance(s, ast.Constant) and s.value is None)
            or (isinstance(s, ast.Name) and s.id in TYPES)
            for s in sides
        ):
            self.no(node, "an annotation evaluated at run time")
        self.generic_visit(node)

    def visit_Constant(self, node):
        if isinstance(node.value, complex):
            self.no(node, "a complex number")
        if isinstance(node.value, str) and node not in self.docs and FLOAT_SPEC.search(node.value):
            self.no(node, "a float or repr format")

    def visit_FormattedValue(self, node):
        if node.conversion != -1:
            self.no(node, "a conversion in an f-string")
        if node.format_spec is not None:
            spec = ast.unparse(node.format_spec)[2:-1]
            if not re.fullmatch(r"[<>]?0?\d*[dsx]", spec):
                self.no(node, "an f-string format other than d, s or x")
        self.generic_visit(node)

    def visit_Name(self, node):
        if isinstance(node.ctx, ast.Load) and node.id in BUILTINS:
            self.no(node, f"the builtin {node.id}")

    def visit_Attribute(self, node):
        if node.attr in ATTRIBUTES:
            self.no(node, f".{node.attr}")
        module = node.value.id if isinstance(node.value, ast.Name) else ""
        if module in SHARED and node.attr not in SHARED[module]:
            self.no(node, f"{module}.{node.attr}")
        if isinstance(node.ctx, ast.Store) and module in self.functions:
            self.no(node, "an attribute set on a function")
        self.generic_visit(node)

    def visit_Call(self, node):
        name = getattr(node.func, "attr", getattr(node.func, "id", ""))
        method = isinstance(node.func, ast.Attribute)
        keywords = [k.arg for k in node.keywords]
        if method and name in METHODS | UNICODE:
            self.no(node, f".{name}()")
        if method and name in BLANKS and not node.args and not keywords:
            self.no(node, f".{name}() without an argument")
        if method and name in ORDERED and not node.args:
            parent = self.parents[node]
            if not isinstance(parent, ast.Call) or getattr(parent.func, "id", "") not in ORDER_FREE:
                self.no(node, f".{name}() in an order that differs")
        if keywords and name in KEYWORDLESS:
            self.no(node, f"a keyword of {name}()")
        if name == "namedtuple" and "defaults" in keywords:
            self.no(node, "namedtuple defaults")
        if getattr(node.func, "value", None) is not None and ast.unparse(node.func.value) == "re":
            self._regular(node)
        self.generic_visit(node)

    def _regular(self, node):
        pattern = node.args[0] if node.args else None
        if not isinstance(pattern, ast.Constant):
            self.no(node, "a pattern that is not a plain text")
        elif re.search(r"\(\?|\{", pattern.value):
            self.no(node, "(?...) or {m,n} in a pattern")

    def _tests_bool(self, node):
        """isinstance(True, int) differs, so a test for int needs one for bool beside it."""
        asks = [
            ast.unparse(n.args[1])
            for n in ast.walk(node)
            if isinstance(n, ast.Call) and ast.unparse(n.func) == "isinstance" and len(n.args) == 2
        ]
        wants_int = any(re.search(r"\b(int|float)\b", a) for a in asks)
        if wants_int and not any(re.search(r"\bbool\b", a) for a in asks):
            # A list: in a set 1 and True are one.
            compared = [
                n.value
                for n in ast.walk(node)
                if isinstance(n, ast.Constant) and isinstance(self.parents[n], ast.Compare)
            ]
            if not any(v is True for v in compared):
                self.no(node, "isinstance of int without a test for bool")


assert set(dir(builtins)) >= BUILTINS - {"exit", "quit", "help"}
