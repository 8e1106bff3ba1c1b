"""Checks against published sources, one file each."""
