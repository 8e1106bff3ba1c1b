"""The two-interpreter law over every file of calc/, and proof that it can fail."""

import ast
from pathlib import Path

import pytest

from tests.law import breaks

ROOT = Path(__file__).parent.parent
FILES = sorted((ROOT / "calc").rglob("*.py"))
LONGEST = 600


@pytest.mark.parametrize("path", FILES, ids=[str(p.relative_to(ROOT)) for p in FILES])
def test_file_keeps_the_law(path):
    source = path.read_text(encoding="utf-8")
    assert breaks(source) == []
    assert source.count("\n") <= LONGEST


@pytest.mark.parametrize("path", FILES, ids=[str(p.relative_to(ROOT)) for p in FILES])
def test_public_functions_say_what_they_do(path):
    tree = ast.parse(path.read_text(encoding="utf-8"))
    public = [n for n in tree.body if isinstance(n, (ast.FunctionDef, ast.ClassDef))]
    silent = [n.name for n in public if n.name[0] != "_" and not ast.get_docstring(n)]
    assert silent == []


# Each breaks the law in one way; the words are what the check must say of it.
BREAKS = [
    ("import os", "import os"),
    ("import time", "import time"),
    ("import random", "import random"),
    ("import calc.lengths", "import calc.lengths"),
    ("from dataclasses import dataclass", "from dataclasses import dataclass"),
    ("from typing import NamedTuple", "from typing import NamedTuple"),
    ("from enum import Enum", "from enum import Enum"),
    ("from fractions import Fraction", "from fractions import Fraction"),
    ("from decimal import Decimal", "from decimal import Decimal"),
    ("from bisect import insort", "from bisect import insort"),
    ("from contextlib import suppress", "from contextlib import suppress"),
    ("from statistics import mean", "from statistics import mean"),
    ("from itertools import product", "from itertools import product"),
    ("from collections import Counter", "from collections import Counter"),
    ("from collections.abc import Callable", "from collections.abc import Callable"),
    ("from functools import lru_cache", "from functools import lru_cache"),
    ("from heapq import nsmallest", "from heapq import nsmallest"),
    ("from math import gcd", "from math import gcd"),
    ("from .lengths import *", "import *"),
    ("import math\nx = math.hypot(3, 4)", "math.hypot"),
    ("import math\nx = math.isqrt(3)", "math.isqrt"),
    ("import re\nx = re.findall('a', 'b')", "re.findall"),
    ("import re\nx = re.fullmatch('a', 'b')", "re.fullmatch"),
    ("import re\nx = re.match('a{2,3}', 'b')", "(?...) or {m,n} in a pattern"),
    ("import re\nx = re.match('(?P<n>a)', 'b')", "(?...) or {m,n} in a pattern"),
    ("import json\nx = json.dumps({}, indent=1)", "a keyword of dumps()"),
    ("match x:\n  case 1:\n    pass", "match"),
    ("def f(a, /):\n  pass", "positional-only /"),
    ("async def f():\n  pass", "async"),
    ("def f():\n  global x\n  x = 1", "global"),
    ("try:\n  pass\nexcept* ValueError:\n  pass", "except*"),
    ("class A(metaclass=type):\n  pass", "a class keyword such as metaclass="),
    ("class A(B, C):\n  pass", "several base classes"),
    ("def f():\n  raise ValueError from None", "raise ... from"),
    ("@(lambda f: f)\ndef f():\n  pass", "a decorator that is not a name"),
    ("with a() as x, b() as y:\n  pass", "several items in one with"),
    ("x = [*a, *b]", "* in a display"),
    ("x = (*a, 1)", "* in a display"),
    ("x = {*a}", "* in a display"),
    ("def f(a):\n  return *a, 1", "* in a display"),
    ("x = {**a}", "** in a dict display"),
    ("x = a[::2]", "a slice step other than [::-1]"),
    ("x = a[3::-1]", "a slice step other than [::-1]"),
    ("x = list[int]", "an annotation evaluated at run time"),
    ("class A:\n  x = dict[str, int]", "an annotation evaluated at run time"),
    ("x = int | None", "an annotation evaluated at run time"),
    ("def f(a=list[int]):\n  pass", "an annotation evaluated at run time"),
    ("x = a @ b", "the @ operator"),
    ("x = 1j", "a complex number"),
    ("x = a._replace(b=1)", "._replace()"),
    ("x = a._asdict()", "._asdict()"),
    ("x = A._make([1])", "._make()"),
    ("x = A._fields", "._fields"),
    ("x = a.zfill(3)", ".zfill()"),
    ("x = a.ljust(3)", ".ljust()"),
    ("x = a.rjust(3)", ".rjust()"),
    ("x = a.casefold()", ".casefold()"),
    ("x = a.removeprefix('b')", ".removeprefix()"),
    ("x = a.translate({})", ".translate()"),
    ("x = a.bit_length()", ".bit_length()"),
    ("x = '{:.2f}'.format(a)", ".format()"),
    ("x = a.lower()", ".lower()"),
    ("x = a.isdigit()", ".isdigit()"),
    ("x = a.strip()", ".strip() without an argument"),
    ("x = a.split()", ".split() without an argument"),
    ("x = a.split(sep=',')", "a keyword of split()"),
    ("x = [k for k, v in a.items()]", ".items() in an order that differs"),
    ("for v in a.values():\n  pass", ".values() in an order that differs"),
    ("x = list(a.keys())", ".keys() in an order that differs"),
    ("x = zip(a, b, strict=True)", "a keyword of zip()"),
    ("x = int('f', base=16)", "a keyword of int()"),
    ("A = namedtuple('A', 'b', defaults=(1,))", "namedtuple defaults"),
    ("x = round(a)", "the builtin round"),
    ("x = repr(a)", "the builtin repr"),
    ("x = hash(a)", "the builtin hash"),
    ("x = open('f')", "the builtin open"),
    ("print(1)", "the builtin print"),
    ("x = eval('1')", "the builtin eval"),
    ("try:\n  f()\nexcept RecursionError:\n  pass", "the builtin RecursionError"),
    ("x = '%.2f' % a", "a float or repr format"),
    ("x = '%r' % a", "a float or repr format"),
    ("x = '%' + '5.1f' if a else '%5.1f'", "a float or repr format"),
    ("x = f'{a:.2f}'", "an f-string format other than d, s or x"),
    ("x = f'{a:{b}}'", "an f-string format other than d, s or x"),
    ("x = f'{a!r}'", "a conversion in an f-string"),
    ("x = '\\N{BULLET}'", "\\N{...} in a text"),
    ("def f():\n  pass\nf.x = 1", "an attribute set on a function"),
    ("def f(a):\n  return isinstance(a, int)", "isinstance of int without a test for bool"),
    (
        "def f(a):\n  return isinstance(a, (str, float))",
        "isinstance of int without a test for bool",
    ),
    ("try:\n  f()\nexcept ValueError as e:\n  x = str(e)", "the text of a caught exception"),
    ("try:\n  f()\nexcept ValueError as e:\n  x = '%s' % e", "the text of a caught exception"),
    ("try:\n  f()\nexcept ValueError as e:\n  x = e.args", "the text of a caught exception"),
]


@pytest.mark.parametrize(("source", "says"), BREAKS)
def test_a_break_is_caught(source, says):
    assert says in [words for _, words in breaks(source)]


# What both interpreters share must pass, or the law would be tighter than it says.
KEEPS = """
'''A text with 5 %f in it is no format.'''
import json
from collections import namedtuple
from .lengths import read

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Callable

A = namedtuple("A", "b c")


class Wrong(Exception):
    def __init__(self, message: str) -> None:
        super().__init__(message)
        self.message: str = message


def f(a: list[int], *rest: int, key: "Callable | None" = None, **more: dict[str, int]) -> str:
    found: list[int] | None = None
    first, *others = a
    if isinstance(first, bool) or not isinstance(first, (int, float)):
        raise Wrong("no")
    try:
        b = g(*a, *rest, key=key, **more)
    except Wrong as e:
        return e.message
    if (n := len(a)) > 1_000:
        b += max([1], key=lambda x: x)
    for k, v in sorted(more.items()):
        b += v
    return f"{b:03d}{n}" + "%d %s %%" % (b, json.dumps(a[::-1])) + " a ".strip(" ")


x = LABEL.lower()  # ASCII
"""


def test_what_both_share_passes():
    assert breaks(KEEPS) == []
