"""Checks of the trade's figures beside the layout, one file for each matter."""
