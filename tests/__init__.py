"""Checks of Lapwright. `python -m tests` runs them all (tests/__main__.py)."""
