"""Plain text in a fixed number of columns: wrapped lines and tables, for paper and terminal."""

WIDTH = 80
_GAP = 2  # between two columns of a table
_HEADING = 18  # characters of a column's heading that stay on one line, if there is room


def wrap(out: list[str], lead: str, line: str, indent: int = -1) -> None:
    """Add lead + line to `out`, broken at spaces to WIDTH.

    indent: of the lines after the first; as wide as the lead where it is left
    out. A word longer than a line stays whole.
    """
    if indent < 0:
        indent = len(lead)
    rows = broken(line, WIDTH - indent, WIDTH - len(lead))
    for i in range(len(rows)):
        out.append(((lead if i == 0 else " " * indent) + rows[i]).rstrip(" "))


def broken(line: str, room: int, first: int) -> list[str]:
    """The line broken at spaces into rows of at most `room` characters, the first of `first`."""
    rows = [""]
    fresh = True
    for word in line.split(" "):
        most = first if len(rows) == 1 else room
        if not fresh and len(rows[-1]) + 1 + len(word) > most:
            rows.append(word)
        else:
            rows[-1] += word if fresh else " " + word
        fresh = False
    return rows


def table(out: list[str], columns: list[str], rows: list[list[str]], indent: int = 2) -> None:
    """Add a table to `out`, as narrow as its cells allow and no wider than WIDTH.

    Headings and cells are broken at spaces; where all columns together are too
    wide, the widest gives way first.
    """
    sizes = []
    least = []
    for k in range(len(columns)):
        cells = [row[k] for row in rows]
        words = [len(word) for cell in cells + [columns[k]] for word in cell.split(" ")]
        least.append(max(words))
        sizes.append(max([len(cell) for cell in cells] + [least[k]]))
    room = WIDTH - indent - _GAP * (len(columns) - 1)
    while sum(sizes) > room:
        wide = [k for k in range(len(sizes)) if sizes[k] > least[k]]
        if not wide:
            break  # words alone are wider than a line
        most = max([sizes[k] for k in wide])
        sizes[max([k for k in wide if sizes[k] == most])] -= 1
    for k in range(len(sizes)):
        more = min(len(columns[k]), _HEADING) - sizes[k]
        sizes[k] += max(0, min(more, room - sum(sizes)))
    for row in [columns] + rows:
        parts = [broken(cell, size, size) for cell, size in zip(row, sizes)]
        for line in range(max([len(p) for p in parts])):
            text = " " * indent
            for p, size in zip(parts, sizes):
                part = p[line] if line < len(p) else ""
                text += part + " " * (size - len(part) + _GAP)
            out.append(text.rstrip(" "))
