"""Everything numeric in Lapwright: pure functions from readings to answers.

Law: pure (no I/O, no clock, no global that changes; a seed is an argument);
lengths are ints of jots; records are namedtuples; only Python that CPython
3.11 and MicroPython 1.27 share, and nothing on which they differ in silence.
DEVELOPERS.md lists both; tests/test_law.py reads the sources and enforces it.
"""
