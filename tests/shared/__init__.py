"""Copies of a job and their merge."""
